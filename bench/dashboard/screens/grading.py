"""A unit's grade: how each part works and looks, in the shop's own words."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import PurePath
from typing import ClassVar

from textual import on
from textual.widget import Widget

from bench.dashboard.presenters.condition_rows import grade_detail, grades_head
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.line_list import LineList
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.views.grades import GradeLine, GradeSheet, read_grades
from bench.views.tables.grades import GRADES

GRADE_FORM = "bench.dashboard.screens.dialogs.condition_forms:grade_form"


class GradingScreen(Sheet[GradeSheet]):
    """Every part; Enter grades the one under the cursor."""

    keys = "grading"
    CSS_PATH: ClassVar[list[str | PurePath]] = ["sheet.tcss", "grading.tcss"]

    def __init__(self, unit_id: int) -> None:
        super().__init__()
        self.unit_id = unit_id

    def panels(self) -> Iterable[Widget]:
        """The parts, and all that is said of one."""
        yield RowTable(GRADES, stays_lit=True, id="rows")
        yield LinesPanel(title="The part", id="detail")

    def read(self) -> Callable[[], GradeSheet]:
        """The grades and the scale."""
        desk, unit_id = self.desk, self.unit_id

        return lambda: read_grades(desk, unit_id)

    def show(self, facts: GradeSheet) -> None:
        """The parts."""
        self.query_one("#head", LinesPanel).show(lambda width: grades_head(facts, width))
        self.table("rows").fill(facts.lines)

    def line_here(self) -> GradeLine | None:
        """The part under the cursor."""
        key = self.table("rows").key
        lines = self.facts.lines if self.facts else ()
        return next((one for one in lines if one.part == key), None)

    def open_row(self) -> None:
        """Grade the part."""
        line = self.line_here()
        if line is not None and self.facts is not None:
            self.open_screen(GRADE_FORM, self.unit_id, line, self.facts.scale)

    def not_graded_here(self) -> tuple[GradeLine, ...] | None:
        """The parts of which nothing is said that still holds; None where all are graded."""
        lines = self.facts.lines if self.facts else ()
        return tuple(one for one in lines if one.grade_id is None or not one.holds) or None

    def marked_parts_here(self) -> tuple[GradeLine, ...] | None:
        """The parts that are marked; None where none is."""
        marked = {row.key for row in self.table("rows").rows.marked}
        lines = self.facts.lines if self.facts else ()
        return tuple(one for one in lines if one.part in marked) or None

    def graded(self, _saved: bool, *_given: object) -> None:
        """Those that were marked are done with."""
        self.unmark()

    def unit_here(self) -> GradeSheet | None:
        """The unit with its grades."""
        return self.facts

    @on(LineList.Moved, "#rows RowList")
    def _moved(self) -> None:
        facts, line = self.facts, self.line_here()
        if facts is not None:
            detail = self.query_one("#detail", LinesPanel)
            context = self.context_for(facts)
            detail.show(lambda width: grade_detail(line, context, width))
