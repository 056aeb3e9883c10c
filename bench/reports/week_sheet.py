"""The week sheet: one ISO week's hours and what it earned as text, CSV and JSON, the same facts in all three.

The CSV is one table; `row` says what a line is (total, day, stage, person, earlier, sold, repairs, estimate,
entry) and which of the other cells it fills. Lines of the kinds day, stage, person and entry each add up to
the total's hours, those of the kind sold to its margin; their hours are all that a unit ever took.
"""

from __future__ import annotations

from collections.abc import Iterator

from bench.domain.localtime import day_and_time, day_name
from bench.domain.money import show_money
from bench.domain.weeks import local_day
from bench.reports.plain_tables import one_line, sections, table, told, under
from bench.reports.plain_values import Facts, csv_text, facts_of, json_text, length
from bench.reports.record_keys import columns_of
from bench.views.entries import EntryLine
from bench.views.hours import DayHours
from bench.views.kinds import context_of
from bench.views.tables import week as tables
from bench.views.tables.entries import ENTRIES
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


def _hours(hands_on_us: int, machine_us: int) -> Facts:
    return length("hands_on_us", hands_on_us) | length("machine_us", machine_us)


def _repairs(sheet: WeekSheet) -> Iterator[Facts]:
    done = sheet.repairs
    if done.units:
        money = {"income_minor": done.income_minor, "cost_minor": done.cost_minor}
        yield {"row": "repairs", "units": done.units, **money, "currency": sheet.currency}


def _csv_rows(sheet: WeekSheet) -> Iterator[Facts]:
    facts = facts_of(sheet, sheet.zone)
    total = {name: facts[name] for name in HEAD} | _hours(sheet.hands_on_us, sheet.machine_us)
    earned = {name: facts["earned"][name] for name in ("units", "margin_minor", "per_hour_minor")}
    yield {"row": "total", **total, **earned, "currency": sheet.currency}
    yield from ({"row": "day", **day} for day in facts["days"])
    for stage in sheet.stages:
        cells = zip(sheet.week.days(), stage.hands_on_us, stage.machine_us, strict=True)
        for date, hands_on_us, machine_us in cells:
            if hands_on_us or machine_us:
                hours = _hours(hands_on_us, machine_us)
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


def week_text(sheet: WeekSheet) -> str:
    """The week in plain text: hours by day, stage, person, earlier weeks, units sold, estimates, entries."""
    context = context_of(sheet, sheet.read_us)
    by_itself = tables.stage_days(sheet, attended=False)
    return sections(
        _head(sheet),
        under("Hours by day", told(tables.WEEK_DAYS, tables.days_of(sheet), total=tables.week_total(sheet))),
        _by_stage(sheet),
        under("Machine time, by stage", told(tables.STAGE_DAYS, by_itself)) if by_itself else "",
        under("Hours by person", told(tables.PEOPLE, tables.people_of(sheet))) if sheet.people else "",
        under(tables.WEEKS.title, told(tables.WEEKS, tables.weeks_of(sheet))),
        under(tables.SOLD.title, told(tables.SOLD, tables.sold_lines(sheet), context)) if sheet.sold else "",
        _repairs_text(sheet),
        under(
            "Estimates against tasks done in this week and the eight before",
            told(tables.ESTIMATES, sheet.estimates),
        )
        if sheet.estimates
        else "",
        under("Entries (○ machine time, * corrected)", told(ENTRIES, sheet.entries, context))
        if sheet.entries
        else "",
        "Hours are rounded one by one; CSV and JSON hold them to the microsecond.",
    )


def _head(sheet: WeekSheet) -> str:
    days = sheet.week.days()
    span = f"Week {sheet.week}, {day_name(days[0])} to {day_name(days[-1])} {days[-1].year}"
    read = f"Days by the clock of {sheet.zone}; read {day_and_time(sheet.read_us, sheet.zone)}"
    return "\n".join(map(one_line, (span, sheet.shop, read)))


def _by_stage(sheet: WeekSheet) -> str:
    stages = tables.stage_days(sheet, attended=True)
    if not stages:
        return ""
    return under("Hands-on, by stage", told(tables.STAGE_DAYS, stages, total=tables.days_total(sheet)))


def _repairs_text(sheet: WeekSheet) -> str:
    """What owners paid for repairs in the week, and what these took."""
    done, currency = sheet.repairs, sheet.currency
    if not done.units:
        return ""
    rows = [
        ("income of work", show_money(done.income_minor, currency)),
        ("parts and consumables", show_money(-done.cost_minor, currency)),
    ]
    if done.unpriced:
        rows.append(("price not typed", ", ".join(done.unpriced)))
    return under("Owners' machines handed back", table((f"{done.units} repaired", ""), rows))
