"""The walk-away price as text and JSON: the sum line by line, what each line rests on, how sure it is."""

from __future__ import annotations

from bench.domain.money import show_money
from bench.domain.percent import show_percent
from bench.domain.price_sheet import PriceRows, PriceSheet
from bench.domain.unit_money import total
from bench.reports.plain_tables import one_line, sections, told, under, wrapped
from bench.reports.plain_values import facts_of, json_text
from bench.views.kinds import context_of
from bench.views.tables.offers import BEHIND, SUM, price_lines


def price_text(sheet: PriceSheet) -> str:
    """The price, the sum at the median time and at the careful one, and how sure it is."""
    answer, currency = sheet.answer, sheet.currency
    head = [f"Walk away above {show_money(answer.price_minor, currency)}"]
    if sheet.risk.price_minor is not None:
        head.append(
            f"With at most {show_percent(sheet.risk.chance_per_10000)} chance of a loss: "
            f"{show_money(sheet.risk.price_minor, currency)}"
        )
    if total(answer.lines) < 0:
        head.append("The sum is below zero: it pays at no price.")
    if sheet.asking_minor is not None:
        head.append(f"Asked: {show_money(sheet.asking_minor, currency)}")
    return sections(
        one_line(f"Route: {sheet.route or 'none chosen'}; channel: {sheet.channel or 'none chosen'}"),
        "\n".join(head),
        told(SUM, price_lines(sheet), context_of(sheet)),
        "\n".join(wrapped(doubt) for doubt in sheet.doubts),
    )


def price_json(sheet: PriceSheet) -> str:
    """The walk-away price as a JSON document."""
    return json_text("walk_away", facts_of(sheet, "UTC"))  # it holds no instant


def price_rows_text(rows: PriceRows) -> str:
    """The rows behind one line."""
    return sections(under(rows.title, told(BEHIND, rows.rows, context_of(rows))))
