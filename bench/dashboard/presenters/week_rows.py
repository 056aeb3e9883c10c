"""The week as rows: hours by stage and day, people, the weeks before, units sold, estimates."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Sequence
from dataclasses import replace

from bench.dashboard.presenters.parts import Line, Part, gain_look, spread
from bench.dashboard.presenters.rows import Bar, Column, Row, cell, heading
from bench.dashboard.presenters.week_bars import DAYS, hours
from bench.domain.durations import MINUTE_US, decimal_hours, hours_and_minutes
from bench.domain.earned import Earned, SoldUnit
from bench.domain.money import at_least, at_most, money_or, show_money
from bench.views.entries import EntryLine
from bench.views.week import TaskEstimate, WeekSheet

HOUR_COLUMNS = (
    Column("Hours", 9, grow=1),
    *(Column(day, 5, right=True) for day in DAYS),
    Column("Sum", 6, right=True),
)
WEEK_COLUMNS = (
    Column("Week", 9),
    Column("", 10, grow=1),
    Column("Hands on", 8, right=True),
    Column("By itself", 9, right=True),
)
PEOPLE_COLUMNS = (
    Column("Who", 10, grow=1),
    Column("Hands on", 9, right=True),
    Column("By itself", 9, right=True),
)
ESTIMATE_COLUMNS = (
    Column("Task", 12, grow=1),
    Column("Done", 4, right=True),
    Column("Est.", 5, right=True),
    Column("Half", 5, right=True),
    Column("80 %", 5, right=True),
    Column("Week", 6, right=True, from_width=60),
)
SOLD_COLUMNS = (
    Column("Sold", 6),
    Column("Model", 8, grow=1),
    Column("Margin", 12, right=True),
    Column("Hours", 5, right=True),
    Column("An hour", 12, right=True),
)
ROOMY = 100  # from this width on, the head has room for the unattended hours
STAGE = "stage"
PERSON = "person"
TASK = "task"
SOLD = "sold"
HANDS_ON = "hands on at stage"
ALONE = "unattended at stage"
Filter = tuple[str, str]


def week_head(sheet: WeekSheet, width: int) -> tuple[Line, ...]:
    """Which week, from when to when, its hours and what an hour on the units sold in it earned."""
    days = sheet.week.days()
    span = f"{days[0].day}.{days[0].month}. to {days[-1].day}.{days[-1].month}.{days[-1].year}"
    hands, alone = hours_and_minutes(sheet.attended_us), hours_and_minutes(sheet.unattended_us)
    rate = sheet.earned.per_hour_minor
    left = (Part(f" Week {sheet.week}", "strong"), Part(f"  {span}", "muted"))
    right = [Part(f"{hands} hands on", "heading")]
    if rate is not None:
        earned = f"{sheet.earned.units} sold, {show_money(rate, sheet.currency)} an hour"
        right = [Part(earned, "heading"), Part(", "), *right]
    if width >= ROOMY:
        right.append(Part(f", {alone} by itself", "muted"))
    return (spread(left, (*right, Part(" ")), width),)


def hour_rows(sheet: WeekSheet) -> tuple[Row, ...]:
    """Hours of each stage on each day, hands-on first; the key is ("stage", hands on or not, name)."""
    hands = [(one.stage, one.attended_us) for one in sheet.stages if any(one.attended_us)]
    alone = [(one.stage, one.unattended_us) for one in sheet.stages if any(one.unattended_us)]
    rows: list[Row] = [heading("hands", "Hands on")]
    rows += [_hours((STAGE, "hands", name), name, days) for name, days in hands]
    rows.append(_hours((STAGE, "hands", ""), "together", [day.attended_us for day in sheet.days], "strong"))
    if alone:
        rows.append(heading("alone", "By itself"))
        rows += [_hours((STAGE, "alone", name), name, days) for name, days in alone]
    return tuple(rows)


def people_rows(sheet: WeekSheet) -> tuple[Row, ...]:
    """Each person's hours; the key is ("person", name)."""
    return tuple(
        Row(
            (PERSON, one.person),
            (cell(one.person), cell(hours(one.attended_us)), cell(hours(one.unattended_us), "muted")),
        )
        for one in sheet.people
    )


def weeks_rows(sheet: WeekSheet) -> tuple[Row, ...]:
    """This week above the eight before, each with a bar of its hands-on hours; the key is the week."""
    weeks = [(one.week, one.attended_us, one.unattended_us) for one in reversed(sheet.earlier)]
    weeks.insert(0, (sheet.week, sheet.attended_us, sheet.unattended_us))
    most = max(attended for _, attended, _ in weeks)
    return tuple(
        Row(
            week,
            (
                cell(str(week), "strong" if week == sheet.week else ""),
                Bar(attended, most, "running" if week == sheet.week else "waiting"),
                cell(hours(attended)),
                cell(hours(unattended), "muted"),
            ),
        )
        for week, attended, unattended in weeks
    )


def sold_rows(sheet: WeekSheet) -> tuple[Row, ...]:
    """Each unit sold with its margin, then all of them by their own hours, and by all hours of the week.

    The key is ("sold", the unit's number), ("sold", "all"), ("sold", "week") or ("sold", "repairs").
    """
    rows = [_sold((SOLD, one.unit_id), one.tag, one.model, one, sheet.currency) for one in sheet.sold]
    if rows:
        total = sheet.earned
        rows.append(_sold((SOLD, "all"), "", "together", total, sheet.currency, "strong"))
        in_week = replace(total, attended_us=total.spent_us)
        rows.append(_sold((SOLD, "week"), "", "by all hours of the week", in_week, sheet.currency))
    rows += _repairs(sheet)
    return tuple(rows)


def _repairs(sheet: WeekSheet) -> Iterable[Row]:
    """What repairs of owners' machines brought in the week: income of work, no margin."""
    done = sheet.repairs
    if done.units:
        words = f"repairs handed back: {done.units}"
        if done.unpriced:
            words += f", no price typed: {', '.join(done.unpriced)}"
        income = cell(at_least(done.income_minor, sheet.currency, known=not done.unpriced))
        yield Row((SOLD, "repairs"), (cell(""), cell(words), income, cell(""), cell("")))


def estimate_rows(sheet: WeekSheet) -> tuple[Row, ...]:
    """Tasks by name: how often done, the estimate, what half and four fifths stayed within, in minutes."""
    return tuple(
        Row(
            (TASK, one.task),
            (
                cell(one.task),
                cell(str(one.count), "muted"),
                cell(str(one.estimate_minutes)),
                cell(str(whole_minutes(one.median_us)), _over(one.median_us, one)),
                cell(str(whole_minutes(one.p80_us)), _over(one.p80_us, one)),
                cell(hours(one.week_us), "muted"),
            ),
        )
        for one in sheet.estimates
    )


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


def whole_minutes(us: int) -> int:
    """A length as whole minutes to estimate with: rounded up, at least one."""
    return max(1, -(-us // MINUTE_US))


def new_estimates(one: TaskEstimate) -> tuple[tuple[int, str], ...]:
    """What could be the new estimate, in minutes, with its words."""
    half, most = whole_minutes(one.median_us), whole_minutes(one.p80_us)
    return (
        (half, f"{half} min: half of {one.count} took no longer"),
        (most, f"{most} min: four in five took no longer"),
    )


def _hours(key: tuple[str, str, str], name: str, days: Sequence[int], look: str = "") -> Row:
    cells = [cell(decimal_hours(us) if us else "·", look if us else "muted") for us in days]
    return Row(key, (cell(name, look), *cells, cell(decimal_hours(sum(days)), "strong")))


def _sold(key: Hashable, tag: str, words: str, one: SoldUnit | Earned, currency: str, look: str = "") -> Row:
    rate = one.per_hour_minor
    return Row(
        key,
        (
            cell(tag),
            cell(words, look),
            cell(at_most(one.margin_minor, currency, known=_known(one)), look),
            cell(decimal_hours(one.attended_us), "muted"),
            cell(money_or(rate, currency, "–"), gain_look(rate)),
        ),
    )


def _known(one: SoldUnit | Earned) -> bool:
    return not (one.missing if isinstance(one, SoldUnit) else one.incomplete)


def _over(us: int, one: TaskEstimate) -> str:
    return "warning" if whole_minutes(us) > one.estimate_minutes else "good"


def _behind(entry: EntryLine, kind: str, value: str) -> bool:
    if kind == PERSON:
        return entry.person == value
    if kind == TASK:
        return entry.task == value
    return entry.stage == value and entry.attended == (kind == HANDS_ON)
