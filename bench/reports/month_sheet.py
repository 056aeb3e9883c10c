"""A month or a year as text with bars, CSV and JSON, the same facts in all three.

The CSV is one table; `row` says what a line is (total, line, unsold, kept, general, month, route, source,
maker, tied_up, slow, used) and which of the other cells it fills. Lines of the kinds route, source and maker
each add up to the total, as those of the kind line do to its margin; with those of the kind unsold that is
the result, with those of the kind general the result after general expenses.
"""

from __future__ import annotations

from collections.abc import Iterator

from bench.domain.earned import Earned
from bench.reports.month_paper import month_text as month_text
from bench.reports.plain_values import Facts, csv_text, facts_of, json_text
from bench.reports.record_keys import columns_of
from bench.views.months import MonthSheet, SlowUnit, UsedUp
from bench.views.tied_up import TiedUp

HEAD = ("returns", "refunds_minor", "currency", "shop", "zone", "read_us", "read_local")
CSV_COLUMNS = tuple(
    dict.fromkeys(
        ("row", "span", *columns_of(Earned), "amount_minor", *columns_of(TiedUp, SlowUnit, UsedUp), *HEAD)
    )
)


def month_csv(sheet: MonthSheet) -> str:
    """The month as one table; see the head of this file for how its lines are told apart."""
    shared = {"span": str(sheet.span), "currency": sheet.currency}
    return csv_text(CSV_COLUMNS, ({**shared, **row} for row in _csv_rows(sheet)))


def month_json(sheet: MonthSheet) -> str:
    """The month as a JSON document."""
    return json_text("year" if sheet.span.month is None else "month", facts_of(sheet, sheet.zone))


def _csv_rows(sheet: MonthSheet) -> Iterator[Facts]:
    facts = facts_of(sheet, sheet.zone)
    yield {"row": "total", **facts["total"], **{name: facts[name] for name in HEAD}}
    for line in sheet.lines:
        yield {"row": "line", "name": line.words, "amount_minor": line.amount_minor}
    for told, money in (("unsold", sheet.unsold), ("kept", sheet.kept)):
        for line in money:
            yield {"row": told, "name": line.words, "amount_minor": line.amount_minor, "units": line.rows}
    for one in sheet.general:
        yield {"row": "general", "name": one.category, "amount_minor": one.amount_minor, "units": one.rows}
    for row, lines in (
        ("month", "by_month"),
        ("route", "by_route"),
        ("source", "by_source"),
        ("maker", "by_maker"),
        ("tied_up", "tied_up"),
        ("slow", "slowest"),
        ("used", "used"),
    ):
        yield from ({"row": row, **line} for line in facts[lines])
