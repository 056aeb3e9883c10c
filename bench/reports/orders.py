"""Orders and suppliers as text and JSON, and what was done with an order in a sentence."""

from __future__ import annotations

from bench.domain.money import show_money
from bench.domain.orders import FAULTY, REFUNDED, OrderTold, PartGone, due_words
from bench.reports.plain_tables import sections, told
from bench.reports.plain_values import facts_of, json_text
from bench.views.kinds import context_of
from bench.views.orders import OrderBook
from bench.views.suppliers import SupplierBook
from bench.views.tables.orders import ORDERS, SUPPLIERS


def orders_text(book: OrderBook) -> str:
    """The orders with what is due, what is late, and what is owed back."""
    owed = f"Owed back: {show_money(book.owed_minor, book.currency)}." if book.owed_minor else ""
    due = due_words(book.due_today, book.late)
    return sections(told(ORDERS, book.lines, context_of(book)), f"{due.capitalize()}." if due else "", owed)


def orders_json(book: OrderBook) -> str:
    """The orders as a JSON document."""
    return json_text("orders", facts_of(book, book.zone))


def suppliers_text(book: SupplierBook) -> str:
    """How each supplier delivered, and what all of them owe."""
    owed = f"Owed back: {show_money(book.owed_minor, book.currency)}." if book.owed_minor else ""
    return sections(told(SUPPLIERS, book.lines, context_of(book)), owed)


def suppliers_json(book: SupplierBook) -> str:
    """The suppliers as a JSON document."""
    return json_text("suppliers", facts_of(book, book.zone))


def order_words(order: OrderTold) -> str:
    """An order after an act on it, in one sentence: its number, how it stands, what is waited or owed for."""
    whom = f" for {order.tag}" if order.tag else ""
    whom += f", fault f{order.fault_id}" if order.fault_id is not None else ""
    words = f"Order {order.order_id}, {order.what}{whom}: {order.state}"
    if order.due_on is not None and order.state == "ordered":
        words += f", due {order.due_on}"
    if order.state in FAULTY:
        words += f", {show_money(order.owed_minor, order.currency)} owed back"
    if order.state == REFUNDED:
        words += f", {show_money(order.refund_minor, order.currency)} came back"
    waits = f" Waits for it: {', '.join(order.tasks)}." if order.tasks else ""
    return f"{words}.{waits}"


def gone_words(part: PartGone) -> str:
    """A part that left the shop off the shelf, with its cost and what it brought."""
    cost = show_money(part.cost_minor, part.currency)
    if part.way == "sold":
        return f"{part.name} sold for {show_money(part.price_minor, part.currency)}; it had cost {cost}."
    return f"{part.name} {part.way}; {cost} of cost lost."
