"""Orders and the shelf of parts: head lines, what a form begins with, and an order in a sentence."""

from __future__ import annotations

from bench.dashboard.presenters.pieces import Line, Part, spread
from bench.domain.money import show_money
from bench.domain.orders import FAULTY, REFUNDED, OrderTold, due_words
from bench.domain.text import for_display
from bench.views.gone_parts import GoneParts
from bench.views.orders import OrderBook, OrderLine
from bench.views.parts import Shelf


def orders_head(book: OrderBook, tag: str, width: int, *, settled: bool) -> tuple[Line, ...]:
    """Which orders they are, what is due and late, and what is owed back."""
    what = f" Orders for {tag}" if tag else " Orders that are done with" if settled else " Orders"
    left = [Part(what, "strong")]
    due = due_words(book.due_today, book.late)
    left += [Part(f"  {due}", "alert" if book.late else "waiting")] if due else []
    owed = f"owed back: {show_money(book.owed_minor, book.currency)} " if book.owed_minor else ""
    return (spread(tuple(left), (Part(owed, "heading"),), width),)


def gone_head(gone: GoneParts) -> tuple[Line, ...]:
    """How many parts have left."""
    return ((Part(f" Gone from the shelf of parts: {len(gone.lines)}", "strong"),),)


def shelf_head(shelf: Shelf, width: int) -> tuple[Line, ...]:
    """How many parts lie there, and their cost."""
    left = (Part(f" Shelf of parts: {len(shelf.lines)}", "strong"),)
    cost = show_money(shelf.cost_minor, shelf.currency)
    return (spread(left, (Part(f"cost on the shelf: {cost} ", "heading"),), width),)


def order_values(order: OrderLine, currency: str) -> dict[str, str]:
    """What an order's form begins with, by field."""
    return {
        "supplier": order.supplier,
        "price_text": "" if order.price_minor is None else show_money(order.price_minor, currency),
        "freight_text": show_money(order.freight_minor, currency) if order.freight_minor else "",
        "ordered_text": order.ordered_on.isoformat() if order.ordered_on else "",
        "due_text": order.due_on.isoformat() if order.due_on else "",
        "note": order.note,
    }


def told_words(order: OrderTold) -> str:
    """An order after an act on it, in a sentence."""
    whom = f" for {order.tag}" if order.tag else ""
    whom += f", fault f{order.fault_id}" if order.fault_id is not None else ""
    words = f"{for_display(order.what)}{whom}: {order.state}"
    if order.state in FAULTY:
        words += f", {show_money(order.owed_minor, order.currency)} owed back"
    if order.state == REFUNDED:
        words += f", {show_money(order.refund_minor, order.currency)} came back"
    waits = f" Waits for it: {for_display(', '.join(order.tasks))}." if order.tasks else ""
    return f"{words}.{waits}"
