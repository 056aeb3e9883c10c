"""A unit's condition: readings before and after side by side, what they say, and by which definition."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import PurePath
from typing import ClassVar

from textual import on
from textual.widget import Widget

from bench.dashboard.acts import places
from bench.dashboard.doing import say
from bench.dashboard.presenters.condition_rows import (
    CONDITION,
    Here,
    condition_head,
    condition_rows,
    definition_lines,
)
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.line_list import LineList
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.domain.condition.readings import ReadingLine
from bench.views.condition import ConditionSheet, read_condition


class ConditionScreen(Sheet[ConditionSheet]):
    """One table; the definition of what is under the cursor stands below it."""

    keys = "condition"
    CSS_PATH: ClassVar[list[str | PurePath]] = ["sheet.tcss", "condition.tcss"]

    def __init__(self, unit_id: int) -> None:
        super().__init__()
        self.unit_id = unit_id

    def panels(self) -> Iterable[Widget]:
        """The readings, and what they go by."""
        yield RowTable(CONDITION, stays_lit=True, id="rows")
        yield LinesPanel(title="What it goes by", id="definition")

    def read(self) -> Callable[[], ConditionSheet]:
        """Everything measured."""
        desk, unit_id = self.desk, self.unit_id
        return lambda: read_condition(desk, unit_id)

    def show(self, facts: ConditionSheet) -> None:
        """The rows; the definition follows the cursor."""
        self.query_one("#head", LinesPanel).show(lambda width: condition_head(facts, width))
        self.table("rows").show(condition_rows(facts))

    def unit_here(self) -> ConditionSheet | None:
        """The unit with all that was measured of it."""
        return self.facts

    def battery_unit_here(self) -> ConditionSheet | None:
        """The same where its battery was read."""
        return self.facts if self.facts is not None and self.facts.batteries else None

    def subject_here(self) -> str | None:
        """The subject under the cursor."""
        key = self.table("rows").key
        return key.subject if isinstance(key, Here) else None

    def readings_here(self) -> tuple[ReadingLine, ...] | None:
        """The readings of the subject under the cursor; None where there are none."""
        subject, subjects = self.subject_here(), self.facts.subjects if self.facts else ()
        lines = next((one for one in subjects if one.subject == subject), None)
        return (*lines.before, *lines.after, *lines.ended) or None if lines is not None else None

    def stopped(self, cell_finding: bool, unit_id: int, *_given: object) -> None:
        """A swollen cell that was read stops the work: show what comes next."""
        if cell_finding:
            self.open_screen(places.CELL, unit_id)

    def ask_why_removed(self, reading_id: int, *_given: object) -> None:
        """Ask why a reading is taken off the records, and do it."""

        def then(_answer: object) -> None:
            say(self.app, "Taken off. It can be undone.")

        draft = f"reading off {reading_id}"
        self.ask_why(
            "Take the reading off", "bench.work.readings:remove_reading", reading_id, draft=draft, then=then
        )

    @on(LineList.Moved, "#rows RowList")
    def _moved(self) -> None:
        facts, key = self.facts, self.table("rows").key
        if facts is not None:
            definition = self.query_one("#definition", LinesPanel)
            now_us = self.desk.clock.now_us()
            definition.show(lambda width: definition_lines(facts, key, now_us, width))
