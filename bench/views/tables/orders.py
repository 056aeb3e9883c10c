"""Parts on order, and the suppliers as these orders tell of them, as tables."""

from __future__ import annotations

from bench.domain.orders import UNDER_WAY
from bench.views.columns import Column, Table
from bench.views.kinds import COUNT, DAY, MONEY, QUANTITY, SHARE, Amount
from bench.views.orders import OrderLine
from bench.views.suppliers import SupplierLine

PER_10000 = 10_000


def whom_for(line: OrderLine) -> str:
    """What the order is for: a unit, its fault behind it, the stock of a consumable, or the shelf."""
    if line.consumable_id is not None:
        return "stock"
    fault = f" f{line.fault_id}" if line.fault_id is not None else ""
    return f"{line.tag}{fault}" if line.tag else "shelf"


def state_words(line: OrderLine) -> str:
    """How it stands, with the days by which it is late or was."""
    late = f", {line.late_days} d late" if line.late_days else ""
    return f"{line.standing}{late}"


def state_look(line: OrderLine) -> str:
    """Late and faulty ones stand out; the words say it too."""
    if line.state in ("wrong", "broken"):
        return "alert"
    if line.late_days and line.state in UNDER_WAY:
        return "warning"
    return "waiting" if line.state in UNDER_WAY else "good"


def _share(some: int, of: int) -> int | None:
    return None if not of else (2 * some * PER_10000 + of) // (2 * of)


ORDERS = Table[OrderLine](
    "orders",
    "Orders",
    (
        Column("No.", "order_id", COUNT, look="muted"),
        Column("What", "what", width=16, grow=1),
        Column(
            "Amount",
            lambda one: None if one.quantity is None else Amount(one.quantity, one.base_unit),
            QUANTITY,
            from_width=128,
        ),
        Column("For", whom_for, width=9),
        Column("State", state_words, width=15, grow=1, look=state_look),
        Column("Due", "due_on", DAY),
        Column("Supplier", "supplier", width=9, grow=2, from_width=92),
        Column("Cost", "cost_minor", MONEY, from_width=80),
        Column("Owed", lambda one: one.owed_minor or None, MONEY, from_width=108),
        Column("Came back", lambda one: one.refund_minor or None, MONEY, from_width=115),
        Column("Waits for it", lambda one: ", ".join(one.tasks), width=14, grow=2, from_width=144),
        Column("Note", "note", width=12, grow=3, from_width=160, look="muted"),
    ),
    key="order_id",
    empty="Nothing is on order.",
)
SUPPLIERS = Table[SupplierLine](
    "suppliers",
    "Suppliers",
    (
        Column("Supplier", lambda one: one.supplier or "not told", width=16, grow=2),
        Column("Orders", "orders", COUNT, 6, from_width=72),
        Column("Arrived", "arrived", COUNT, 7, from_width=84),
        Column("Late", "late", COUNT, look=lambda one: "warning" if one.late else ""),
        Column("Late, %", lambda one: _share(one.late, one.dated), SHARE, 8),
        Column("Days late", "late_days", COUNT, 9, from_width=122, look="muted"),
        Column("Wrong", "faulty", COUNT, 5, look=lambda one: "warning" if one.faulty else ""),
        Column("Wrong, %", lambda one: _share(one.faulty, one.arrived), SHARE, 8, from_width=78),
        Column("Spent", "spent_minor", MONEY, from_width=104),
        Column("Refunded", "refunded_minor", MONEY, from_width=112),
        Column("Owed", "owed_minor", MONEY),
        Column("Last order", "last_on", DAY, from_width=131, look="muted"),
    ),
    key="supplier",
    empty="Nothing was ordered yet.",
)
