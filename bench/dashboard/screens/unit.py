"""One unit: its tasks, what each took and how long, its particulars, figures and journal."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import PurePath
from typing import ClassVar

from textual import on
from textual.binding import BindingType
from textual.containers import Vertical
from textual.widget import Widget

from bench.dashboard.keys import bindings_for, key_shown
from bench.dashboard.presenters import unit_facts as fact
from bench.dashboard.presenters.journal_rows import NARROW_COLUMNS, short_journal_row
from bench.dashboard.presenters.unit_facts import FACT_COLUMNS, fact_rows, unit_head
from bench.dashboard.presenters.unit_rows import (
    DETAIL_COLUMNS,
    TASK_COLUMNS,
    detail_rows,
    first_task,
    task_rows,
)
from bench.dashboard.presenters.unit_trade_facts import DRIVES, MONEY, trade_fact_rows
from bench.dashboard.screens.more import OF_A_UNIT
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.screens.unit_actions import UnitActions
from bench.dashboard.widgets.line_list import LineList
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.domain.unit_money import UnitMoney
from bench.views.drives import DriveSheet
from bench.views.entries import EntryLine, read_unit_entries
from bench.views.journal import JournalPage, read_journal
from bench.views.tasks import TaskLine
from bench.views.unit import UnitSheet, read_unit
from bench.views.unit_money import read_unit_money

JOURNAL_LINES = 50


@dataclass(frozen=True, slots=True)
class UnitFacts:
    """What the screen shows of a unit."""

    unit: UnitSheet
    entries: tuple[EntryLine, ...]
    journal: JournalPage
    money: UnitMoney
    drives: DriveSheet


class UnitScreen(UnitActions, Sheet[UnitFacts]):
    """One unit; every figure on it opens."""

    keys = "unit"
    CSS_PATH: ClassVar[list[str | PurePath]] = ["sheet.tcss", "unit.tcss"]
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("unit")

    def __init__(self, unit_id: int) -> None:
        super().__init__()
        self.unit_id = unit_id

    def panels(self) -> Iterable[Widget]:
        """Tasks and the task's detail on the left, facts and journal on the right."""
        with Vertical(id="left"):
            yield RowTable(
                TASK_COLUMNS,
                title="Tasks",
                says_when_empty=f"No tasks yet: {key_shown('unit.add_task', self.bench.own_keys)} adds one.",
                stays_lit=True,
                id="tasks",
            )
            yield RowTable(DETAIL_COLUMNS, title="The task's use and time", id="detail")
        with Vertical(id="right"):
            yield RowTable(FACT_COLUMNS, title="The unit", id="facts")
            yield RowTable(NARROW_COLUMNS, title="Journal", id="journal")

    def read(self) -> Callable[[], UnitFacts]:
        """The unit, its entries, the newest lines of its journal, its money and drives."""
        desk, unit_id = self.desk, self.unit_id

        def work() -> UnitFacts:
            from bench.views.drives import read_drives

            return UnitFacts(
                read_unit(desk, unit_id),
                read_unit_entries(desk, unit_id),
                read_journal(desk, unit_id=unit_id, limit=JOURNAL_LINES),
                read_unit_money(desk, unit_id),
                read_drives(desk, unit_id),
            )

        return work

    def show(self, facts: UnitFacts) -> None:
        """Everything on the screen."""
        unit = facts.unit
        at = None if self.table("tasks").key is not None else first_task(unit)
        self.query_one("#head", LinesPanel).show(lambda width: unit_head(unit, width))
        self.table("tasks").show(task_rows(unit, self.desk.clock.now_us()), at=at)
        zone = facts.journal.zone
        self.table("journal").show([short_journal_row(line, zone) for line in facts.journal.lines])
        self.tick(self.desk.clock.now_us())

    def tick(self, now_us: int) -> None:
        """The times that run: in the tasks, in the figures, and in the detail, which follows the tasks."""
        if self.facts is None:
            return
        self.table("tasks").show(task_rows(self.facts.unit, now_us))
        facts = self.table("facts")
        more = trade_fact_rows(self.facts.money, self.facts.drives)
        facts.show(fact_rows(self.facts.unit, now_us, facts.rows.room, more))

    def task_here(self) -> TaskLine | None:
        """The task under the cursor, whichever panel has the focus."""
        key = self.table("tasks").key
        tasks = self.facts.unit.tasks if self.facts else ()
        return next((task for task in tasks if task.task_id == key), None)

    def unit_shown(self) -> UnitSheet | None:
        """The unit as it was read last."""
        return self.facts.unit if self.facts else None

    def open_row(self) -> None:
        """Open what the row under the cursor stands for."""
        opens = {"tasks": self._open_task, "detail": self._open_detail, "facts": self._open_fact}
        table = self.current_table()
        if table is not None and table.id == "journal":
            self.action_journal()
        elif table is not None and table.id is not None:
            opens[table.id]()

    def _open_task(self) -> None:
        self.table("detail").take_focus()

    def _open_detail(self) -> None:
        key = self.table("detail").key
        if not isinstance(key, tuple):
            return
        kind, number = key
        if kind == "entry":
            from bench.dashboard.screens.dialogs.time_forms import CorrectEntry

            self.app.push_screen(CorrectEntry(number))
        else:
            from bench.dashboard.screens.consumable import ConsumableScreen

            self.app.push_screen(ConsumableScreen(number))

    def _open_fact(self) -> None:
        key = self.table("facts").key
        kind = key[0] if isinstance(key, tuple) else key
        from bench.dashboard.screens.unit_figures import UnitMaterialsScreen, UnitTimeScreen

        opens: dict[object, Callable[[], object]] = {
            fact.ATTENDED: lambda: self.app.push_screen(UnitTimeScreen(self.unit_id, attended=True)),
            fact.UNATTENDED: lambda: self.app.push_screen(UnitTimeScreen(self.unit_id, attended=False)),
            MONEY: lambda: self._open_more("money"),
            DRIVES: lambda: self._open_more("wiping"),
            fact.MATERIALS: lambda: self.app.push_screen(UnitMaterialsScreen(self.unit_id)),
            fact.STAGE: self.action_go_to,
            fact.HELD: self.action_hold,
            fact.CELL: self.action_bad_cell,
            fact.OPENING_LIST: self.action_opening_list,
            fact.CLOSE_UP_LIST: self.action_close_up_list,
            fact.PARTICULARS: self.action_edit_unit,
        }
        if kind in opens:
            opens[kind]()

    def _open_more(self, name: str) -> None:
        unit = self.unit_meant()
        if unit is not None:
            self.app.push_screen(OF_A_UNIT[name](unit))

    @on(LineList.Moved, "#tasks RowList")
    def _moved(self) -> None:
        self._show_detail(self.desk.clock.now_us())

    def _show_detail(self, now_us: int) -> None:
        if self.facts is None:
            return
        rows = detail_rows(self.task_here(), self.facts.entries, self.facts.unit.zone, now_us)
        self.table("detail").show(rows)
