"""One unit: its tasks, what each took and how long, its particulars, figures and journal."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from pathlib import PurePath
from typing import ClassVar

from textual import on
from textual.message import Message
from textual.widget import Widget

from bench.dashboard.acts import places
from bench.dashboard.acts.act import Way, opens
from bench.dashboard.acts.units import (
    BAD_CELL,
    CLOSING_CHECKLIST,
    EDIT_UNIT,
    GO_TO,
    HOLD,
    OPENING_CHECKLIST,
    SPECIFY,
)
from bench.dashboard.keys import key_shown
from bench.dashboard.presenters import unit_facts as fact
from bench.dashboard.presenters.choices import Marked, marked
from bench.dashboard.presenters.fault_rows import FAULT, TESTS, fault_fact_rows
from bench.dashboard.presenters.repair_lines import REPAIR, repair_row
from bench.dashboard.presenters.unit_facts import DRIVES, MONEY, fact_rows, trade_fact_rows, unit_head
from bench.dashboard.presenters.unit_rows import (
    DETAIL,
    detail_rows,
    first_task,
    task_rows,
)
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.line_list import LineList
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.dashboard.widgets.steady import Stacked
from bench.domain.unit_money import UnitMoney
from bench.views.drives import DriveSheet, read_drives
from bench.views.entries import EntryLine, read_unit_entries
from bench.views.journal import JournalPage, read_journal
from bench.views.kinds import context_of, on_screen
from bench.views.repair_jobs import JobSheet, read_job
from bench.views.tables import unit as told
from bench.views.tables.journal import NARROW_JOURNAL
from bench.views.tables.tasks import TASKS
from bench.views.tables.unit import FACTS
from bench.views.tasks import TaskLine
from bench.views.unit import UnitSheet, read_unit
from bench.views.unit_money import read_unit_money

JOURNAL_LINES = 50
TIME_BEHIND = "bench.dashboard.screens.unit_figures:UnitTimeScreen"
OPENED_BY: dict[object, tuple[Way, ...]] = {
    told.HANDS_ON: (opens(TIME_BEHIND, "unit.unit_id", attended=True),),
    told.MACHINE_TIME: (opens(TIME_BEHIND, "unit.unit_id", attended=False),),
    told.CONSUMABLES_USED: (
        opens("bench.dashboard.screens.unit_figures:UnitConsumablesScreen", "unit.unit_id"),
    ),
    MONEY: (opens(places.MONEY, "unit.unit_id"),),
    FAULT: (opens(places.FAULTS, "unit.unit_id"),),
    TESTS: (opens(places.FAULTS, "unit.unit_id"),),
    DRIVES: (opens(places.WIPING, "unit.unit_id"),),
    REPAIR: (opens(places.JOB, "unit.unit_id"),),
    told.STAGE: GO_TO.ways,
    told.HELD: HOLD.ways,
    fact.CELL: BAD_CELL.ways,
    fact.OPENING_CHECKLIST: OPENING_CHECKLIST.ways,
    fact.CLOSING_CHECKLIST: CLOSING_CHECKLIST.ways,
    told.PARTICULARS: EDIT_UNIT.ways,
    fact.SPECIFICATION: (SPECIFY,),
}


@dataclass(frozen=True, slots=True)
class UnitFacts:
    """What the screen shows of a unit."""

    unit: UnitSheet
    entries: tuple[EntryLine, ...]
    journal: JournalPage
    money: UnitMoney
    drives: DriveSheet
    repair: JobSheet | None


class FactsTable(RowTable):
    """Figures in words, which are broken into lines for the room there is."""

    class Resized(Message):
        """There is other room now."""

    def on_resize(self) -> None:
        """Have them broken again."""
        self.post_message(self.Resized())


class UnitScreen(Sheet[UnitFacts]):
    """One unit; every figure on it opens."""

    keys = "unit"
    CSS_PATH: ClassVar[list[str | PurePath]] = ["sheet.tcss", "unit.tcss"]

    def __init__(self, unit_id: int) -> None:
        super().__init__()
        self.unit_id = unit_id

    def panels(self) -> Iterable[Widget]:
        """Tasks and the task's detail on the left, facts and journal on the right."""
        with Stacked(id="left"):
            none = f"No tasks yet: {key_shown('unit.add_task', self.bench.own_keys)} adds one."
            yield RowTable(replace(TASKS, empty=none), stays_lit=True, id="tasks")
            yield RowTable(DETAIL, id="detail")
        with Stacked(id="right"):
            yield FactsTable(FACTS, id="facts")
            yield RowTable(NARROW_JOURNAL, id="journal")

    def read(self) -> Callable[[], UnitFacts]:
        """The unit, its entries, the newest lines of its journal, its money and drives."""
        desk, unit_id = self.desk, self.unit_id

        def work() -> UnitFacts:
            return UnitFacts(
                read_unit(desk, unit_id),
                read_unit_entries(desk, unit_id),
                read_journal(desk, unit_id=unit_id, limit=JOURNAL_LINES),
                read_unit_money(desk, unit_id),
                read_drives(desk, unit_id),
                read_job(desk, unit_id),
            )

        return work

    def show(self, facts: UnitFacts) -> None:
        """Everything on the screen."""
        unit = facts.unit
        at = None if self.table("tasks").key is not None else first_task(unit)
        self.query_one("#head", LinesPanel).show(lambda width: unit_head(unit, width))
        self.table("tasks").show(task_rows(unit, self.desk.clock.now_us()), at=at)
        self.table("journal").fill(facts.journal.lines, context_of(facts.journal))
        self.tick(self.desk.clock.now_us())

    def tick(self, now_us: int) -> None:
        """The times that run: in the tasks, in the figures, and in the detail, which follows the tasks."""
        if self.facts is None:
            return
        self.table("tasks").show(task_rows(self.facts.unit, now_us))
        facts = self.table("facts")
        more = trade_fact_rows(self.facts.money, self.facts.drives)
        more += repair_row(self.facts.repair)
        wrong = fault_fact_rows(self.facts.unit)
        facts.show(fact_rows(self.facts.unit, now_us, facts.rows.room, more, wrong))

    @on(FactsTable.Resized)
    def _other_room(self) -> None:
        self.tick(self.desk.clock.now_us())

    def task_here(self) -> TaskLine | None:
        """The task under the cursor, whichever panel has the focus."""
        key = self.table("tasks").key
        tasks = self.facts.unit.tasks if self.facts else ()
        return next((task for task in tasks if task.task_id == key), None)

    def marked_tasks_here(self) -> Marked | None:
        """The tasks that are marked."""
        keys = (row.key for row in self.table("tasks").rows.marked)
        return marked(tuple(key for key in keys if isinstance(key, int)), "task")

    def unit_here(self) -> UnitSheet | None:
        """The unit as it was read last."""
        return self.facts.unit if self.facts else None

    def held_unit_here(self) -> UnitSheet | None:
        """The unit where it is on hold."""
        unit = self.unit_here()
        return unit if unit is not None and unit.held is not None else None

    def to_finish_here(self) -> int | None:
        """The task under the cursor."""
        task = self.task_here()
        return task.task_id if task is not None else None

    def open_row(self) -> None:
        """Open what the row under the cursor stands for."""
        opens = {"tasks": self._open_task, "detail": self._open_detail, "facts": self._open_fact}
        table = self.current_table()
        if table is not None and table.id == "journal":
            self.action_act("journal")
        elif table is not None and table.id is not None:
            opens[table.id]()

    def _open_task(self) -> None:
        self.table("detail").take_focus()

    def _open_detail(self) -> None:
        key = self.table("detail").key
        if not isinstance(key, tuple):
            return
        kind, number = key
        self.open_screen(places.CORRECT_ENTRY if kind == "entry" else places.CONSUMABLE, number)

    def _open_fact(self) -> None:
        key = self.table("facts").key
        kind = key[0] if isinstance(key, tuple) else key
        self.carry_out(*OPENED_BY.get(kind, ()))

    @on(LineList.Moved, "#tasks RowList")
    def _moved(self) -> None:
        self._show_detail(self.desk.clock.now_us())

    def _show_detail(self, now_us: int) -> None:
        if self.facts is None:
            return
        rows = detail_rows(self.task_here(), self.facts.entries, on_screen(self.facts.unit, now_us))
        self.table("detail").show(rows)
