"""A model's page: how it comes apart, its screws, what its tasks took, the parts bought for it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import PurePath
from typing import ClassVar

from textual.widget import Widget

from bench.dashboard.presenters.model_page_rows import page_head, page_lines
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.dashboard.widgets.steady import Stacked
from bench.domain.model_page import KnownFault, ModelPageSheet, ModelPhotograph, ModelStepLine, ScrewLine
from bench.views.kinds import context_of
from bench.views.model_page import model_of, read_model_page
from bench.views.tables.model_page import (
    FITTED,
    KNOWN_FAULTS,
    MODEL_PHOTOGRAPHS,
    SCREWS,
    STEPS,
    TASK_HOURS,
)


class ModelPageScreen(Sheet[ModelPageSheet]):
    """Steps, screws and faults on the left, the past on the right. Of a unit, or of a model by its name."""

    keys = "model_page"
    CSS_PATH: ClassVar[list[str | PurePath]] = ["sheet.tcss", "model_page.tcss"]

    def __init__(self, unit_id: int | None = None, *, maker: str = "", model: str = "") -> None:
        super().__init__()
        self.unit_id = unit_id
        self.of = (maker, model)

    def panels(self) -> Iterable[Widget]:
        """What is written; what came of its units."""
        with Stacked(id="left"):
            yield RowTable(STEPS, stays_lit=True, id="steps")
            yield RowTable(SCREWS, id="screws")
            yield RowTable(KNOWN_FAULTS, id="faults")
        with Stacked(id="right"):
            yield LinesPanel(title="What is known of it", id="known")
            yield RowTable(TASK_HOURS, id="hours")
            yield RowTable(FITTED, id="parts")
            yield RowTable(MODEL_PHOTOGRAPHS, id="photographs")

    def read(self) -> Callable[[], ModelPageSheet]:
        """The page of the unit's model, whatever that is called now."""
        desk, unit_id, of = self.desk, self.unit_id, self.of

        def work() -> ModelPageSheet:
            if unit_id is None:
                return read_model_page(desk, *of)
            name = model_of(desk, unit_id)
            return read_model_page(desk, name.maker, name.model)

        return work

    def show(self, facts: ModelPageSheet) -> None:
        """Everything on the screen."""
        context = context_of(facts)
        self.query_one("#head", LinesPanel).show(lambda width: page_head(facts, width))
        self.query_one("#known", LinesPanel).show(lambda width: page_lines(facts, width))
        self.table("steps").fill(facts.steps)
        self.table("screws").fill(facts.screws)
        self.table("hours").fill(facts.hours, context)
        self.table("parts").fill(facts.parts, context)
        self.table("faults").fill(facts.faults, context)
        photographs = self.table("photographs")
        photographs.display = bool(facts.photographs)
        photographs.fill(facts.photographs, context)

    def page_here(self) -> ModelPageSheet | None:
        """The page."""
        return self.facts

    def step_here(self) -> ModelStepLine | None:
        """The step under the cursor, while the keys mean steps."""
        key, steps = self.table("steps").key, self.facts.steps if self.facts else ()
        current = self.table("steps").is_current
        return next((one for one in steps if current and one.step_id == key), None)

    def screw_here(self) -> ScrewLine | None:
        """The screws under the cursor, while the keys mean screws."""
        key, screws = self.table("screws").key, self.facts.screws if self.facts else ()
        current = self.table("screws").is_current
        return next((one for one in screws if current and one.screw_id == key), None)

    def known_fault_here(self) -> KnownFault | None:
        """The fault under the cursor, while the keys mean faults."""
        key, faults = self.table("faults").key, self.facts.faults if self.facts else ()
        current = self.table("faults").is_current
        return next((one for one in faults if current and one.fault_id == key), None)

    def model_photograph_here(self) -> ModelPhotograph | None:
        """The photograph under the cursor, while the keys mean photographs."""
        key, lines = self.table("photographs").key, self.facts.photographs if self.facts else ()
        current = self.table("photographs").is_current
        return next((one for one in lines if current and one.photograph_id == key), None)

    def open_row(self) -> None:
        """Correct what is under the cursor, or open the unit that it is of."""
        self.action_act("open_row")
