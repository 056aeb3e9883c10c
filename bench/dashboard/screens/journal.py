"""The journal: who did what when, of the shop or of one unit, read back page by page."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from functools import partial
from pathlib import PurePath
from typing import ClassVar

from textual import on
from textual.widget import Widget

from bench.dashboard.acts import places
from bench.dashboard.acts.act import call
from bench.dashboard.doing import say
from bench.dashboard.presenters.journal_rows import (
    journal_head,
    line_detail,
    undo_words,
)
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.line_list import LineList
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.views.journal import MOST_LINES, JournalLine, JournalPage, read_journal
from bench.views.kinds import context_of
from bench.views.tables.journal import JOURNAL
from bench.views.undo import UndoOffer

PAGE = 200


class JournalScreen(Sheet[JournalPage]):
    """Newest first; the changes of the line under the cursor stand below."""

    keys = "journal"
    CSS_PATH: ClassVar[list[str | PurePath]] = ["sheet.tcss", "journal.tcss"]

    def __init__(self, unit_id: int | None = None) -> None:
        super().__init__()
        self.unit_id = unit_id
        self._lines = PAGE

    def panels(self) -> Iterable[Widget]:
        """The lines, and what the one under the cursor changed."""
        yield RowTable(JOURNAL, stays_lit=True, id="rows")
        yield LinesPanel(title="What it changed", id="detail")

    def read(self) -> Callable[[], JournalPage]:
        """As many lines as were asked for."""
        desk, unit_id, limit = self.desk, self.unit_id, min(self._lines, MOST_LINES)
        return lambda: read_journal(desk, unit_id=unit_id, limit=limit)

    def show(self, facts: JournalPage) -> None:
        """The lines."""
        context = self.context_for(facts)
        self.query_one("#head", LinesPanel).show(
            lambda width: journal_head(facts, context, width, of_unit=self.unit_id is not None)
        )
        self.table("rows").fill(facts.lines, context_of(facts))
        self._moved()

    def line_here(self) -> JournalLine | None:
        """The line under the cursor."""
        key = self.table("rows").key
        lines = self.facts.lines if self.facts else ()
        return next((line for line in lines if line.journal_id == key), None)

    def action_older(self) -> None:
        """Read on further back, from the last line that is shown."""
        if self.facts is None or not self.facts.more:
            say(self.app, "The journal goes no further back.")
            return
        desk, unit_id, page = self.desk, self.unit_id, self.facts
        before_id = page.lines[-1].journal_id

        def then(older: JournalPage) -> None:
            self._lines += PAGE
            self._show(replace(older, lines=page.lines + older.lines))

        self.do(lambda: read_journal(desk, before_id=before_id, unit_id=unit_id, limit=PAGE), then)

    def open_row(self) -> None:
        """The unit of the line."""
        line = self.line_here()
        if line is None or line.unit_id is None:
            say(self.app, "This line is about no unit.")
        elif line.unit_id != self.unit_id:
            self.open_screen(places.UNIT, line.unit_id)

    @on(LineList.Moved, "#rows RowList")
    def _moved(self) -> None:
        line = self.line_here()
        self._show_detail(line, None)
        if line is not None:
            read = partial(call, "bench.work.undo:read_offer_to_undo", self.desk, line.journal_id)
            self.do(read, partial(self._offered, line))

    def _offered(self, line: JournalLine, offer: UndoOffer | None) -> None:
        if line == self.line_here():
            self._show_detail(line, undo_words(offer))

    def _show_detail(self, line: JournalLine | None, can: str | None) -> None:
        context = self.context_for(self.facts)
        self.query_one("#detail", LinesPanel).show(lambda width: line_detail(line, context, width, can))
