"""A unit's money as text and JSON, and the rows behind any of its lines."""

from __future__ import annotations

from bench.domain.durations import hours_and_minutes
from bench.domain.money import show_money
from bench.domain.unit_money import UnitMoney
from bench.reports.plain_tables import one_line, sections, told, under
from bench.reports.plain_values import facts_of, json_text
from bench.views.kinds import context_of
from bench.views.money_rows import MoneyRows
from bench.views.tables.money import BEHIND, SUM, sum_parts

NOT_ADVICE = "Tax is reckoned by the shop's settings and is not advice."


def money_text(money: UnitMoney) -> str:
    """Landed cost, labour apart, what it brought, margin and break-even."""
    return sections(
        one_line(f"Unit {money.tag}, {money.model}"),
        *(under(title, told(SUM, lines)) for title, lines in sum_parts(money)),
        NOT_ADVICE if any("tax" in line.words for line in money.brought) else "",
    )


def money_json(money: UnitMoney) -> str:
    """The unit's money as a JSON document, sums included."""
    return json_text("unit_money", facts_of(money, money.zone))


def money_rows_text(rows: MoneyRows) -> str:
    """The rows behind one line of it."""
    total = show_money(rows.amount_minor, rows.currency)
    if any(row.length_us is not None for row in rows.rows):
        total = hours_and_minutes(rows.length_us)
    title = f"Unit {rows.tag}, {rows.opens}"
    body = told(BEHIND, rows.rows, context_of(rows))
    return sections(under(one_line(title), body), f"Total {total}.")


def money_rows_json(rows: MoneyRows) -> str:
    """The same rows as a JSON document."""
    return json_text("money_rows", facts_of(rows, rows.zone))
