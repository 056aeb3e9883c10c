"""The stock book, one consumable's movements, and what a unit took off the shelf, as tables."""

from __future__ import annotations

from bench.domain.stock_levels import StockLine
from bench.views.columns import Column, Table
from bench.views.kinds import (
    BAR,
    DAY,
    DAYS,
    INSTANT,
    MONEY,
    PLAIN,
    QUANTITY,
    SAID,
    Amount,
    Filled,
    Kind,
    Said,
)
from bench.views.stock import MovementLine
from bench.views.unit import UnitIssue

MOVED = {"receipt": "delivery", "issue": "taken", "count": "count", "reversal": "undone"}


def mark_of(line: StockLine) -> Said:
    """What to mind of a consumable, in a word."""
    if line.on_hand <= 0:
        return Said("↓ NONE", "loud")
    if line.low:
        return Said("↓ LOW", "alert")
    if line.expired:
        return Said("! EXPIRED", "warning")
    return Said("… DUE", "waiting") if line.on_order and line.on_hand <= line.reorder_at else Said("")


def order_words(line: StockLine) -> str:
    """The reorder point; ~ where it was worked out from use."""
    point = QUANTITY.told(Amount(line.reorder_at, line.base_unit), PLAIN)
    return point if line.reorder_fixed else f"{point} ~"


def moved_words(line: MovementLine) -> str:
    """What a movement was: for which task, from whom, and why."""
    words = MOVED.get(line.kind, line.kind)
    if line.tag:
        words = f"{line.tag} {line.task}" + (f" ({words})" if line.kind != "issue" else "")
    if line.supplier:
        words += f" from {line.supplier}"
    return f"{words} ({line.reason})" if line.reason else words


LASTS = Kind(lambda days, _: ">999 d" if days > 999 else f"{days:.0f} d", width=7)
ORDER_AT = Kind(lambda line, _: order_words(line), width=12, order=lambda line: line.reorder_at)

STOCK = Table[StockLine](
    "stock",
    "Consumables",
    (
        Column("Consumable", "name", width=16, grow=2),
        Column("", mark_of, SAID, 9),
        Column(
            "Level",
            lambda one: Filled(one.on_hand, one.full),
            BAR,
            8,
            grow=1,
            from_width=74,
            look=lambda one: "alert" if one.low else "good",
        ),
        Column("On hand", lambda one: Amount(one.on_hand, one.base_unit), QUANTITY),
        Column("Order at", lambda one: one, ORDER_AT, from_width=84, look="muted"),
        Column("Lasts", "cover", LASTS, look="muted"),
        Column(
            "On order",
            lambda one: Amount(one.on_order, one.base_unit) if one.on_order else None,
            QUANTITY,
            from_width=136,
            look="waiting",
        ),
        Column(
            "Pack", lambda one: Amount(one.pack, one.base_unit), QUANTITY, 10, from_width=100, look="muted"
        ),
        Column("Lead", "lead_days", DAYS, 5, from_width=108, look="muted"),
        Column("Keeps", "shelf_life_days", DAYS, from_width=124, look="muted"),
        Column("Value", "value_minor", MONEY, 10, from_width=96),
        Column("Caution", "hazard", width=20, grow=3, from_width=154, look="warning"),
    ),
    key="consumable_id",
    empty="Nothing yet.",
)
MOVEMENTS = Table[MovementLine](
    "movements",
    "Movements",
    (
        Column("When", "at_us", INSTANT, look="muted"),
        Column("What", moved_words, width=14, grow=3),
        Column("Who", "person", width=10, from_width=88, look="muted"),
        Column(
            "Amount",
            lambda one: Amount(one.quantity, one.base_unit, signed=True),
            QUANTITY,
            12,
            look=lambda one: "good" if one.quantity > 0 else "",
        ),
        Column("Balance", lambda one: Amount(one.balance, one.base_unit), QUANTITY, 12),
        Column("Cost", "cost_minor", MONEY, 10, from_width=88, look="muted"),
        Column("Expires", "expires_on", DAY, from_width=100, look="muted"),
    ),
    key="movement_id",
    empty="No movement yet.",
)
TAKEN = Table[UnitIssue](
    "consumables",
    "Consumables",
    (
        Column("When", "at_us", INSTANT, look="muted"),
        Column("Consumable", "name", width=14, grow=2),
        Column("Task", "task", width=12, grow=2, from_width=90, look="muted"),
        Column("Who", "person", grow=1, from_width=74, look="muted"),
        Column("Amount", lambda one: Amount(-one.quantity, one.base_unit), QUANTITY),
        Column("Cost", lambda one: -one.cost_minor, MONEY),
    ),
    key="movement_id",
    empty="Nothing taken yet.",
)
