"""All owners' machines that are here for repair, and how each stands."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import PurePath
from typing import ClassVar

from textual.widget import Widget

from bench.dashboard.presenters.repair_lines import jobs_head, uncollected_lines
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.views.kinds import context_of
from bench.views.repair_jobs import Job, JobBook, read_jobs
from bench.views.tables.repair_jobs import JOBS

JOB = "bench.dashboard.screens.repair_job:JobScreen"


class JobsScreen(Sheet[JobBook]):
    """One table; Enter opens the repair."""

    keys = "jobs"
    CSS_PATH: ClassVar[list[str | PurePath]] = ["sheet.tcss", "repair_jobs.tcss"]

    def __init__(self) -> None:
        super().__init__()
        self.every = False

    def panels(self) -> Iterable[Widget]:
        """The repairs; what comes first where a machine is not collected."""
        yield RowTable(JOBS, id="rows")
        yield LinesPanel(id="law")

    def read(self) -> Callable[[], JobBook]:
        """The repairs."""
        desk, every = self.desk, self.every
        return lambda: read_jobs(desk, every=every)

    def show(self, facts: JobBook) -> None:
        """The repairs."""
        self.query_one("#head", LinesPanel).show(lambda width: jobs_head(facts, width))
        self.table("rows").fill(facts.jobs, context_of(facts))
        self.query_one("#law", LinesPanel).show(lambda width: uncollected_lines(facts, width))

    def job_here(self) -> Job | None:
        """The repair under the cursor."""
        key = self.table("rows").key
        return next((one for one in self.facts.jobs if one.job_id == key), None) if self.facts else None

    def action_all(self) -> None:
        """Those that are here only, or all."""
        self.every = not self.every
        self.ask()

    def open_row(self) -> None:
        """The repair."""
        job = self.job_here()
        if job is not None:
            self.open_screen(JOB, job.unit_id)
