"""Repair a unit, sell it as it is, or part it out: side by side, and what its model fetched before."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import PurePath
from typing import ClassVar

from textual import on
from textual.widget import Widget

from bench.dashboard.acts import places
from bench.dashboard.presenters.three_ways_rows import rests_lines, sold_lines, ways_head
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.line_list import LineList
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.dashboard.widgets.steady import Stacked
from bench.domain.own_prices import OwnPrices
from bench.domain.three_ways import ThreeWays
from bench.views.kinds import context_of
from bench.views.own_prices import read_own_prices
from bench.views.tables.three_ways import OWN_SALES, THREE_WAYS
from bench.views.three_ways import read_three_ways


@dataclass(frozen=True, slots=True)
class WaysFacts:
    """The three ways, and what the model fetched."""

    ways: ThreeWays
    prices: OwnPrices

    @property
    def unit_id(self) -> int:
        """The unit they are of."""
        return self.ways.unit_id


class ThreeWaysScreen(Sheet[WaysFacts]):
    """The ways on the left, what the line under the cursor rests on beneath; own sales on the right."""

    keys = "three_ways"
    CSS_PATH: ClassVar[list[str | PurePath]] = ["sheet.tcss", "three_ways.tcss"]

    def __init__(self, unit_id: int) -> None:
        super().__init__()
        self.unit_id = unit_id

    def panels(self) -> Iterable[Widget]:
        """The lines and what they rest on; sales of the model and what they say."""
        with Stacked(id="left"):
            yield RowTable(THREE_WAYS, stays_lit=True, id="ways")
            yield LinesPanel(title="Based on", id="rests")
        with Stacked(id="right"):
            yield RowTable(OWN_SALES, id="sales")
            yield LinesPanel(title="What they say", id="said")

    def read(self) -> Callable[[], WaysFacts]:
        """Both, one after the other."""
        desk, unit_id = self.desk, self.unit_id
        return lambda: WaysFacts(read_three_ways(desk, unit_id), read_own_prices(desk, unit_id))

    def show(self, facts: WaysFacts) -> None:
        """Everything on the screen."""
        self.query_one("#head", LinesPanel).show(lambda width: ways_head(facts.ways, width))
        self.table("ways").fill(facts.ways.rows, context_of(facts.ways))
        self.table("sales").fill(facts.prices.sales, context_of(facts.prices))
        self.query_one("#said", LinesPanel).show(lambda width: sold_lines(facts.prices, width))
        self._show_rests()

    def unit_here(self) -> WaysFacts | None:
        """The unit whose ways these are."""
        return self.facts

    def open_row(self) -> None:
        """The unit that was sold; behind the ways stand the unit's faults."""
        key = self.table("sales").key
        if self.table("ways").is_current:
            self.open_screen(places.FAULTS, self.unit_id)
        if self.table("sales").is_current and isinstance(key, int):
            self.open_screen(places.UNIT, key)

    @on(LineList.Moved, "#ways RowList")
    def _show_rests(self) -> None:
        facts, key = self.facts, self.table("ways").key
        if facts is not None:
            self.query_one("#rests", LinesPanel).show(lambda width: rests_lines(facts.ways, key, width))
