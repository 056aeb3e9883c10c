"""The repair of an owner's machine: what was noted of it, its quote and bill, what it took."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from pathlib import PurePath
from typing import Any, ClassVar

from textual.widget import Widget

from bench.dashboard.keys import key_shown
from bench.dashboard.presenters.repair_lines import repair_fact_rows, repair_head, repair_sum_lines
from bench.dashboard.presenters.rows import room
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.dashboard.widgets.steady import Stacked
from bench.views.columns import Table
from bench.views.kinds import context_of
from bench.views.particulars import Particulars, particulars
from bench.views.repair_jobs import Job, JobSheet, RepairLine, read_job
from bench.views.tables.repair_jobs import QUOTE_LINES

FACTS = Table[Any]("repair", "The repair", (room("", 15), room("", 20, grow=1)))
EDIT_LINE = "bench.dashboard.screens.dialogs.repair_forms:line_form"


@dataclass(frozen=True, slots=True)
class JobFacts:
    """The machine, and its newest repair."""

    unit: Particulars
    sheet: JobSheet | None


class JobScreen(Sheet[JobFacts]):
    """Its facts on the left; quote, bill and what it took on the right."""

    keys = "job"
    CSS_PATH: ClassVar[list[str | PurePath]] = ["sheet.tcss", "repair_job.tcss"]

    def __init__(self, unit_id: int) -> None:
        super().__init__()
        self.unit_id = unit_id

    def panels(self) -> Iterable[Widget]:
        """The facts; the lines; what they come to."""
        none = f"No repair yet: {key_shown('job.take_in', self.bench.own_keys)} takes it in."
        yield RowTable(replace(FACTS, empty=none), id="facts")
        with Stacked(id="right"):
            add = f"Nothing quoted yet: {key_shown('job.add_line', self.bench.own_keys)} adds a line."
            yield RowTable(replace(QUOTE_LINES, empty=add), id="lines")
            yield LinesPanel(title="Comes to, and took", id="sum")

    def read(self) -> Callable[[], JobFacts]:
        """The machine and its repair."""
        desk, unit_id = self.desk, self.unit_id

        def work() -> JobFacts:
            with desk.store.read() as connection:
                unit = particulars(connection, unit_id)
            return JobFacts(unit, read_job(desk, unit_id))

        return work

    def show(self, facts: JobFacts) -> None:
        """Everything on the screen."""
        sheet = facts.sheet
        self.query_one("#head", LinesPanel).show(lambda width: repair_head(facts.unit, sheet, width))
        self.table("facts").show(repair_fact_rows(sheet))
        self.table("lines").fill(sheet.lines if sheet is not None else (), context_of(sheet))
        self.query_one("#sum", LinesPanel).show(lambda width: repair_sum_lines(sheet, width))

    def unit_here(self) -> Particulars | None:
        """The machine."""
        return self.facts.unit if self.facts else None

    def job_here(self) -> Job | None:
        """Its newest repair."""
        return self.facts.sheet.job if self.facts and self.facts.sheet else None

    def lasting_job_here(self) -> Job | None:
        """The same while the machine was not handed back."""
        job = self.job_here()
        return job if job is not None and job.collected_on is None else None

    def line_here(self) -> RepairLine | None:
        """The line of the quote under the cursor."""
        sheet, key = self.facts.sheet if self.facts else None, self.table("lines").key
        return next((one for one in sheet.lines if one.line_id == key), None) if sheet else None

    def open_row(self) -> None:
        """Correct what is under the cursor: a line of the quote, or what was noted."""
        line, job = self.line_here(), self.job_here()
        if self.table("facts").is_current:
            self.action_act("take_in")
        elif line is not None and job is not None:
            self.open_screen(EDIT_LINE, job, line)
