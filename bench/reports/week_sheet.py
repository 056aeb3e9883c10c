"""The week sheet: one ISO week's hours and what it earned as text, CSV and JSON, the same facts in all three.

The CSV is one table; `row` says what a line is (total, day, stage, person, earlier, sold, repairs, estimate,
entry) and which of the other cells it fills. Lines of the kinds day, stage, person and entry each add up to
the total's hours, those of the kind sold to its margin; their hours are all that a unit ever took.
"""

from __future__ import annotations

from collections.abc import Iterator

from bench.domain.earned import Earned
from bench.domain.localtime import iso_local
from bench.domain.weeks import local_day
from bench.reports.plain_values import Facts, csv_text, facts_of, json_text, length
from bench.reports.week_paper import week_text as week_text
from bench.views.week import WeekSheet

CSV_COLUMNS = (
    *("row", "week", "day", "stage", "person", "tag", "task"),
    *("attended_us", "attended_minutes", "unattended_us", "unattended_minutes"),
    *("count", "estimate_minutes", "median_us", "median_minutes", "p80_us", "p80_minutes"),
    *("week_us", "week_minutes", "entry_id", "task_id", "unit_id", "person_id"),
    *("started_us", "started_local", "stopped_us", "stopped_local", "corrected"),
    *("model", "units", "margin_minor", "per_hour_minor", "income_minor", "cost_minor", "currency"),
    *("shop", "zone", "read_us", "read_local"),
)


def week_csv(sheet: WeekSheet) -> str:
    """The week as one table; see the head of this file for how its lines are told apart."""
    week = {"week": str(sheet.week)}
    return csv_text(CSV_COLUMNS, ({**week, **row} for row in _csv_rows(sheet)))


def week_json(sheet: WeekSheet) -> str:
    """The week as a JSON document."""
    facts = facts_of(sheet, sheet.zone)
    facts |= _hours(sheet.attended_us, sheet.unattended_us)
    facts["earned"] = _earned(sheet.earned)
    for line, sold in zip(facts["sold"], sheet.sold, strict=True):
        line["margin_at_most_minor"] = sold.margin_minor
        line["margin_minor"] = None if sold.missing else sold.margin_minor
        line["per_hour_minor"] = None if sold.missing else sold.per_hour_minor
    for line, entry in zip(facts["entries"], sheet.entries, strict=True):
        line.update(length("in_week_us", sheet.in_week_us(entry)))
    return json_text("week", facts)


def _hours(attended_us: int, unattended_us: int) -> Facts:
    return length("attended_us", attended_us) | length("unattended_us", unattended_us)


def _earned(total: Earned) -> Facts:
    return {
        "units": total.units,
        "margin_minor": None if total.incomplete else total.margin_minor,
        "margin_at_most_minor": total.margin_minor,
        "incomplete": total.incomplete,
        **length("attended_us", total.attended_us),
        "per_hour_minor": None if total.incomplete else total.per_hour_minor,
        "per_spent_hour_minor": None if total.incomplete else total.per_spent_hour_minor,
    }


def _sold(sheet: WeekSheet) -> Iterator[Facts]:
    for sold in sheet.sold:
        rate: Facts = {"per_hour_minor": sold.per_hour_minor, "currency": sheet.currency}
        if sold.missing:
            rate |= {"margin_minor": None, "per_hour_minor": None}
        yield {"row": "sold", "day": sold.sold_on, **facts_of(sold, sheet.zone), **rate}


def _repairs(sheet: WeekSheet) -> Iterator[Facts]:
    done = sheet.repairs
    if done.units:
        money = {"income_minor": done.income_minor, "cost_minor": done.cost_minor}
        yield {"row": "repairs", "units": done.units, **money, "currency": sheet.currency}


def _csv_rows(sheet: WeekSheet) -> Iterator[Facts]:
    yield {
        "row": "total",
        "shop": sheet.shop,
        "zone": sheet.zone,
        "read_us": sheet.read_us,
        "read_local": iso_local(sheet.read_us, sheet.zone),
        **_hours(sheet.attended_us, sheet.unattended_us),
        "units": sheet.earned.units,
        "margin_minor": None if sheet.earned.incomplete else sheet.earned.margin_minor,
        "per_hour_minor": None if sheet.earned.incomplete else sheet.earned.per_hour_minor,
        "currency": sheet.currency,
    }
    for day in sheet.days:
        yield {"row": "day", "day": day.day, **_hours(day.attended_us, day.unattended_us)}
    for stage in sheet.stages:
        cells = zip(sheet.week.days(), stage.attended_us, stage.unattended_us, strict=True)
        for date, attended_us, unattended_us in cells:
            if attended_us or unattended_us:
                hours = _hours(attended_us, unattended_us)
                yield {"row": "stage", "day": date, "stage": stage.stage, **hours}
    for person in sheet.people:
        yield {"row": "person", **facts_of(person, sheet.zone)}
    for total in sheet.earlier:
        yield {"row": "earlier", "week": total.week, **_hours(total.attended_us, total.unattended_us)}
    yield from _sold(sheet)
    yield from _repairs(sheet)
    for estimate in sheet.estimates:
        yield {"row": "estimate", **facts_of(estimate, sheet.zone)}
    for entry in sheet.entries:
        us = sheet.in_week_us(entry)
        hours = _hours(us, 0) if entry.attended else _hours(0, us)
        started_on = local_day(entry.started_us, sheet.zone)
        yield {"row": "entry", "day": started_on, **facts_of(entry, sheet.zone), **hours}
