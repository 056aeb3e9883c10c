"""The week sheet as text for a terminal of 80 columns."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from bench.domain.durations import decimal_hours, hours_and_minutes
from bench.domain.earned import Earned, SoldUnit
from bench.domain.localtime import clock_time, day_and_time, day_name
from bench.domain.money import at_most, money_or, show_money
from bench.domain.weeks import local_day
from bench.reports.tables import one_line, sections, table, under
from bench.views.entries import EntryLine
from bench.views.week import WeekSheet

_HANDS = ("attended", "unattended")


def week_text(sheet: WeekSheet) -> str:
    """The week in plain text: hours by day, stage, person, earlier weeks, units sold, estimates, entries."""
    return sections(
        _head(sheet),
        _days(sheet),
        _stages("Attended hours by stage", [(line.stage, line.attended_us) for line in sheet.stages]),
        _stages("Unattended hours by stage", [(line.stage, line.unattended_us) for line in sheet.stages]),
        _list(
            "Hours by person",
            ("", *_HANDS),
            [(line.person, *_hours(line.attended_us, line.unattended_us)) for line in sheet.people],
        ),
        _list(
            "Earlier weeks",
            ("", *_HANDS),
            [(str(line.week), *_hours(line.attended_us, line.unattended_us)) for line in sheet.earlier],
        ),
        _sold(sheet),
        _repairs(sheet),
        _estimates(sheet),
        _entries(sheet),
        "Hours are rounded one by one; CSV and JSON hold them to the microsecond.",
    )


def _head(sheet: WeekSheet) -> str:
    days = sheet.week.days()
    span = f"Week {sheet.week}, {day_name(days[0])} to {day_name(days[-1])} {days[-1].year}"
    read = f"Days by the clock of {sheet.zone}; read {day_and_time(sheet.read_us, sheet.zone)}"
    return "\n".join(map(one_line, (span, sheet.shop, read)))


def _days(sheet: WeekSheet) -> str:
    rows = [(day_name(line.day), *_hours(line.attended_us, line.unattended_us)) for line in sheet.days]
    total = ("Total", *_hours(sheet.attended_us, sheet.unattended_us))
    return under("Hours by day", table(("", *_HANDS), [*rows, total]))


def _stages(title: str, stages: Iterable[tuple[str, tuple[int, ...]]]) -> str:
    worked = [(stage, us) for stage, us in stages if any(us)]
    headings = ("", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun", "total")
    rows = [(stage, *map(decimal_hours, us), decimal_hours(sum(us))) for stage, us in worked]
    return _list(title, headings, rows)


def _repairs(sheet: WeekSheet) -> str:
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


def _sold(sheet: WeekSheet) -> str:
    """The units sold with their margins, and what an hour earned: of theirs, and of this week's."""
    if not sheet.sold:
        return ""
    total = sheet.earned
    rows = [(day_name(one.sold_on), one.tag, one.model, *_figures(one, sheet.currency)) for one in sheet.sold]
    rows.append(("Total", "", "", *_figures(total, sheet.currency)))
    rate = money_or(total.per_spent_hour_minor, sheet.currency, "-")
    week = f"By this week's {decimal_hours(total.spent_us)} attended hours, on all units: "
    return (
        _list(
            "Units sold: margin before labour, by all attended hours ever spent on them",
            ("", "tag", "model", "margin", "hours", "an hour"),
            rows,
            words=(0, 1, 2),
        )
        + f"\n{week}{rate} an hour."
    )


def _figures(one: SoldUnit | Earned, currency: str) -> tuple[str, str, str]:
    known = not (one.missing if isinstance(one, SoldUnit) else one.incomplete)
    margin, hours = at_most(one.margin_minor, currency, known=known), decimal_hours(one.attended_us)
    return margin, hours, money_or(one.per_hour_minor, currency, "-")


def _estimates(sheet: WeekSheet) -> str:
    rows = [
        (
            line.task,
            str(line.count),
            f"{line.estimate_minutes} min",
            hours_and_minutes(line.median_us),
            hours_and_minutes(line.p80_us),
            decimal_hours(line.week_us),
        )
        for line in sheet.estimates
    ]
    headings = ("", "done", "estimate", "half within", "4 of 5 within", "this week")
    return _list("Estimates against tasks done in this week and the eight before", headings, rows)


def _entries(sheet: WeekSheet) -> str:
    rows = []
    shown = ""
    for entry in sheet.entries:
        day = day_name(local_day(entry.started_us, sheet.zone))
        rows.append(
            (
                day if day != shown else "",
                clock_time(entry.started_us, sheet.zone),
                _stop(entry, sheet.zone),
                decimal_hours(sheet.in_week_us(entry)),
                entry.person,
                entry.tag,
                entry.task,
                entry.stage,
                _mark(entry),
                str(entry.entry_id),
            )
        )
        shown = day
    headings = ("", "from", "to", "hours", "person", "tag", "task", "stage", "", "no.")
    return _list("Entries (u unattended, c corrected)", headings, rows, words=(0, 2, 4, 5, 6, 7, 8))


def _stop(entry: EntryLine, zone: str) -> str:
    if entry.stopped_us is None:
        return "runs"
    same_day = local_day(entry.started_us, zone) == local_day(entry.stopped_us, zone)
    return clock_time(entry.stopped_us, zone) if same_day else day_and_time(entry.stopped_us, zone)


def _mark(entry: EntryLine) -> str:
    return ("" if entry.attended else "u") + ("c" if entry.corrected else "")


def _list(
    title: str, headings: Sequence[str], rows: Sequence[Sequence[str]], words: Sequence[int] = (0,)
) -> str:
    return under(title, table(headings, rows, words=words)) if rows else ""


def _hours(*us: int) -> tuple[str, ...]:
    return tuple(map(decimal_hours, us))
