"""The stock book: every consumable, its level and what is known of it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import ClassVar

from textual.binding import BindingType
from textual.widget import Widget

from bench.dashboard.keys import bindings_for
from bench.dashboard.presenters.stock_rows import STOCK_COLUMNS, stock_head, stock_rows
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.screens.stock_actions import StockActions
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.domain.stock_book import StockBook
from bench.work.stock_book import read_stock


class StockScreen(StockActions, Sheet[StockBook]):
    """Every consumable; Enter opens the movements behind a level."""

    keys = "stock"
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("stock")

    def panels(self) -> Iterable[Widget]:
        """One table."""
        yield RowTable(STOCK_COLUMNS, title="Consumables", says_when_empty="Nothing yet.", id="rows")

    def read(self) -> Callable[[], StockBook]:
        """The stock book."""
        desk = self.desk
        return lambda: read_stock(desk)

    def show(self, facts: StockBook) -> None:
        """The levels as they are now."""
        self.query_one("#head", LinesPanel).show(lambda width: stock_head(facts, width))
        self.table("rows").show(stock_rows(facts))

    def consumable_here(self) -> int | None:
        """The consumable under the cursor."""
        key = self.table("rows").key
        return key if isinstance(key, int) else None

    def open_row(self) -> None:
        """Its movements."""
        consumable_id = self.consumable_here()
        if consumable_id is not None:
            from bench.dashboard.screens.consumable import ConsumableScreen

            self.app.push_screen(ConsumableScreen(consumable_id))
