"""A month or a year as text with bars, CSV and JSON, the same facts in all three.

The CSV is one table; `row` says what a line is (total, line, unsold, kept, general, month, route, source,
maker, tied_up, slow, used) and which of the other cells it fills. Lines of the kinds route, source and maker
each add up to the total, as those of the kind line do to its margin; with those of the kind unsold that is
the result, with those of the kind general the result after general expenses.
"""

from __future__ import annotations

from collections.abc import Iterator

from bench.domain.localtime import day_and_time
from bench.domain.money import at_least, show_money
from bench.domain.unit_money import Earned
from bench.reports.plain_tables import one_line, sections, told, under, wrapped
from bench.reports.plain_values import Facts, csv_text, facts_of, json_text
from bench.reports.record_keys import columns_of
from bench.views.kinds import context_of
from bench.views.months import RULE, MonthSheet, SlowUnit, UsedUp
from bench.views.tables.month import (
    EARNED,
    SLOWEST,
    TIED_UP,
    TOTAL,
    USED,
    earned_by,
    tied_up_total,
    total_lines,
)
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
    for kind, money in (("unsold", sheet.unsold), ("kept", sheet.kept)):
        for line in money:
            yield {"row": kind, "name": line.words, "amount_minor": line.amount_minor, "units": line.rows}
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


def month_text(sheet: MonthSheet) -> str:
    """The month or year in plain text: earned per hour, where money is tied up, slow units, consumables."""
    context = context_of(sheet)
    return sections(
        _head(sheet),
        _total(sheet),
        *(under(f"Earned by {kind}", told(EARNED, lines, context)) for kind, lines in earned_by(sheet)),
        _titled(_tied_title(sheet), told(TIED_UP, sheet.tied_up, context, total=tied_up_total(sheet))),
        _titled(SLOWEST.title, _slowest(sheet)),
        _titled(_used_title(sheet), told(USED, sheet.used, context) if sheet.used else ""),
        wrapped(RULE),
    )


def _head(sheet: MonthSheet) -> str:
    read = f"Days by the clock of {sheet.zone}; read {day_and_time(sheet.read_us, sheet.zone)}"
    return "\n".join(map(one_line, (sheet.span.words, sheet.shop, read)))


def _total(sheet: MonthSheet) -> str:
    units = f"{sheet.total.units} unit{'' if sheet.total.units == 1 else 's'} sold"
    lines = [units, told(TOTAL, total_lines(sheet), context_of(sheet))]
    if sheet.returns:
        refunds = show_money(sheet.refunds_minor, sheet.currency)
        lines.append(f"Came back in this span: {sheet.returns}, refunded {refunds}.")
    if sheet.missing:
        lines.append(wrapped(f"Not typed and left out: {'; '.join(sheet.missing)}."))
    return "\n".join(lines)


def _slowest(sheet: MonthSheet) -> str:
    if not sheet.slowest:
        return ""
    held = ["" if one.held is None else f"on hold: {one.held}" for one in sheet.slowest]
    return told(SLOWEST, sheet.slowest, context_of(sheet), notes=held)


def _tied_title(sheet: MonthSheet) -> str:
    return f"{TIED_UP.title}: {at_least(sheet.tied_up_minor, sheet.currency, known=sheet.tied_up_known)}"


def _used_title(sheet: MonthSheet) -> str:
    per_unit = sheet.used_per_unit_minor
    if per_unit is None:
        return "Consumables used"
    units = "1 unit" if sheet.used_units == 1 else f"{sheet.used_units} units"
    return f"Consumables used: {show_money(per_unit, sheet.currency)} a unit, over {units}"


def _titled(title: str, body: str) -> str:
    return under(title, body) if body else ""
