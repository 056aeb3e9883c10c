"""A month or a year as text with bars, CSV and JSON, the same facts in all three.

The CSV is one table; `row` says what a line is (total, line, unsold, kept, month, route, source, maker,
tied_up, slow, used) and which of the other cells it fills. Lines of the kinds route, source and maker each
add up to the total, as those of the kind line do to its margin; with those of the kind unsold that is the
result.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from bench.domain.earned import Earned
from bench.reports.month_paper import month_text as month_text
from bench.reports.plain_values import Facts, csv_text, facts_of, json_text
from bench.views.months import MonthSheet, UsedUp

CSV_COLUMNS = (
    *(
        "row",
        "span",
        "name",
        "units",
        "margin_minor",
        "margin_at_most_minor",
        "incomplete",
        "unpriced",
        "attended_us",
        "attended_minutes",
    ),
    *("spent_us", "spent_minutes", "per_hour_minor", "per_spent_hour_minor", "amount_minor", "landed_minor"),
    *("unit_id", "tag", "model", "stage", "held", "since_us", "since_local", "days", "estimate_minutes"),
    *("consumable_id", "base_unit", "quantity_thousandths", "cost_minor", "per_unit_thousandths"),
    *("cost_per_unit_minor", "returns", "refunds_minor", "currency", "shop", "zone", "read_us", "read_local"),
)


def month_csv(sheet: MonthSheet) -> str:
    """The month as one table; see the head of this file for how its lines are told apart."""
    shared = {"span": str(sheet.span), "currency": sheet.currency}
    return csv_text(CSV_COLUMNS, ({**shared, **row} for row in _csv_rows(sheet)))


def month_json(sheet: MonthSheet) -> str:
    """The month as a JSON document."""
    facts = facts_of(sheet, sheet.zone)
    facts["span"] = str(sheet.span)
    facts["total"] |= _rates(sheet.total)
    for kind in ("by_month", "by_route", "by_source", "by_maker"):
        for line, earned in zip(facts[kind], getattr(sheet, kind), strict=True):
            line.update(_rates(earned))
    for line, used in zip(facts["used"], sheet.used, strict=True):
        line.update(_per_unit(used))
    for name in ("result_minor", "tied_up_minor", "used_minor", "used_per_unit_minor"):
        facts[name] = getattr(sheet, name)
    facts |= {"complete": not sheet.missing and sheet.tied_up_known, "missing": sheet.missing}
    facts["tied_up_at_least_minor"] = sheet.tied_up_minor
    if sheet.missing:
        facts["result_minor"] = None
    if not sheet.tied_up_known:
        facts["tied_up_minor"] = None
    return json_text("year" if sheet.span.month is None else "month", facts)


def _rates(earned: Earned) -> Facts:
    """What follows from the margin; nothing of it is told as a sum while a cost in it was not typed."""
    if earned.incomplete:
        unknown = {"margin_minor": None, "per_hour_minor": None, "per_spent_hour_minor": None}
        return {**unknown, "margin_at_most_minor": earned.margin_minor}
    return {
        "margin_at_most_minor": earned.margin_minor,
        "per_hour_minor": earned.per_hour_minor,
        "per_spent_hour_minor": earned.per_spent_hour_minor,
    }


def _per_unit(used: UsedUp) -> Facts:
    return {"per_unit_thousandths": used.per_unit, "cost_per_unit_minor": used.cost_per_unit_minor}


def _csv_rows(sheet: MonthSheet) -> Iterator[Facts]:
    head = facts_of(sheet, sheet.zone)
    head_names = ("returns", "refunds_minor", "shop", "zone", "read_us", "read_local")
    yield from _earned_rows("total", (sheet.total,), sheet.zone, {name: head[name] for name in head_names})
    for line in sheet.lines:
        yield {"row": "line", "name": line.words, "amount_minor": line.amount_minor}
    for told, money in (("unsold", sheet.unsold), ("kept", sheet.kept)):
        for line in money:
            yield {"row": told, "name": line.words, "amount_minor": line.amount_minor, "units": line.rows}
    for row, lines in (
        ("month", sheet.by_month),
        ("route", sheet.by_route),
        ("source", sheet.by_source),
        ("maker", sheet.by_maker),
    ):
        yield from _earned_rows(row, lines, sheet.zone, {})
    for tied in sheet.tied_up:
        yield {"row": "tied_up", **facts_of(tied, sheet.zone)}
    for slow in sheet.slowest:
        yield {"row": "slow", **facts_of(slow, sheet.zone)}
    for used in sheet.used:
        yield {"row": "used", **facts_of(used, sheet.zone), **_per_unit(used)}


def _earned_rows(row: str, lines: Sequence[Earned], zone: str, more: Facts) -> Iterator[Facts]:
    for line in lines:
        yield {"row": row, **facts_of(line, zone), **_rates(line), **more}
