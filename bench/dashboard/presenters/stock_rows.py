"""The lines above the stock book and above one consumable's movements."""

from __future__ import annotations

from bench.dashboard.presenters.pieces import Line, Part, spread
from bench.dashboard.presenters.stock_lines import cover
from bench.domain.money import show_money
from bench.domain.quantities import short_quantity
from bench.domain.stock_levels import StockLine
from bench.domain.text import for_display
from bench.views.kinds import Context
from bench.views.stock import ConsumableHistory, StockBook


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


def history_head(history: ConsumableHistory, context: Context, width: int) -> tuple[Line, ...]:
    """The consumable's level, when to order, what it is worth, and what can hurt."""
    line = history.line
    unit = line.base_unit
    left = (Part(f" {for_display(line.name)}", "strong"), Part("  "), *_marks(line))
    right = (Part(f"{short_quantity(line.on_hand, unit)} on hand ", "heading"),)
    worked_out = "" if line.reorder_fixed else ", worked out from use"
    facts = [
        f"order at {short_quantity(line.reorder_at, unit)}{worked_out}",
        f"lasts {cover(line)}",
        f"a pack holds {short_quantity(line.pack, unit)}",
        f"delivery {line.lead_days} d",
        f"worth {show_money(line.value_minor, history.currency)}, oldest receipt first",
    ]
    if line.shelf_life_days is not None:
        facts.append(f"keeps {line.shelf_life_days} d")
    if line.next_expiry is not None:
        facts.append(f"next expiry {context.day(line.next_expiry)}")
    lines: list[Line] = [spread(left, right, width)]
    lines += [(Part(f" {text}", "muted"),) for text in _packed(facts, width - 2)]
    if line.hazard:
        lines.append((Part(f" {for_display(line.hazard)}", "warning"),))
    return tuple(lines)


def _marks(line: StockLine) -> tuple[Part, ...]:
    marks: list[Part] = []
    if line.on_hand <= 0:
        marks.append(Part("↓ NONE ", "loud"))
    elif line.low:
        marks.append(Part("↓ LOW ", "alert"))
    if line.expired:
        marks.append(Part(f"! {short_quantity(line.expired, line.base_unit)} EXPIRED ", "warning"))
    return tuple(marks)


def _packed(facts: list[str], width: int) -> list[str]:
    """The facts, as many to a line as fit, with a dot between."""
    lines: list[str] = []
    for fact in facts:
        if lines and len(lines[-1]) + 3 + len(fact) <= width:
            lines[-1] += f" · {fact}"
        else:
            lines.append(fact)
    return lines
