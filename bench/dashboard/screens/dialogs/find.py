"""Finding anything: one field, and under it what bears the words, ranked, as one types."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from pathlib import PurePath
from typing import Any, ClassVar

from textual import on
from textual.widget import Widget
from textual.widgets import Input

from bench.dashboard.finding import PAGE, Entry, heading_entry, heading_names, line_scanned, names_of
from bench.dashboard.messages import DataChanged
from bench.dashboard.presenters.found_rows import NO_WORDS, found_rows
from bench.dashboard.reading import Reading, ReadsFirst
from bench.dashboard.screens.dialogs.dialog import Dialog
from bench.dashboard.screens.dialogs.text_fields import Looked
from bench.dashboard.widgets.line_list import LineList
from bench.dashboard.widgets.row_table import RowTable
from bench.views.finding import FoundPage, NamesKept
from bench.views.finding_texts import FoundLine
from bench.views.scans import UNKNOWN
from bench.views.scans import Found as ScanFound
from bench.views.tables.finding import FOUND

LONGEST = 100  # characters of what is looked for


class FindBox(Looked, Input, can_focus=True):
    """The one field."""


class FindDialog(ReadsFirst, Dialog[Entry | FoundLine]):
    """Answers what was chosen. `besides`: what is found besides the rows of the file, by its kind.

    Keys wait only where Enter came before what it is to open was found.
    """

    CSS_PATH: ClassVar[list[str | PurePath]] = ["dialog.tcss", "find.tcss"]
    AUTO_FOCUS = "FindBox"
    is_read = True
    send_label = "Open"
    send_action = "enter"

    def __init__(self, besides: Mapping[str, tuple[Entry, ...]], names: NamesKept) -> None:
        super().__init__("Find")
        self._besides = besides
        self._named = {kind: names_of(some) for kind, some in besides.items()}
        self._names = names
        self._found: tuple[Entry | FoundLine, ...] = ()
        self._found_for: str | None = None  # the words that these were found for
        self._open_first = False  # Enter came before what it is to open was found
        self._finding = Reading(self, self._find, self._show)

    def body(self) -> Iterable[Widget]:
        """The field, and what was found."""
        yield FindBox(placeholder=NO_WORDS, max_length=LONGEST, select_on_focus=False)
        table = RowTable(FOUND, stays_lit=True, id="found")
        table.rows.can_focus = False
        yield table

    def on_mount(self) -> None:
        """Show what can be done here, and read the names meanwhile."""
        self._finding.ask()

    @property
    def typed(self) -> str:
        """What is looked for."""
        return self.query_one(FindBox).value.strip()

    def action_next_field(self) -> None:
        """To the next line; the field keeps the focus."""
        self._rows.action_down()

    def action_previous_field(self) -> None:
        """To the line before."""
        self._rows.action_up()

    def work(self) -> Callable[[], Any] | None:
        """Nothing is written: what stands under the cursor is answered, once it was found for these words."""
        if self._found_for != self.typed:
            self._open_first, self.is_read = True, False
        elif self._rows.current is not None:
            self.dismiss(self._found[self._rows.cursor])
        return None

    def now_read(self) -> None:
        """The keys may go on, unless what Enter is to open is still looked for."""
        if not self._open_first:
            super().now_read()

    def keeps_scan(self, widget: Widget) -> bool:
        """A scan is looked up as one."""
        del widget
        return False

    def scanned(self, found: ScanFound) -> bool:
        """Open what was scanned; what nobody knows is looked for as if it were typed."""
        line = line_scanned(found)
        if line is not None:
            self.dismiss(line)
        elif found.kind == UNKNOWN:
            self.query_one(FindBox).value = found.text
        return line is not None or found.kind == UNKNOWN

    @property
    def _rows(self) -> LineList[Any]:
        return self.query_one("#found", RowTable).rows

    def _find(self) -> Callable[[], tuple[str, FoundPage]]:
        desk, typed, names, named = self.desk, self.typed, self._names, self._named
        return lambda: (typed, names.find(desk, typed, {**named, PAGE: heading_names()}))

    def _show(self, answer: tuple[str, FoundPage]) -> None:
        typed, page = answer
        kept = self._found[self._rows.cursor] if self._found_for == typed and self._found else None
        self._found = tuple(self._meant(one) for one in page.lines) if typed else self._besides_all()
        self._found_for = typed
        at = self._found.index(kept) if kept in self._found and self._rows.cursor > 0 else 0
        self.query_one("#found", RowTable).show(found_rows(self._found), at=at)
        if not page.whole or typed != self.typed:
            self._finding.ask()
        if self._open_first and typed == self.typed and (self._found or page.whole):
            self._open_first = False
            self.action_enter()

    def _meant(self, line: FoundLine) -> Entry | FoundLine:
        if line.kind == PAGE:
            return heading_entry(self.bench, line.number)
        besides = self._besides.get(line.kind)
        return besides[line.number] if besides is not None else line

    def _besides_all(self) -> tuple[Entry, ...]:
        return tuple(one for some in self._besides.values() for one in some)

    @on(Input.Changed)
    def _changed(self) -> None:
        self._open_first = False
        self._finding.ask()

    @on(Input.Submitted)
    def _entered(self) -> None:
        self.action_enter()

    @on(LineList.Chosen)
    def _clicked_twice(self) -> None:
        self.action_enter()

    @on(DataChanged)
    def _data_changed(self) -> None:
        self._finding.ask()
