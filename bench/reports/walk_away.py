"""The walk-away price as text and JSON: the sum line by line, what each line rests on, how sure it is."""

from __future__ import annotations

from collections.abc import Sequence

from bench.domain.money import NOT_TYPED, money_or, show_money
from bench.domain.percent import show_percent
from bench.domain.price_sheet import PriceRows, PriceSheet
from bench.domain.unit_money import MoneyLine, total
from bench.reports.plain_tables import noted, one_line, sections, table, told, under, wrapped
from bench.reports.plain_values import facts_of, json_text
from bench.views.kinds import context_of
from bench.views.tables.offers import BEHIND


def price_text(sheet: PriceSheet) -> str:
    """Both prices, the sum at the median time, and what the careful one takes more."""
    answer, currency = sheet.answer, sheet.currency
    careful = answer.careful_lines if answer.careful_lines != answer.lines else ()
    head = [f"Walk away above {show_money(answer.price_minor, currency)}"]
    if careful:
        price = show_money(answer.careful_price_minor, currency)
        head.append(f"Careful, by the 80th percentile of time: {price}")
    if sheet.risk.price_minor is not None:
        head.append(
            f"With at most {show_percent(sheet.risk.chance_per_10000)} chance of a loss: "
            f"{show_money(sheet.risk.price_minor, currency)}"
        )
    if total(answer.lines) < 0:
        head.append("The sum is below zero: it pays at no price.")
    if sheet.over_minor is not None and sheet.asking_minor is not None:
        asked, over = show_money(sheet.asking_minor, currency), show_money(abs(sheet.over_minor), currency)
        where = "above" if sheet.over_minor > 0 else "under"
        head.append(f"Asked: {asked}, {over} {where} it.")
    return sections(
        one_line(f"Route: {sheet.route or 'none chosen'}; channel: {sheet.channel or 'none chosen'}"),
        "\n".join(head),
        money_table(answer.lines, currency, "left to pay"),
        under("Careful", money_table(careful, currency, "left to pay")) if careful else "",
        "\n".join(wrapped(doubt) for doubt in sheet.doubts),
    )


def price_json(sheet: PriceSheet) -> str:
    """The walk-away price as a JSON document."""
    return json_text("walk_away", facts_of(sheet, "UTC"))  # it holds no instant


def price_rows_text(rows: PriceRows) -> str:
    """The rows behind one line."""
    return sections(under(rows.title, told(BEHIND, rows.rows, context_of(rows))))


def money_table(lines: Sequence[MoneyLine], currency: str, sum_words: str) -> str:
    """Lines of a sum with their notes beneath, and the sum itself."""
    rows = [(line.words, money_or(line.amount_minor, currency, NOT_TYPED)) for line in lines]
    known = all(line.amount_minor is not None for line in lines)
    told = show_money(total(lines), currency)
    rows.append((sum_words, told if known else f"{told}, not all typed"))
    return noted(table(("", ""), rows), [*(line.note for line in lines), ""]).lstrip("\n")
