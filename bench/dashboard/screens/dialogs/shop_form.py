"""The shop's settings."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from bench.dashboard.presenters.settings_rows import shop_values
from bench.dashboard.screens.dialogs.field import LENGTH, MONEY, WHOLE, Field, NumberField, TextField
from bench.dashboard.screens.dialogs.form import Form
from bench.views.shop import ShopFacts


class ShopForm(Form[bool]):
    """Asks for all of the shop's settings."""

    def __init__(self) -> None:
        super().__init__("The shop", draft="shop_form")

    def fields(self) -> Sequence[Field]:
        """What the shop calls itself, its money and clock, and when it asks about timers."""
        return (
            TextField("name", "Name"),
            TextField("currency", "Currency", hint="three letters, such as EUR"),
            TextField("zone", "Time zone", hint="such as Europe/Berlin"),
            NumberField("rate_text", "Labour an hour", like=MONEY, hint="empty: nothing"),
            NumberField("forgotten_times_text", "Ask after times", like=WHOLE),
            NumberField("forgotten_least_text", "at least min", like=LENGTH, hint="such as 120"),
        )

    def read(self) -> ShopFacts:
        """The settings as they are."""
        from bench.views.shop import read_shop

        return read_shop(self.desk)

    def begin(self, facts: ShopFacts) -> None:
        """Show the settings as they are."""
        for name, value in shop_values(facts).items():
            self.field(name).start(value)

    def work(self) -> Callable[[], Any]:
        """Change the settings."""
        desk = self.desk
        typed = {field.field_name: field.value for field in self._fields.values()}

        def edit() -> None:
            from bench.work.shop import edit_shop

            edit_shop(desk, **typed)

        return edit
