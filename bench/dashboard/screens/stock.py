"""The stock book: every consumable, its level and what is known of it; and one with its movements."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import PurePath
from typing import ClassVar

from textual import on
from textual.widget import Widget

from bench.dashboard.acts import places
from bench.dashboard.presenters.stock_rows import (
    history_head,
    stock_head,
)
from bench.dashboard.reading import Reading, none_if_gone
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.line_list import LineList
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.views.kinds import context_of
from bench.views.stock import ConsumableHistory, StockBook, read_history, read_stock
from bench.views.tables.stock import MOVEMENTS, STOCK


class StockScreen(Sheet[StockBook]):
    """Every consumable, below it what moved last of the one under the cursor; Enter opens all."""

    keys = "stock"
    CSS_PATH: ClassVar[list[str | PurePath]] = ["sheet.tcss", "stock.tcss"]

    def __init__(self) -> None:
        super().__init__()
        self._history = Reading(self, self._read_history, self._show_history)

    def panels(self) -> Iterable[Widget]:
        """The consumables; what moved of one of them."""
        yield RowTable(STOCK, id="rows")
        moved = RowTable(replace(MOVEMENTS, title="Its newest movements"), id="moved")
        moved.rows.can_focus = False
        yield moved

    def read(self) -> Callable[[], StockBook]:
        """The stock book."""
        desk = self.desk
        return lambda: read_stock(desk)

    def show(self, facts: StockBook) -> None:
        """The levels as they are now."""
        self.query_one("#head", LinesPanel).show(lambda width: stock_head(facts, width))
        self.table("rows").fill(facts.lines, context_of(facts))

    def consumable_here(self) -> int | None:
        """The consumable under the cursor."""
        key = self.table("rows").key
        return key if isinstance(key, int) else None

    def open_row(self) -> None:
        """Its movements."""
        consumable_id = self.consumable_here()
        if consumable_id is not None:
            self.open_screen(places.CONSUMABLE, consumable_id)

    @on(LineList.Moved, "#rows RowList")
    def _moved(self) -> None:
        self._history.ask()

    def _read_history(self) -> Callable[[], ConsumableHistory | None]:
        desk, consumable_id = self.desk, self.consumable_here()
        if consumable_id is None:
            return lambda: None
        return none_if_gone(lambda: read_history(desk, consumable_id))

    def _show_history(self, history: ConsumableHistory | None) -> None:
        self.table("moved").fill(history.movements if history is not None else (), context_of(history))


class ConsumableScreen(Sheet[ConsumableHistory]):
    """The movements, newest first; Enter opens the unit that used it up."""

    keys = "consumable"

    def __init__(self, consumable_id: int) -> None:
        super().__init__()
        self.consumable_id = consumable_id

    def panels(self) -> Iterable[Widget]:
        """One table."""
        yield RowTable(MOVEMENTS, id="rows")

    def read(self) -> Callable[[], ConsumableHistory]:
        """Its level and movements."""
        desk, consumable_id = self.desk, self.consumable_id
        return lambda: read_history(desk, consumable_id)

    def show(self, facts: ConsumableHistory) -> None:
        """What there is of it, and why."""
        context = self.context_for(facts)
        self.query_one("#head", LinesPanel).show(lambda width: history_head(facts, context, width))
        self.table("rows").fill(facts.movements, context_of(facts))

    def consumable_here(self) -> int:
        """The one that is shown."""
        return self.consumable_id

    def open_row(self) -> None:
        """The unit that took it."""
        key = self.table("rows").key
        lines = self.facts.movements if self.facts else ()
        line = next((one for one in lines if one.movement_id == key), None)
        if line is not None and line.unit_id is not None:
            self.open_screen(places.UNIT, line.unit_id)
