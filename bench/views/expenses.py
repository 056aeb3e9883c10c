"""General expenses and income: each on its day, and what a category came to in a span."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from datetime import date

from bench.desk import Desk
from bench.domain.amounts import Instant, Minor
from bench.domain.expenses import USUAL, ExpenseLine
from bench.domain.spans import Span
from bench.domain.weeks import local_day
from bench.views.binder import Query
from bench.views.ledger import GENERAL_LINES
from bench.views.shop import facts


@dataclass(frozen=True, slots=True)
class GeneralTotal:
    """A category of a span. `amount_minor`: below 0 where more was spent than earned; `rows`: how many."""

    category: str
    income: bool
    amount_minor: Minor
    rows: int


@dataclass(frozen=True, slots=True)
class ExpenseBook:
    """The expenses and income of a span, the newest first. `category`: of one alone; nothing: all.

    `by_category`: what each of the span came to, income first, then the most spent.
    """

    span: Span
    first: date
    last: date
    category: str
    lines: tuple[ExpenseLine, ...]
    by_category: tuple[GeneralTotal, ...]
    currency: str
    zone: str
    read_us: Instant

    @property
    def total_minor(self) -> Minor:
        """What the lines come to."""
        return sum(line.amount_minor for line in self.lines)

    @property
    def categories(self) -> tuple[str, ...]:
        """The categories to choose from: those of the span, then those that are usual."""
        used = [one.category for one in self.by_category]
        return tuple(dict.fromkeys((*used, *(word for words in USUAL.values() for word in words))))


_LINES = Query(
    ExpenseLine,
    "WITH "
    + GENERAL_LINES
    + """
SELECT general.row_id AS expense_id, general.day, expense.side, general.category, general.amount_minor,
       expense.party, expense.note, expense.tax_per_10000
FROM general JOIN expense ON expense.id = general.row_id
WHERE :category = '' OR general.category = :category ORDER BY general.day DESC, general.row_id DESC
""",
)
_SUMS = Query(
    GeneralTotal,
    "WITH "
    + GENERAL_LINES
    + """
SELECT category, income, SUM(amount_minor) AS amount_minor, COUNT(*) AS rows
FROM general GROUP BY category, income ORDER BY income DESC, ABS(SUM(amount_minor)) DESC, category
""",
)
_ONE = Query(
    ExpenseLine,
    "WITH "
    + GENERAL_LINES
    + """
SELECT general.row_id AS expense_id, general.day, expense.side, general.category, general.amount_minor,
       expense.party, expense.note, expense.tax_per_10000
FROM general JOIN expense ON expense.id = general.row_id WHERE general.row_id = :id
""",
)


def read_expenses(desk: Desk, span: Span | None = None, category: str = "") -> ExpenseBook:
    """The expenses and income of a month or a year; without one, of the month it is now."""
    now_us = desk.clock.now_us()
    with desk.store.read() as connection:
        shop = facts(connection)
        asked = span or Span.month_of(local_day(now_us, shop.zone))
        days = {"first": asked.first.isoformat(), "last": asked.last.isoformat()}
        return ExpenseBook(
            span=asked,
            first=asked.first,
            last=asked.last,
            category=category,
            lines=_LINES.all(connection, **days, category=category),
            by_category=general_totals(connection, asked.first, asked.last),
            currency=shop.currency,
            zone=shop.zone,
            read_us=now_us,
        )


def read_expense(desk: Desk, expense_id: int) -> ExpenseLine | None:
    """One of them, on whatever day; None where there is none of that number."""
    with desk.store.read() as connection:
        return _ONE.first(connection, id=expense_id, first="", last="9999-12-31")


def general_totals(connection: sqlite3.Connection, first: date, last: date) -> tuple[GeneralTotal, ...]:
    """What each category came to from one day to another."""
    return _SUMS.all(connection, first=first.isoformat(), last=last.isoformat())
