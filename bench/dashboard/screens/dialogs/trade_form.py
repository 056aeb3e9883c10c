"""The shop's trading settings."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any

from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from bench.dashboard.presenters.trade_rows import trade_values
from bench.dashboard.screens.dialogs.field import MONEY, SHARE, WHOLE, Field, NumberField
from bench.dashboard.screens.dialogs.form import Form
from bench.dashboard.screens.dialogs.mark_field import YES, MarkField
from bench.domain.register import NOT_ADVICE
from bench.views.trade import TradeSettings

SCHEME = "margin_scheme"


class TradeForm(Form[bool]):
    """Asks for all of them."""

    def __init__(self) -> None:
        super().__init__("Trading settings", draft="trade_form")

    def fields(self) -> Sequence[Field]:
        """Tax on the margin, hold period, warranty, reserve and margin, how long people's data are kept."""
        return (
            MarkField(SCHEME, "Tax on margin", "reckon it (second-hand margin scheme)"),
            NumberField("margin_tax_text", "Its rate", like=SHARE, hint="such as 20 %"),
            NumberField("hold_days_text", "Hold days", like=WHOLE, hint="0: none by local code"),
            NumberField("risk_reserve_text", "Risk reserve", like=SHARE, hint="of the expected price"),
            NumberField("wanted_margin_text", "Margin wanted", like=MONEY, hint="on each unit"),
            NumberField("loss_chance_text", "Chance of loss", like=SHARE, hint="at most, when buying"),
            NumberField("warranty_text", "Warranty days", like=WHOLE, hint="0: none"),
            NumberField("keep_private_text", "Keep names years", like=WHOLE),
        )

    def body(self) -> Iterable[Widget]:
        """The fields, then what this is not."""
        yield from super().body()
        yield Static(Content(NOT_ADVICE), id="known", markup=False)

    def read(self) -> TradeSettings:
        """The settings as they are."""
        from bench.views.trade import read_trade

        return read_trade(self.desk)

    def begin(self, facts: TradeSettings) -> None:
        """Show them as they are."""
        self.field(SCHEME).start(YES if facts.margin_scheme else "")
        for name, value in trade_values(facts).items():
            self.field(name).start(value)

    def work(self) -> Callable[[], Any]:
        """Change them."""
        desk, scheme = self.desk, self.value(SCHEME) == YES
        typed = {name: field.value for name, field in self._fields.items() if name != SCHEME}

        def edit() -> None:
            from bench.work.trade import edit_trade

            edit_trade(desk, margin_scheme=scheme, **typed)

        return edit
