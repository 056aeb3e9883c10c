"""A unit's money as text and JSON, and the rows behind any of its lines."""

from __future__ import annotations

from bench.domain.durations import hours_and_minutes
from bench.domain.money import at_least, at_most, show_money
from bench.domain.unit_money import UnitMoney
from bench.domain.ways_out import WORDS
from bench.reports.plain_tables import one_line, sections, told, under, wrapped
from bench.reports.plain_values import facts_of, json_text
from bench.reports.walk_away import money_table
from bench.views.kinds import context_of
from bench.views.money_rows import MoneyRows
from bench.views.tables.money import BEHIND

NOT_ADVICE = "Tax is reckoned by the shop's settings and is not advice."


def money_text(money: UnitMoney) -> str:
    """Landed cost, labour apart, what it brought, margin and break-even."""
    currency = money.currency
    brought = money_table(money.brought, currency, "brought") if money.brought else "Not sold yet."
    return sections(
        one_line(f"Unit {money.tag}, {money.model}"),
        under("Cost", money_table(money.landed, currency, "landed cost")),
        under("Brought", brought),
        "\n".join(wrapped(f"{name:<14}{value}", indent=14) for name, value in _figures(money).items()),
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


def _figures(money: UnitMoney) -> dict[str, str]:
    currency = money.currency
    attended = hours_and_minutes(money.attended_us)
    if money.after_return_us:
        attended += f", {hours_and_minutes(money.after_return_us)} of it after a return"
    rate = show_money(money.rate_minor_per_hour, currency)
    even = at_least(money.break_even_minor, currency, known=money.complete)
    figures = {
        "Attended": attended,
        "Labour apart": f"{show_money(money.labour_minor, currency)} at {rate} an hour",
        "Break-even": f"{even} through {money.channel}",
    }
    if money.expected_minor is not None and not money.sold:
        figures["Expected"] = show_money(money.expected_minor, currency)
    if money.missing:
        figures["Not typed"] = f"{', '.join(money.missing)}: left out of the sums"
    if money.margin_minor is not None:
        figures["Margin"] = at_most(money.margin_minor, currency, known=not money.missing)
    if money.lost_minor is not None:
        lost = at_least(money.lost_minor, currency, known=money.complete)
        figures["Lost"] = f"{lost}, {WORDS[money.way]}"
    if money.per_hour_minor is not None:
        earned = at_most(money.per_hour_minor, currency, known=money.complete)
        figures["Bench hour"] = f"{earned} margin an attended hour"
    return figures
