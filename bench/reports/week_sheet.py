"""The week sheet: one ISO week's hours and what it earned as text, CSV and JSON, the same facts in all three.

The CSV is one table; `row` says what a line is (total, day, stage, person, earlier, sold, repairs, estimate,
entry) and which of the other cells it fills. Lines of the kinds day, stage, person and entry each add up to
the total's hours, those of the kind sold to its margin; their hours are all that a unit ever took.
"""

from __future__ import annotations

from collections.abc import Iterator

from bench.domain.weeks import local_day
from bench.reports.plain_values import Facts, csv_text, facts_of, json_text, length
from bench.reports.record_keys import columns_of
from bench.reports.week_paper import week_text as week_text
from bench.views.entries import EntryLine
from bench.views.hours import DayHours
from bench.views.week import TaskEstimate, WeekSheet

HEAD = ("shop", "zone", "read_us", "read_local")
CSV_COLUMNS = tuple(
    dict.fromkeys(
        (
            *("row", "week", "day", "stage", "person", "tag", "task"),
            *columns_of(DayHours, TaskEstimate, EntryLine),
            *(
                "model",
                "units",
                "margin_minor",
                "per_hour_minor",
                "income_minor",
                "cost_minor",
                "currency",
                *HEAD,
            ),
        )
    )
)


def week_csv(sheet: WeekSheet) -> str:
    """The week as one table; see the head of this file for how its lines are told apart."""
    week = {"week": str(sheet.week)}
    return csv_text(CSV_COLUMNS, ({**week, **row} for row in _csv_rows(sheet)))


def week_json(sheet: WeekSheet) -> str:
    """The week as a JSON document."""
    facts = facts_of(sheet, sheet.zone)
    for line, entry in zip(facts["entries"], sheet.entries, strict=True):
        line.update(length("in_week_us", sheet.in_week_us(entry)))
    return json_text("week", facts)


def _hours(attended_us: int, unattended_us: int) -> Facts:
    return length("attended_us", attended_us) | length("unattended_us", unattended_us)


def _repairs(sheet: WeekSheet) -> Iterator[Facts]:
    done = sheet.repairs
    if done.units:
        money = {"income_minor": done.income_minor, "cost_minor": done.cost_minor}
        yield {"row": "repairs", "units": done.units, **money, "currency": sheet.currency}


def _csv_rows(sheet: WeekSheet) -> Iterator[Facts]:
    facts = facts_of(sheet, sheet.zone)
    total = {name: facts[name] for name in HEAD} | _hours(sheet.attended_us, sheet.unattended_us)
    earned = {name: facts["earned"][name] for name in ("units", "margin_minor", "per_hour_minor")}
    yield {"row": "total", **total, **earned, "currency": sheet.currency}
    yield from ({"row": "day", **day} for day in facts["days"])
    for stage in sheet.stages:
        cells = zip(sheet.week.days(), stage.attended_us, stage.unattended_us, strict=True)
        for date, attended_us, unattended_us in cells:
            if attended_us or unattended_us:
                hours = _hours(attended_us, unattended_us)
                yield {"row": "stage", "day": date, "stage": stage.stage, **hours}
    yield from ({"row": "person", **person} for person in facts["people"])
    yield from ({"row": "earlier", **week} for week in facts["earlier"])
    for sold, one in zip(facts["sold"], sheet.sold, strict=True):
        yield {"row": "sold", "day": one.sold_on, **sold, "currency": sheet.currency}
    yield from _repairs(sheet)
    yield from ({"row": "estimate", **line} for line in facts["estimates"])
    for entry in sheet.entries:
        us = sheet.in_week_us(entry)
        hours = _hours(us, 0) if entry.attended else _hours(0, us)
        started_on = local_day(entry.started_us, sheet.zone)
        yield {"row": "entry", "day": started_on, **facts_of(entry, sheet.zone), **hours}
