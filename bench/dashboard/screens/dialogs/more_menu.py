"""Everything else there is to open: the shop's other screens, and the sheets of the unit at hand."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import PurePath
from typing import Any, ClassVar, Protocol

from rich.text import Text
from textual import events, on
from textual.binding import Binding, BindingType
from textual.geometry import Size
from textual.widget import Widget
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from bench.dashboard.acting import Acting
from bench.dashboard.acts.act import Act
from bench.dashboard.acts.units import OF_A_UNIT, OF_THE_SHOP
from bench.dashboard.keys import act_on
from bench.dashboard.presenters.key_bar import shown_key
from bench.dashboard.screens.dialogs.dialog import Dialog
from bench.dashboard.widgets.steady import SideBySide, Words

LABEL = 18
WIDE = 120  # columns of the window from which what each line opens has room behind its name


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
        self.told = False  # what each line opens stands behind its name

    def body(self) -> Iterable[Widget]:
        """The names in two columns, all seen at once, each with its key; below, what one opens."""
        self.told = self._has_room(self.app.size)
        columns = [self._column("of-shop", "The shop", OF_THE_SHOP)]
        if self.unit is not None:
            columns.append(self._column("of-unit", f"Unit {self.unit.tag}", OF_A_UNIT))
        yield SideBySide(*columns, id="columns")
        yield Words(id="opens", markup=False)

    def on_mount(self) -> None:
        """Begin with the unit's own sheets where there is a unit."""
        for names in self.query(OptionList):
            names.highlighted = 1
        self.set_class(self.told, "-told")
        self._columns()[-1].focus()

    def on_resize(self) -> None:
        """What each line opens stands behind its name, or below the columns, as there is room."""
        if self.told != self._has_room(self.app.size):
            self.told = not self.told
            self.set_class(self.told, "-told")
            for names in self._columns():
                for option in names.options:
                    if option.id is not None:
                        names.replace_option_prompt(option.id, self._words(act_on("more", option.id)))

    def on_key(self, event: events.Key) -> None:
        """Left and right go to the other column, on the same line."""
        columns = self._columns()
        step = {"left": -1, "right": 1}.get(event.key)
        if step is None or not isinstance(self.focused, OptionList):
            return
        event.stop()
        there = columns.index(self.focused) + step
        if 0 <= there < len(columns):
            line = min(self.focused.highlighted or 1, columns[there].option_count - 1)
            columns[there].highlighted = line
            columns[there].focus()

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
        names = self.focused if isinstance(self.focused, OptionList) else self._columns()[-1]
        if names.highlighted is not None:
            self.dismiss(names.get_option_at_index(names.highlighted).id)
        return None

    @on(OptionList.OptionHighlighted)
    @on(events.DescendantFocus)
    def _tell(self) -> None:
        names = self.focused
        if isinstance(names, OptionList) and names.highlighted is not None:
            chosen = names.get_option_at_index(names.highlighted).id
            self.query_one("#opens", Static).update(act_on("more", str(chosen)).tooltip)

    @on(OptionList.OptionSelected)
    def _selected(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        self.action_send()

    def _columns(self) -> list[OptionList]:
        return list(self.query(OptionList))

    def _column(self, name: str, heading: str, acts: Iterable[Act]) -> OptionList:
        lines = [Option(self._words(one), id=one.name) for one in acts]
        return OptionList(Option(Text(heading, "bold"), disabled=True), *lines, id=name, compact=True)

    def _has_room(self, size: Size) -> bool:
        return size.width >= WIDE

    def _words(self, one: Act) -> Text:
        letter = shown_key(self.bench.own_keys.get(one.id, one.keys))
        behind = (one.tooltip, "dim") if self.told or self.unit is None else ""
        return Text.assemble((f" {letter}", "bold"), f"  {one.label:<{LABEL}}", behind)


def open_chosen(screen: Acting, name: str, *_given: object) -> None:
    """Open what was chosen, for the unit that is there now."""
    screen.carry_out(*act_on("more", name).ways)
