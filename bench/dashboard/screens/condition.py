"""A unit's condition: readings before and after side by side, what they say, and by which definition."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import PurePath
from typing import ClassVar

from textual import on
from textual.binding import BindingType
from textual.widget import Widget

from bench.dashboard.keys import bindings_for
from bench.dashboard.presenters.condition_rows import (
    CONDITION,
    Here,
    condition_head,
    condition_rows,
    definition_lines,
)
from bench.dashboard.screens.condition_actions import ConditionActions
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.line_list import LineList
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.views.condition import ConditionSheet, read_condition


class ConditionScreen(ConditionActions, Sheet[ConditionSheet]):
    """One table; the definition of what is under the cursor stands below it."""

    keys = "condition"
    CSS_PATH: ClassVar[list[str | PurePath]] = ["sheet.tcss", "condition.tcss"]
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("condition")

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

    def sheet_shown(self) -> ConditionSheet | None:
        """What was read last."""
        return self.facts

    def subject_here(self) -> str | None:
        """The subject under the cursor."""
        key = self.table("rows").key
        return key.subject if isinstance(key, Here) else None

    @on(LineList.Moved, "#rows RowList")
    def _moved(self) -> None:
        facts, key = self.facts, self.table("rows").key
        if facts is not None:
            definition = self.query_one("#definition", LinesPanel)
            definition.show(lambda width: definition_lines(facts, key, width))
