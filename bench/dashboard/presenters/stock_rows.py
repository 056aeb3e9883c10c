"""The stock book and one consumable's movements as rows."""

from __future__ import annotations

from bench.dashboard.presenters.parts import Line, Part, spread
from bench.dashboard.presenters.rows import Bar, Column, Row, cell
from bench.dashboard.presenters.stock_lines import cover
from bench.domain.localtime import day_and_time
from bench.domain.money import show_money
from bench.domain.quantities import show_quantity
from bench.domain.stock_levels import StockLine
from bench.domain.text import for_display
from bench.views.stock import ConsumableHistory, MovementLine, StockBook

STOCK_COLUMNS = (
    Column("Consumable", 16, grow=2),
    Column("", 6),
    Column("Level", 8, grow=1, from_width=74),
    Column("On hand", 11, right=True),
    Column("Order at", 12, right=True, from_width=84),
    Column("Lasts", 7, right=True),
    Column("Pack", 10, right=True, from_width=96),
    Column("Lead", 5, right=True, from_width=108),
    Column("Keeps", 7, right=True, from_width=124),
    Column("Value", 13, right=True, from_width=100),
    Column("Caution", 20, grow=3, from_width=150),
)
MOVEMENT_COLUMNS = (
    Column("When", 16),
    Column("What", 14, grow=3),
    Column("Who", 10, from_width=84),
    Column("Amount", 12, right=True),
    Column("Balance", 12, right=True),
    Column("Cost", 13, right=True, from_width=84),
    Column("Expires", 10, from_width=100),
)
KINDS = {"receipt": "delivery", "issue": "taken", "count": "count", "reversal": "taken back"}


def stock_rows(book: StockBook) -> tuple[Row, ...]:
    """Every consumable; the key is its number."""
    return tuple(stock_row(line, book.currency) for line in book.lines)


def stock_row(line: StockLine, currency: str) -> Row:
    """One consumable: level, reorder point, how long it lasts, pack, delivery, shelf life, value."""

    def amount(quantity: int) -> str:
        return show_quantity(quantity, line.base_unit)

    keeps = "–" if line.shelf_life_days is None else f"{line.shelf_life_days} d"
    return Row(
        line.consumable_id,
        (
            cell(line.name),
            _mark(line),
            Bar(line.on_hand, line.full, "alert" if line.low else "good", shaded=True),
            cell(amount(line.on_hand)),
            cell(amount(line.reorder_at) + ("" if line.reorder_fixed else " ~"), "muted"),
            cell(cover(line), "muted"),
            cell(amount(line.pack), "muted"),
            cell(f"{line.lead_days} d", "muted"),
            cell(keeps, "muted"),
            cell(show_money(line.value_minor, currency)),
            cell(line.hazard, "warning"),
        ),
    )


def stock_head(book: StockBook, width: int) -> tuple[Line, ...]:
    """How many are low, and what is on the shelf."""
    low = sum(line.low for line in book.lines)
    left = (
        Part(" Stock", "strong"),
        Part(f"  {low} low", "alert") if low else Part("  none low", "muted"),
        Part("   ~ worked out from use", "muted"),
    )
    value = show_money(sum(line.value_minor for line in book.lines), book.currency)
    return (spread(left, (Part(f"on the shelf: {value} ", "heading"),), width),)


def movement_rows(history: ConsumableHistory) -> tuple[Row, ...]:
    """The movements, newest first; the key is the movement's number."""
    unit, currency, zone = history.line.base_unit, history.currency, history.zone
    return tuple(
        Row(
            line.movement_id,
            (
                cell(day_and_time(line.at_us, zone), "muted"),
                cell(_what(line)),
                cell(line.person, "muted"),
                cell(_signed(line.quantity, unit), "good" if line.quantity > 0 else ""),
                cell(show_quantity(line.balance, unit)),
                cell(show_money(line.cost_minor, currency), "muted"),
                cell(line.expires_on.isoformat() if line.expires_on else "", "muted"),
            ),
        )
        for line in history.movements
    )


def history_head(history: ConsumableHistory, width: int) -> tuple[Line, ...]:
    """The consumable's level, when to order, what it is worth, and what can hurt."""
    line = history.line
    unit = line.base_unit
    left = (Part(f" {for_display(line.name)}", "strong"), Part("  "), *_marks(line))
    right = (Part(f"{show_quantity(line.on_hand, unit)} on hand ", "heading"),)
    worked_out = "" if line.reorder_fixed else ", worked out from use"
    facts = [
        f"order at {show_quantity(line.reorder_at, unit)}{worked_out}",
        f"lasts {cover(line)}",
        f"a pack holds {show_quantity(line.pack, unit)}",
        f"delivery {line.lead_days} d",
        f"worth {show_money(line.value_minor, history.currency)}, oldest receipt first",
    ]
    if line.shelf_life_days is not None:
        facts.append(f"keeps {line.shelf_life_days} d")
    if line.next_expiry is not None:
        facts.append(f"next expiry {line.next_expiry.isoformat()}")
    lines: list[Line] = [spread(left, right, width)]
    lines += [(Part(f" {text}", "muted"),) for text in _packed(facts, width - 2)]
    if line.hazard:
        lines.append((Part(f" {for_display(line.hazard)}", "warning"),))
    return tuple(lines)


def _mark(line: StockLine) -> Part:
    marks = _marks(line)
    if not marks:
        return Part("")
    return Part(" ".join(marks[0].text.split()[:2]), marks[0].look)


def _marks(line: StockLine) -> tuple[Part, ...]:
    marks: list[Part] = []
    if line.on_hand <= 0:
        marks.append(Part("↓ NONE ", "loud"))
    elif line.low:
        marks.append(Part("↓ LOW ", "alert"))
    if line.expired:
        marks.append(Part(f"! OLD {show_quantity(line.expired, line.base_unit)} expired ", "warning"))
    return tuple(marks)


def _what(line: MovementLine) -> str:
    words = KINDS.get(line.kind, line.kind)
    if line.tag:
        words = f"{line.tag} {line.task}" + (f" ({words})" if line.kind != "issue" else "")
    if line.supplier:
        words += f" from {line.supplier}"
    return f"{words} ({line.reason})" if line.reason else words


def _signed(quantity: int, unit: str) -> str:
    return f"{'+' if quantity > 0 else ''}{show_quantity(quantity, unit)}"


def _packed(facts: list[str], width: int) -> list[str]:
    """The facts, as many to a line as fit, with a dot between."""
    lines: list[str] = []
    for fact in facts:
        if lines and len(lines[-1]) + 3 + len(fact) <= width:
            lines[-1] += f" · {fact}"
        else:
            lines.append(fact)
    return lines
