"""Orders: what is under way or done with, of the shop or of one unit; and who delivers them how."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from textual.widget import Widget

from bench.dashboard.presenters.order_rows import orders_head
from bench.dashboard.presenters.rows import not_known_rows
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.views.kinds import context_of
from bench.views.orders import OrderBook, OrderLine, read_orders, read_orders_of
from bench.views.suppliers import SupplierBook, read_suppliers
from bench.views.tables.orders import ORDERS, SUPPLIERS

EDIT_ORDER = "bench.dashboard.screens.dialogs.order_forms:edit_order_form"


@dataclass(frozen=True)
class OrdersShown:
    """What is shown: the orders at once; behind them the suppliers, of all orders there were."""

    book: OrderBook
    suppliers: SupplierBook | None


@dataclass(frozen=True)
class UnitMeant:
    """The unit whose orders they are."""

    unit_id: int
    tag: str


class OrdersScreen(Sheet[OrdersShown]):
    """Orders above, suppliers below; Enter says what is known of an order."""

    keys = "orders"

    def __init__(self, unit_id: int | None = None, tag: str = "", *, settled: bool = False) -> None:
        super().__init__()
        self.unit = UnitMeant(unit_id, tag) if unit_id is not None else None
        self.settled = settled

    def panels(self) -> Iterable[Widget]:
        """The orders; the suppliers."""
        yield RowTable(ORDERS, id="rows")
        yield RowTable(SUPPLIERS, id="suppliers")

    def read(self) -> Callable[[], OrdersShown]:
        """The orders that are asked for; from the second time on all suppliers too."""
        desk, unit, settled, begins = self.desk, self.unit, self.settled, self.facts is None

        def read() -> OrdersShown:
            if unit is not None:
                book = read_orders_of(desk, unit.unit_id)
            else:
                book = read_orders(desk, settled=settled)
            return OrdersShown(book, None if begins else read_suppliers(desk))

        return read

    def goes_on(self, facts: OrdersShown) -> bool:
        """With the suppliers."""
        return facts.suppliers is None

    def show(self, facts: OrdersShown) -> None:
        """Both tables."""
        tag = self.unit.tag if self.unit is not None else ""
        self.query_one("#head", LinesPanel).show(
            lambda width: orders_head(facts.book, tag, width, settled=self.settled)
        )
        self.table("rows").fill(facts.book.lines, context_of(facts.book))
        if facts.suppliers is None:
            self.table("suppliers").show(not_known_rows())
        else:
            self.table("suppliers").fill(facts.suppliers.lines, context_of(facts.suppliers))

    def unit_here(self) -> UnitMeant | None:
        """The unit whose orders are shown; None where they are the shop's."""
        return self.unit

    def order_here(self) -> OrderLine | None:
        """The order under the cursor."""
        key = self.table("rows").key
        lines = self.facts.book.lines if self.facts else ()
        return next((one for one in lines if one.order_id == key), None)

    def open_row(self) -> None:
        """Say what is known of the order."""
        order = self.order_here()
        if order is not None and self.facts is not None and self.table("rows").is_current:
            self.open_screen(EDIT_ORDER, order, self.facts.book.currency)

    def action_settled(self) -> None:
        """What is done with, or what is under way."""
        self.settled = not self.settled
        self.ask()
