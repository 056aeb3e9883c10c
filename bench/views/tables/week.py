"""The tables of a week: hours by stage and day, by person and by week, units sold, estimates."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from bench.domain.amounts import Length, Minor
from bench.domain.durations import MINUTE_US
from bench.domain.unit_money import Earned, SoldUnit
from bench.domain.weeks import IsoWeek
from bench.views.columns import Column, Table
from bench.views.kinds import BAR, COUNT, HOURS, LENGTH, MONEY, Bound, at_least, at_most
from bench.views.tables.totals import gain_look
from bench.views.week import TaskEstimate, WeekSheet

DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


@dataclass(frozen=True, slots=True)
class StageDays:
    """A stage's hours on the seven days, hands on or by itself; `strong` where it sums up the stages."""

    stage: str
    us: tuple[int, ...]
    strong: bool = False


@dataclass(frozen=True, slots=True)
class HoursOf:
    """Hours of a day, a person or a week; `now`: of the week that is shown."""

    of: str
    hands_on_us: Length
    machine_us: Length
    week: IsoWeek | None = None
    now: bool = False


@dataclass(frozen=True, slots=True)
class SoldLine:
    """A unit sold, or several together, with what an hour earned; `key`: the unit's number, or which sum."""

    key: int | str
    tag: str
    words: str
    margin: int | Bound
    hands_on_us: Length | None
    per_hour_minor: Minor | None
    look: str = ""


def _of_day(at: int) -> Column[StageDays]:
    def us(one: StageDays) -> int:
        return one.us[at]

    def look(one: StageDays) -> str:
        return "muted" if not one.us[at] else "strong" if one.strong else ""

    return Column(DAYS[at], us, HOURS, 5, look=look)


STAGE_DAYS = Table[StageDays](
    "stages",
    "Hours by stage and day",
    (
        Column("Hours", "stage", width=9, grow=1, look=lambda one: "strong" if one.strong else ""),
        *map(_of_day, range(7)),
        Column("Total", lambda one: sum(one.us), HOURS, 6, look="strong"),
    ),
    key="stage",
)
PEOPLE = Table[HoursOf](
    "people",
    "People",
    (
        Column("Who", "of", width=10, grow=1),
        Column("Hands-on", "hands_on_us", HOURS, 9),
        Column("Machine time", "machine_us", HOURS, 12, look="muted"),
    ),
    key="of",
    empty="Nobody yet.",
)
WEEK_DAYS = replace(
    PEOPLE, name="days", title="Hours by day", columns=(Column("Day", "of"), *PEOPLE.columns[1:])
)
WEEKS = Table[HoursOf](
    "weeks",
    "This week and the last eight",
    (
        Column("Week", "of", width=9, look=lambda one: "strong" if one.now else ""),
        Column("", "hands_on_us", BAR, 7, grow=1, look=lambda one: "running" if one.now else "waiting"),
        *PEOPLE.columns[1:],
    ),
    key="week",
)
SOLD = Table[SoldLine](
    "sold",
    "Sold, before labour",
    (
        Column("Sold", "tag", width=6),
        Column("Model", "words", grow=1, look=lambda one: one.look),
        Column("Margin", "margin", MONEY, look=lambda one: one.look),
        Column("Hours", "hands_on_us", HOURS, 6, look="muted"),
        Column("Per hour", "per_hour_minor", MONEY, look=lambda one: gain_look(one.per_hour_minor)),
    ),
    key="key",
    empty="Nothing sold in this week.",
)


def rounded_up_minutes(us: int) -> int:
    """A length as whole minutes to estimate with: rounded up, at least one."""
    return max(1, -(-us // MINUTE_US))


def _over(us: int, one: TaskEstimate) -> str:
    return "warning" if rounded_up_minutes(us) > one.estimate_minutes else "good"


ESTIMATES = Table[TaskEstimate](
    "estimates",
    "Estimate and actual",
    (
        Column("Task", "task", width=12, grow=1),
        Column("Done", "count", COUNT, from_width=56, look="muted"),
        Column("Est.", lambda one: one.estimate_minutes * MINUTE_US, LENGTH, 6),
        Column("50 %", "median_us", LENGTH, 6, from_width=48, look=lambda one: _over(one.median_us, one)),
        Column("80 %", "p80_us", LENGTH, 6, look=lambda one: _over(one.p80_us, one)),
        Column("Week", "week_us", HOURS, 6, from_width=60, look="muted"),
    ),
    key="task",
    empty="Nothing finished yet.",
)


def stage_days(sheet: WeekSheet, *, attended: bool) -> tuple[StageDays, ...]:
    """The stages on which anything was done, hands on or by itself."""
    lines = [(one.stage, one.hands_on_us if attended else one.machine_us) for one in sheet.stages]
    return tuple(StageDays(stage, us) for stage, us in lines if any(us))


def days_total(sheet: WeekSheet) -> StageDays:
    """The hands-on hours of all stages."""
    return StageDays("total", tuple(day.hands_on_us for day in sheet.days), strong=True)


def people_of(sheet: WeekSheet) -> tuple[HoursOf, ...]:
    """Each person's hours."""
    return tuple(HoursOf(one.person, one.hands_on_us, one.machine_us) for one in sheet.people)


def days_of(sheet: WeekSheet) -> tuple[HoursOf, ...]:
    """Each day's hours."""
    return tuple(HoursOf(one.day.isoformat(), one.hands_on_us, one.machine_us) for one in sheet.days)


def week_total(sheet: WeekSheet) -> HoursOf:
    """The week's hours."""
    return HoursOf("total", sheet.hands_on_us, sheet.machine_us)


def weeks_of(sheet: WeekSheet) -> tuple[HoursOf, ...]:
    """This week above those before, the newest first."""
    this = HoursOf(str(sheet.week), sheet.hands_on_us, sheet.machine_us, sheet.week, now=True)
    before = [HoursOf(str(w.week), w.hands_on_us, w.machine_us, w.week) for w in sheet.earlier]
    return (this, *reversed(before))


def sold_lines(sheet: WeekSheet) -> Iterator[SoldLine]:
    """Each unit sold with its margin, then all of them by their own hours, and by all hours of the week."""
    for one in sheet.sold:
        yield _sold(one.unit_id, one.tag, one.model, one)
    if sheet.sold:
        total = sheet.earned
        yield _sold("all", "", "total", total, "strong")
        yield _sold("week", "", "by all hours of the week", replace(total, hands_on_us=total.spent_us))


def repair_lines(sheet: WeekSheet) -> Iterator[SoldLine]:
    """What repairs of owners' machines brought in the week: income of work, no margin."""
    done = sheet.repairs
    if done.units:
        words = f"repairs handed back: {done.units}"
        if done.unpriced:
            words += f", no price typed: {', '.join(done.unpriced)}"
        yield SoldLine("repairs", "", words, at_least(done.income_minor, known=not done.unpriced), None, None)


def _sold(key: int | str, tag: str, words: str, one: SoldUnit | Earned, look: str = "") -> SoldLine:
    known = not (one.missing if isinstance(one, SoldUnit) else one.incomplete)
    margin = at_most(one.margin_minor, known=known)
    return SoldLine(key, tag, words, margin, one.hands_on_us, one.per_hour_minor, look)
