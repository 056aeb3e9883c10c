"""Lots: units bought together for one price, each one's share of it, and donors."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import PurePath
from typing import ClassVar

from textual import on
from textual.widget import Widget

from bench.dashboard.acts import places
from bench.dashboard.keys import key_shown
from bench.dashboard.presenters.lot_rows import (
    lots_head,
    rule_lines,
)
from bench.dashboard.reading import Reading, none_if_gone
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.line_list import LineList
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.dashboard.widgets.steady import Stacked
from bench.views.kinds import context_of
from bench.views.lots import LotBook, LotSheet, LotUnitLine, read_lot, read_lots
from bench.views.tables.lots import LOT_UNITS, LOTS


class LotsScreen(Sheet[LotBook]):
    """Lots on the left, the units of the one under the cursor on the right. `lot_id`: where to begin."""

    keys = "lots"
    CSS_PATH: ClassVar[list[str | PurePath]] = ["sheet.tcss", "lots.tcss"]

    def __init__(self, lot_id: int | None = None) -> None:
        super().__init__()
        self.lot: LotSheet | None = None
        self._begin_at = lot_id
        self._one = Reading(self, self._read_lot, self._show_lot)

    def panels(self) -> Iterable[Widget]:
        """The lots; the units of one, and the rule of sharing."""
        new = key_shown("lots.buy_lot", self.bench.own_keys)
        none = f"No lot yet. {new} buys one."
        yield RowTable(replace(LOTS, empty=none), stays_lit=True, id="lots")
        with Stacked(id="right"):
            yield RowTable(LOT_UNITS, id="units")
            yield LinesPanel(title="How the price is shared", id="rule")

    def read(self) -> Callable[[], LotBook]:
        """The lots."""
        desk = self.desk

        return lambda: read_lots(desk)

    def show(self, facts: LotBook) -> None:
        """The lots; the units of the one under the cursor follow."""
        self.query_one("#head", LinesPanel).show(lambda width: lots_head(facts, width))
        at, self._begin_at = self._begin_at, None
        self.table("lots").fill(facts.lots, context_of(facts), at=at)

    def unit_here(self) -> LotUnitLine | None:
        """The unit under the cursor."""
        key = self.table("units").key
        lines = self.lot.lines if self.lot else ()
        return next((one for one in lines if one.unit_id == key), None)

    def open_row(self) -> None:
        """From a lot to its units; from there the unit."""
        unit = self.unit_here()
        if self.table("lots").is_current:
            self.table("units").take_focus()
        elif unit is not None:
            self.open_screen(places.UNIT, unit.unit_id)

    def lot_here(self) -> LotSheet | None:
        """The lot under the cursor, as it was read last."""
        return self.lot

    def bought(self, lot_id: int) -> None:
        """A lot was bought: the cursor goes to it."""
        self._begin_at = lot_id
        self.ask()

    @on(LineList.Moved, "#lots RowList")
    def _moved(self) -> None:
        self._one.ask()

    def _read_lot(self) -> Callable[[], LotSheet | None]:
        desk, lot_id = self.desk, self.table("lots").key

        def read() -> LotSheet | None:
            return read_lot(desk, lot_id) if isinstance(lot_id, int) else None

        return none_if_gone(read)

    def _show_lot(self, lot: LotSheet | None) -> None:
        self.lot = lot
        self.table("units").fill(lot.lines if lot is not None else (), context_of(lot))
        rule = self.query_one("#rule", LinesPanel)
        rule.show(lambda width: rule_lines(lot, width) if lot is not None else ())
