"""Every model of which units came or something was written; Enter opens its page."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from textual.widget import Widget

from bench.dashboard.acts import places
from bench.dashboard.presenters.model_page_rows import models_head
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.views.model_page import ModelLine, read_models
from bench.views.tables.model_page import MODELS


class ModelsScreen(Sheet[tuple[ModelLine, ...]]):
    """One table."""

    keys = "models"

    def panels(self) -> Iterable[Widget]:
        """The models."""
        yield RowTable(MODELS, id="rows")

    def read(self) -> Callable[[], tuple[ModelLine, ...]]:
        """All of them."""
        desk = self.desk
        return lambda: read_models(desk)

    def show(self, facts: tuple[ModelLine, ...]) -> None:
        """The table."""
        self.query_one("#head", LinesPanel).show(lambda width: models_head(facts, width))
        self.table("rows").fill(facts)

    def model_here(self) -> ModelLine | None:
        """The model under the cursor."""
        key = self.table("rows").key
        return next((one for one in self.facts or () if (one.maker, one.model) == key), None)

    def open_row(self) -> None:
        """Its page."""
        one = self.model_here()
        if one is not None:
            self.open_screen(places.MODEL_PAGE, maker=one.maker, model=one.model)
