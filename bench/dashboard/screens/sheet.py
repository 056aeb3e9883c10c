"""What the screens behind the first share: a line of heading, panels, the key bar, and reading again."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable, Hashable, Iterable
from pathlib import PurePath
from typing import ClassVar, Generic, TypeVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.widget import Widget

from bench.dashboard.doing import say
from bench.dashboard.keys import bindings_for, hints_for
from bench.dashboard.messages import DataChanged, Tick
from bench.dashboard.reading import Reading, ReadsFirst, none_if_gone
from bench.dashboard.screens.drawing import SparingScreen
from bench.dashboard.screens.filtering import Tables
from bench.dashboard.widgets.jump_box import FilterBox
from bench.dashboard.widgets.key_bar import KeyBar
from bench.dashboard.widgets.line_list import LineList
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.dashboard.widgets.steady import Stacked

Facts = TypeVar("Facts")


class Sheet(ReadsFirst, Tables, SparingScreen[None], Generic[Facts]):
    """A screen of what one use case read. `facts`: what is shown now.

    Where the window is narrow, one panel of several is seen: the one that has the focus.
    """

    CSS_PATH: ClassVar[list[str | PurePath]] = ["sheet.tcss"]
    HORIZONTAL_BREAKPOINTS: ClassVar[list[tuple[int, str]]] = [  # type: ignore[misc]
        (0, "-narrow"),
        (112, "-normal"),
        (180, "-wide"),
    ]
    AUTO_FOCUS = "RowList"
    has_tables = True  # whether the key bar offers what is done to tables
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("table")

    begin_at: tuple[str, Hashable] | None = None  # a table and the key at which its cursor is to begin

    def __init__(self) -> None:
        super().__init__()
        self.facts: Facts | None = None
        self._gone = False
        self._reading = Reading(self, lambda: none_if_gone(self.read()), self._show)

    @abstractmethod
    def read(self) -> Callable[[], Facts]:
        """The use case to run with what the screen is about now."""

    @abstractmethod
    def show(self, facts: Facts) -> None:
        """Show what was read; each panel draws only what differs."""

    def goes_on(self, facts: Facts) -> bool:
        """Whether this is a beginning that is shown at once, and all of it is to be read behind it."""
        del facts
        return False

    @abstractmethod
    def panels(self) -> Iterable[Widget]:
        """The panels, in the order of Tab."""

    def compose(self) -> ComposeResult:
        """Heading, panels, keys."""
        yield LinesPanel(id="head")
        yield from self.filter_line()
        with Stacked(id="sheet"):
            yield from self.panels()
        yield KeyBar(*hints_for(self.keys, self.bench.own_keys, besides="table" if self.has_tables else ""))

    def on_mount(self) -> None:
        """Read for the first time."""
        self.prepare_tables()
        self.ask()

    def ask(self) -> None:
        """Read again what is shown."""
        self._reading.ask()

    def tick(self, now_us: int) -> None:
        """Show the times that run; nothing runs on most screens."""

    def open_row(self) -> None:
        """Open the row under the cursor of the panel that has the focus."""

    def table(self, name: str) -> RowTable:
        """The table of that id."""
        return self.query_one(f"#{name}", RowTable)

    def action_open_row(self) -> None:
        """Open what is under the cursor."""
        if self.facts is not None:
            self.open_row()

    def action_back(self) -> None:
        """Every line without marks again, else back to where one came from."""
        if not self.cleared():
            self.dismiss(None)

    def action_next_panel(self) -> None:
        """Go on to the next panel."""
        self.focus_next("RowList")

    @on(LineList.Chosen)
    def _row_chosen(self) -> None:
        self.action_open_row()

    @on(DataChanged)
    def _sheet_data_changed(self) -> None:
        self.ask()

    @on(Tick)
    def _sheet_ticked(self, event: Tick) -> None:
        if self.facts is not None:
            self.tick(event.now_us)

    def on_resize(self) -> None:
        """Fit what is shown into the new size."""
        if self.facts is not None:
            self.call_after_refresh(self.show, self.facts)

    def on_descendant_focus(self) -> None:
        """Bring the panel that has the focus to the front, with what holds it."""
        focused = self.focused
        if isinstance(focused, FilterBox):
            return  # the table that it filters stays where it is
        for one in self.query("#sheet, #sheet *"):
            one.set_class(focused is not None and one in focused.ancestors, "front")

    def on_screen_resume(self) -> None:
        """Do not come back to what went meanwhile."""
        if self._gone:
            self._leave_what_is_gone()

    def _leave_what_is_gone(self) -> None:
        if self.is_current:
            say(self.app, "What this screen showed is no longer there.")
            self.dismiss(None)

    def _show(self, facts: Facts | None) -> None:
        if facts is None:
            self._gone = True
            self._leave_what_is_gone()
            return
        if facts != self.facts:
            self.facts = facts
            self.show(facts)
            self._go_to_beginning()
        if self.goes_on(facts):
            self.ask()

    def _go_to_beginning(self) -> None:
        if self.begin_at is not None:
            table, key = self.begin_at
            if self.table(table).go_to(key):
                self.begin_at = None
