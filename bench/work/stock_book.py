"""The stock opened: every consumable's level, the movements behind one. Light: the first paint reads it."""

from __future__ import annotations

import sqlite3
from datetime import timedelta

from bench.domain.stock_book import ConsumableHistory, StockBook, StockLine
from bench.domain.stock_levels import LOOK_BACK_DAYS, Level, stock_line
from bench.domain.weeks import day_bounds_us, local_day
from bench.errors import NotFound
from bench.store.reads import stock as reads
from bench.work.desk import Desk

MOST_MOVEMENTS = 500


def read_stock(desk: Desk) -> StockBook:
    """Every consumable: level, cover, expiry; low ones first, then by name."""
    with desk.store.read() as connection:
        currency, _ = reads.money_and_zone(connection)
        lines = stock_lines(connection, desk.clock.now_us())
    lines.sort(key=lambda line: (not line.low, line.name.casefold(), line.consumable_id))
    return StockBook(tuple(lines), currency)


def read_history(desk: Desk, consumable_id: int) -> ConsumableHistory:
    """One consumable's level and its newest movements; NotFound when there is none of that number."""
    with desk.store.read() as connection:
        currency, zone = reads.money_and_zone(connection)
        lines = stock_lines(connection, desk.clock.now_us(), consumable_id)
        movements = reads.movements(connection, consumable_id, MOST_MOVEMENTS)
    if not lines:
        raise NotFound(
            f"There is no consumable with number {consumable_id}.",
            "Look it up again; it may have been removed.",
        )
    return ConsumableHistory(lines[0], currency, zone, movements)


def stock_lines(
    connection: sqlite3.Connection, now_us: int, consumable_id: int | None = None
) -> list[StockLine]:
    """The lines of every consumable, or of one, in four statements however many there are."""
    _, zone = reads.money_and_zone(connection)
    today = local_day(now_us, zone)
    days = [today - timedelta(days=back) for back in range(LOOK_BACK_DAYS)]
    used = reads.daily_use(connection, [day_bounds_us(day, zone) for day in days], consumable_id)
    left = reads.layers(connection, zone, consumable_id)
    lines = []
    for level in reads.levels(connection, consumable_id):
        by_day = used.get(level.consumable_id, {})
        daily = [by_day.get(back, 0) for back in range(_days_known(level, now_us, zone))]
        lines.append(stock_line(level, daily, left.get(level.consumable_id, ()), today))
    return lines


def _days_known(level: Level, now_us: int, zone: str) -> int:
    """Over how many days, today included, its use is known: eight weeks, or since its first movement."""
    if level.first_us is None:
        return 0
    age = (local_day(now_us, zone) - local_day(level.first_us, zone)).days + 1
    return max(1, min(LOOK_BACK_DAYS, age))
