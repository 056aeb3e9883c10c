"""The stock book as text, CSV and JSON; and one consumable opened, with the movements behind its level."""

from __future__ import annotations

from bench.domain.money import show_money
from bench.domain.quantities import plain_number, show_quantity
from bench.domain.stock_levels import StockLine
from bench.reports.plain_tables import one_line, sections, told, under, wrapped
from bench.reports.plain_values import csv_text, facts_of, json_text
from bench.reports.record_keys import columns_of
from bench.views.kinds import context_of
from bench.views.stock import ConsumableHistory, MovementLine, StockBook
from bench.views.tables.stock import MOVEMENTS, STOCK

STOCK_COLUMNS = (*columns_of(StockLine), "currency")
HISTORY_COLUMNS = ("consumable_id", "name", *columns_of(MovementLine), "currency")

_NO_INSTANTS = "UTC"  # a stock book holds no times of day to be shown in a zone


def stock_text(book: StockBook) -> str:
    """Levels, reorder points and days of cover, low ones first."""
    total = show_money(sum(line.value_minor for line in book.lines), book.currency)
    warnings = [
        wrapped(f"{line.name}: {words}", indent=2) for line in book.lines if (words := _warnings(line))
    ]
    levels = told(STOCK, book.lines, context_of(book))
    return sections("Stock", levels, f"Stock on hand cost {total}.", "\n".join(warnings))


def stock_csv(book: StockBook) -> str:
    """One line a consumable."""
    rows = (facts_of(line, _NO_INSTANTS) | {"currency": book.currency} for line in book.lines)
    return csv_text(STOCK_COLUMNS, rows)


def stock_json(book: StockBook) -> str:
    """The stock book as a JSON document."""
    return json_text("stock", facts_of(book, _NO_INSTANTS))


def history_text(history: ConsumableHistory) -> str:
    """One consumable's level and movements, newest first."""
    line = history.line
    level = (
        f"On hand {show_quantity(line.on_hand, line.base_unit)}, reorder at {plain_number(line.reorder_at)}, "
        f"packs of {plain_number(line.pack)}, {line.lead_days} days to deliver"
    )
    movements = told(MOVEMENTS, history.movements, context_of(history))
    if history.movements:
        movements = under(MOVEMENTS.title, movements)
    warnings = _warnings(line)
    return sections(one_line(line.name), wrapped(level), wrapped(warnings) if warnings else "", movements)


def history_csv(history: ConsumableHistory) -> str:
    """One line a movement, newest first."""
    line = history.line
    shared = {
        "consumable_id": line.consumable_id,
        "name": line.name,
        "base_unit": line.base_unit,
        "currency": history.currency,
    }
    return csv_text(HISTORY_COLUMNS, (facts_of(one, history.zone) | shared for one in history.movements))


def history_json(history: ConsumableHistory) -> str:
    """One consumable opened, as a JSON document."""
    return json_text("consumable", facts_of(history, history.zone))


def _warnings(line: StockLine) -> str:
    words = []
    if line.low:
        packs = "pack" if line.suggest_packs == 1 else "packs"
        words.append(f"at or below its reorder point, {line.suggest_packs} {packs} suggested")
    if line.on_order:
        due = f", due {line.order_due.isoformat()}" if line.order_due else ""
        words.append(f"{show_quantity(line.on_order, line.base_unit)} on order{due}")
    if line.expired:
        words.append(f"{show_quantity(line.expired, line.base_unit)} past its date")
    if line.next_expiry is not None:
        words.append(f"next to expire on {line.next_expiry.isoformat()}")
    if line.hazard:
        words.append(line.hazard)
    return "; ".join(words)
