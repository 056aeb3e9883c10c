"""Everything else there is to open: the shop's other screens, and the sheets of the unit at hand."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import PurePath
from typing import Any, ClassVar, Protocol

from rich.text import Text
from textual import on
from textual.binding import Binding, BindingType
from textual.widget import Widget
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from bench.dashboard.acting import Acting
from bench.dashboard.acts.act import Act
from bench.dashboard.acts.units import OF_A_UNIT, OF_THE_SHOP
from bench.dashboard.keys import act_on
from bench.dashboard.presenters.key_bar import shown_key
from bench.dashboard.screens.dialogs.dialog import Dialog

LABEL = 18


class UnitMeant(Protocol):
    """The unit at hand."""

    @property
    def tag(self) -> str:
        """Its tag."""


class MoreMenu(Dialog[str]):
    """Answers the name of what was chosen, by its letter or from the list."""

    CSS_PATH: ClassVar[list[str | PurePath]] = ["dialog.tcss", "more_menu.tcss"]
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(one.keys, f"open('{one.name}')", one.label, tooltip=one.tooltip, id=one.id)
        for one in (*OF_THE_SHOP, *OF_A_UNIT)
    ]
    send_label = "Open"
    send_action = "enter"

    def __init__(self, unit: UnitMeant | None = None) -> None:
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
            return parameters[0] not in {one.name for one in OF_A_UNIT}
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

    def _option(self, one: Act) -> Option:
        letter = shown_key(self.bench.own_keys.get(one.id, one.keys))
        words = Text.assemble((f" {letter}", "bold"), f"  {one.label:<{LABEL}}", (one.tooltip, "dim"))
        return Option(words, id=one.name)


def open_chosen(screen: Acting, name: str, *_given: object) -> None:
    """Open what was chosen, for the unit that is there now."""
    screen.carry_out(*act_on("more", name).ways)
