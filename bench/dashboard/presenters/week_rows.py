"""The week as rows: hours by stage and day, people, the weeks before, units sold, estimates."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from bench.dashboard.presenters.pieces import Line, Part, spread
from bench.dashboard.presenters.rows import Row, heading, rows_of
from bench.domain.durations import hours_and_minutes
from bench.domain.localtime import day_name
from bench.domain.money import show_money
from bench.views.entries import EntryLine
from bench.views.kinds import context_of
from bench.views.tables.week import SOLD as SOLD_UNITS
from bench.views.tables.week import (
    STAGE_DAYS,
    days_total,
    repair_lines,
    rounded_up_minutes,
    sold_lines,
    stage_days,
)
from bench.views.week import TaskEstimate, WeekSheet

ROOMY = 100  # from this width on, the head has room for the machine time
STAGE = "stage"
PERSON = "person"
TASK = "task"
SOLD = "sold"
HANDS_ON = "hands-on at stage"
ALONE = "machine time at stage"
Filter = tuple[str, str]


def week_head(sheet: WeekSheet, width: int) -> tuple[Line, ...]:
    """Which week, from when to when, its hours and what an hour on the units sold in it earned."""
    days = sheet.week.days()
    span = f"{day_name(days[0])} to {day_name(days[-1])} {days[-1].year}"
    hands, alone = hours_and_minutes(sheet.hands_on_us), hours_and_minutes(sheet.machine_us)
    rate = sheet.earned.per_hour_minor
    left = (Part(f" Week {sheet.week}", "strong"), Part(f"  {span}", "muted"))
    right = [Part(f"{hands} hands-on", "heading")]
    if rate is not None:
        earned = f"{sheet.earned.units} sold, {show_money(rate, sheet.currency)} per hour"
        right = [Part(earned, "heading"), Part(", "), *right]
    if width >= ROOMY:
        right.append(Part(f", {alone} machine time", "muted"))
    return (spread(left, (*right, Part(" ")), width),)


def hour_rows(sheet: WeekSheet) -> tuple[Row, ...]:
    """Hours of each stage on each day, hands-on first; the key is ("stage", hands on or not, name)."""
    alone = stage_days(sheet, attended=False)
    hands = _keyed("hands", rows_of(STAGE_DAYS, stage_days(sheet, attended=True)))
    (total,) = rows_of(STAGE_DAYS, [days_total(sheet)])
    rows = [heading("hands", "Hands-on"), *hands, replace(total, key=(STAGE, "hands", ""), total=True)]
    if alone:
        rows += [heading("alone", "Machine time"), *_keyed("alone", rows_of(STAGE_DAYS, alone))]
    return tuple(rows)


def _keyed(hands: str, rows: Iterable[Row]) -> list[Row]:
    return [replace(row, key=(STAGE, hands, row.key)) for row in rows]


def keyed(kind: str, rows: Iterable[Row]) -> tuple[Row, ...]:
    """The rows with what kind of figure they are before their keys."""
    return tuple(replace(row, key=(kind, row.key)) for row in rows)


def sold_rows(sheet: WeekSheet) -> tuple[Row, ...]:
    """The units sold, each with its margin, then what they and the repairs come to."""
    told = rows_of(SOLD_UNITS, [*sold_lines(sheet), *repair_lines(sheet)], context_of(sheet))
    return keyed(SOLD, (replace(row, total=not isinstance(row.key, int)) for row in told))


def filter_of(key: tuple[str, ...]) -> Filter | None:
    """The filter that a figure's key stands for; None for the sum of all."""
    if key[0] != STAGE:
        return key[0], key[1]
    kind = HANDS_ON if key[1] == "hands" else ALONE
    return (kind, key[2]) if key[2] else None


def filtered(entries: Sequence[EntryLine], by: Filter | None) -> tuple[EntryLine, ...]:
    """The entries behind one figure; all of them for None."""
    if by is None:
        return tuple(entries)
    kind, value = by
    return tuple(entry for entry in entries if _behind(entry, kind, value))


def filter_row(by: Filter | None, key: str) -> tuple[Row, ...]:
    """The row that says which entries are seen, and the key that shows all."""
    if by is None:
        return ()
    kind, value = by
    return (heading("filter", f"Only {kind} {value}: {key} shows all"),)


def new_estimates(one: TaskEstimate) -> tuple[tuple[int, str], ...]:
    """What could be the new estimate, in minutes, with its words."""
    half, most = rounded_up_minutes(one.median_us), rounded_up_minutes(one.p80_us)
    return (
        (half, f"{half} min: 50 % of {one.count} took no longer"),
        (most, f"{most} min: 80 % of {one.count} took no longer"),
    )


def _behind(entry: EntryLine, kind: str, value: str) -> bool:
    if kind == PERSON:
        return entry.person == value
    if kind == TASK:
        return entry.task == value
    return entry.stage == value and entry.attended == (kind == HANDS_ON)
