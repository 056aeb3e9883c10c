"""What next: the queue by what it earns for the time it takes, when units are done, bottleneck."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import PurePath
from typing import ClassVar

from textual import on
from textual.widget import Widget

from bench.dashboard.acts import places
from bench.dashboard.presenters.next_rows import (
    bottleneck_lines,
    forecast_rows,
    next_head,
    ranking_rows,
    reason_lines,
)
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.line_list import LineList
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.dashboard.widgets.steady import Stacked
from bench.domain.forecast_sheet import Forecast
from bench.domain.next_up import NextUp
from bench.views.forecast import read_forecast
from bench.views.next_up import read_ranking
from bench.views.tables.next_up import FORECAST, RANKING, STAGES, stays_of


@dataclass(frozen=True, slots=True)
class NextFacts:
    """The order and the forecast."""

    order: NextUp
    forecast: Forecast


class NextUpScreen(Sheet[NextFacts]):
    """The order on the left, the forecast and the stages on the right; Enter opens the unit."""

    keys = "next_up"
    CSS_PATH: ClassVar[list[str | PurePath]] = ["sheet.tcss", "next_up.tcss"]

    def panels(self) -> Iterable[Widget]:
        """The order with its reason; done-by; the stages and what they say."""
        with Stacked(id="left"):
            yield RowTable(RANKING, stays_lit=True, id="order")
            yield LinesPanel(title="Why", id="why")
        with Stacked(id="right"):
            yield RowTable(FORECAST, id="forecast")
            yield RowTable(STAGES, id="stages")
            yield LinesPanel(title="Bottleneck", id="bottleneck")

    def read(self) -> Callable[[], NextFacts]:
        """Both, one after the other."""
        desk = self.desk
        return lambda: NextFacts(read_ranking(desk), read_forecast(desk))

    def show(self, facts: NextFacts) -> None:
        """Everything on the screen."""
        self.query_one("#head", LinesPanel).show(lambda width: next_head(facts.order, width))
        self.table("order").show(ranking_rows(facts.order))
        self.table("forecast").show(forecast_rows(facts.forecast))
        self.table("stages").fill(stays_of(facts.forecast))
        self.query_one("#bottleneck", LinesPanel).show(lambda width: bottleneck_lines(facts.forecast, width))

    def open_row(self) -> None:
        """The unit under the cursor."""
        table = self.current_table()
        if table is not None and table.id != "stages" and isinstance(table.key, int):
            self.open_screen(places.UNIT, table.key)

    @on(LineList.Moved, "#order RowList")
    def _moved(self) -> None:
        facts, key = self.facts, self.table("order").key
        if facts is not None:
            self.query_one("#why", LinesPanel).show(lambda width: reason_lines(facts.order, key, width))
