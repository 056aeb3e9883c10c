"""The week: hours by day and stage, people, the weeks before, what was sold, estimates, entries."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import PurePath
from typing import ClassVar

from textual.widget import Widget

from bench.dashboard.acts import places
from bench.dashboard.doing import say
from bench.dashboard.keys import key_shown
from bench.dashboard.presenters import week_rows as rows
from bench.dashboard.presenters.rows import rows_of
from bench.dashboard.screens.document import Document
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.dashboard.widgets.steady import Stacked
from bench.domain.durations import MINUTE_US
from bench.domain.weeks import IsoWeek
from bench.reports.forms import week_forms
from bench.views.entries import EntryLine
from bench.views.kinds import context_of
from bench.views.tables import week as tables
from bench.views.tables.entries import ENTRIES
from bench.views.week import TaskEstimate, WeekSheet, read_week


class WeekScreen(Sheet[WeekSheet]):
    """One week; Enter on a figure shows the entries that make it up."""

    keys = "week"
    CSS_PATH: ClassVar[list[str | PurePath]] = ["sheet.tcss", "week.tcss"]

    def __init__(self, week: IsoWeek | None = None) -> None:
        super().__init__()
        self.week = week
        self.by: rows.Filter | None = None

    def panels(self) -> Iterable[Widget]:
        """Hours, units sold and entries on the left, comparisons on the right."""
        with Stacked(id="left"):
            yield RowTable(tables.STAGE_DAYS, id="hours")
            yield RowTable(tables.SOLD, id="sold")
            yield RowTable(ENTRIES, id="entries")
        with Stacked(id="right"):
            yield RowTable(tables.PEOPLE, id="people")
            yield RowTable(tables.WEEKS, id="weeks")
            yield RowTable(tables.ESTIMATES, id="estimates")

    def read(self) -> Callable[[], WeekSheet]:
        """The week that is chosen, or the one we are in."""
        desk, week = self.desk, self.week
        return lambda: read_week(desk, week)

    def show(self, facts: WeekSheet) -> None:
        """Everything on the screen."""
        self.query_one("#head", LinesPanel).show(lambda width: rows.week_head(facts, width))
        self.table("hours").show(rows.hour_rows(facts))
        self.table("sold").show(rows.sold_rows(facts))
        self.table("people").show(rows.keyed(rows.PERSON, rows_of(tables.PEOPLE, tables.people_of(facts))))
        self.table("weeks").fill(tables.weeks_of(facts))
        self.table("estimates").show(rows.keyed(rows.TASK, rows_of(tables.ESTIMATES, facts.estimates)))
        self._show_entries(self.desk.clock.now_us())

    def tick(self, now_us: int) -> None:
        """What runs counts on: in the entries each second, in the sums each minute."""
        if self.facts is None:
            return
        if any(entry.stopped_us is None for entry in self.facts.entries):
            self._show_entries(now_us)
            if now_us - self.facts.read_us >= MINUTE_US:
                self.ask()

    def open_row(self) -> None:
        """Correct an entry, go to a week, open a unit's money; any other figure shows its entries."""
        table = self.current_table()
        key = table.key if table is not None else None
        if isinstance(key, IsoWeek):
            self.go_to_week(key)
        elif isinstance(key, int):
            self.open_screen(places.CORRECT_ENTRY, key)
        elif isinstance(key, tuple) and key[0] == rows.SOLD:
            self._open_money(key[1])
        elif isinstance(key, tuple):
            self.filter_by(rows.filter_of(key))

    def entry_here(self) -> EntryLine | None:
        """The entry under the cursor."""
        key = self.table("entries").key
        entries = self.facts.entries if self.facts else ()
        return next((entry for entry in entries if entry.entry_id == key), None)

    def entry_words_here(self) -> str | None:
        """Its task and unit in words."""
        entry = self.entry_here()
        return f"{entry.task} on {entry.tag}" if entry is not None else None

    def estimate_here(self) -> TaskEstimate | None:
        """The task under the cursor of the estimates."""
        key = self.table("estimates").key
        task = key[1] if isinstance(key, tuple) else None
        estimates = self.facts.estimates if self.facts else ()
        return next((one for one in estimates if one.task == task), None)

    def document_here(self) -> Document | None:
        """The week's sheet, to be saved."""
        week = self.facts.week if self.facts else None
        return Document(f"week {week}", self.facts, week_forms(), f"week-{week}.txt") if week else None

    def take_estimate(self, minutes: int, one: TaskEstimate) -> None:
        """Make this the new estimate of the task's routes."""

        def then(_answer: object) -> None:
            say(self.app, f"{one.task}: {minutes} min from now on.")

        self.run_use_case("bench.work.route_tasks:take_estimates", one.route_task_ids, minutes, then=then)

    def filter_by(self, by: rows.Filter | None) -> None:
        """Show only the entries behind one figure, or all of them."""
        self.by = by
        self._show_entries(self.desk.clock.now_us())
        if by is not None:
            self.table("entries").take_focus()

    def go_to_week(self, week: IsoWeek | None) -> None:
        """Another week; the one we are in for None."""
        self.week = week
        self.by = None
        self.ask()

    def action_earlier(self) -> None:
        """The week before."""
        if self.facts is not None:
            self.go_to_week(self.facts.week.previous())

    def action_later(self) -> None:
        """The week after."""
        if self.facts is not None:
            self.go_to_week(self.facts.week.next())

    def action_this_week(self) -> None:
        """The week we are in."""
        self.go_to_week(None)

    def action_back(self) -> None:
        """All entries again, else back to where one came from."""
        if self.by is not None:
            self.filter_by(None)
        else:
            super().action_back()

    def _open_money(self, of: int | str) -> None:
        """The money of one unit sold; the sum of all is made of the lines above it."""
        if isinstance(of, int):
            self.open_screen(places.MONEY, of)

    def _show_entries(self, now_us: int) -> None:
        if self.facts is not None:
            seen = rows.filtered(self.facts.entries, self.by)
            entries = rows_of(ENTRIES, seen, context_of(self.facts, now_us))
            key = key_shown("week.back", self.bench.own_keys)
            self.table("entries").show([*rows.filter_row(self.by, key), *entries])
