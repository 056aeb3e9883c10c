"""Everything else there is to open: the shop's other screens, and the sheets of the unit at hand."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import PurePath
from typing import Any, ClassVar

from rich.text import Text
from textual import on
from textual.binding import Binding, BindingType
from textual.widget import Widget
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from bench.dashboard.keys import bindings_for
from bench.dashboard.one_key import Key
from bench.dashboard.presenters.key_line import shown_key
from bench.dashboard.screens.dialogs.dialog import Dialog
from bench.dashboard.screens.more import UnitMeant
from bench.dashboard.trade_keys import OF_A_UNIT, OF_THE_SHOP

LABEL = 18


class MoreMenu(Dialog[str]):
    """Answers the name of what was chosen, by its letter or from the list."""

    CSS_PATH: ClassVar[list[str | PurePath]] = ["dialog.tcss", "more_menu.tcss"]
    BINDINGS: ClassVar[list[BindingType]] = [
        replace(binding, action=f"open('{binding.action}')")
        for binding in bindings_for("more")
        if isinstance(binding, Binding)
    ]
    send_label = "Open"
    send_action = "enter"

    def __init__(self, unit: UnitMeant | None) -> None:
        super().__init__("More")
        self.unit = unit

    def body(self) -> Iterable[Widget]:
        """The names under their headings, each with its key."""
        options = [Option(Text("The shop", "bold"), disabled=True), *map(self._option, OF_THE_SHOP)]
        if self.unit is not None:
            options.append(Option(Text(f"Unit {self.unit.tag}", "bold"), disabled=True))
            options += map(self._option, OF_A_UNIT)
        yield OptionList(*options, id="choices", compact=True)

    def on_mount(self) -> None:
        """Begin with the unit's own sheets where there is a unit."""
        names = self.query_one(OptionList)
        names.highlighted = len(OF_THE_SHOP) + 2 if self.unit is not None else 1

    def action_open(self, name: str) -> None:
        """Answer that name."""
        self.dismiss(name)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """The sheets of a unit need one."""
        if action == "open" and self.unit is None:
            return parameters[0] not in {key.action for key in OF_A_UNIT}
        return super().check_action(action, parameters)

    def work(self) -> Callable[[], Any] | None:
        """Nothing is written: whoever asked opens the screen."""
        names = self.query_one(OptionList)
        if names.highlighted is not None:
            self.dismiss(names.get_option_at_index(names.highlighted).id)
        return None

    @on(OptionList.OptionSelected)
    def _selected(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        self.action_send()

    def _option(self, key: Key) -> Option:
        letter = shown_key(self.bench.own_keys.get(key.id, key.keys))
        words = Text.assemble((f" {letter}", "bold"), f"  {key.label:<{LABEL}}", (key.tooltip, "dim"))
        return Option(words, id=key.action)
