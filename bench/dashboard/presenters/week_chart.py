"""This week's hands-on hours a day, as one line and as a small chart."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from bench.dashboard.presenters.pieces import Line, Part, fit, length, spread
from bench.domain.durations import HOUR_US, hours_and_minutes
from bench.domain.weeks import IsoWeek
from bench.views.hours import DayHours

SCALE_LEAST_US = 8 * HOUR_US
DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


def week_line(days: Sequence[DayHours], today: date | None, width: int) -> Line:
    """Seven days beside each other, each with its hours and a bar, and the week's total at the end."""
    if not days:
        return ()
    head = Part(f"Week {IsoWeek.of(days[0].day).week}  ", "heading")
    total = Part(f"total {hours_and_minutes(_total_us(days))}", "strong")
    slot = (width - len(head.text) - len(total.text) - 2) // 7
    parts: list[Part] = [head]
    for day in days:
        parts += _day(day, day.day == today, _most_us(days), slot)
    return spread(tuple(parts), (total,), width)


def week_lines(days: Sequence[DayHours], today: date | None, width: int) -> tuple[Line, ...]:
    """A line a day: its hours, a bar, and machine time beside it."""
    bar_width = max(width - 34, 4)
    lines: list[Line] = []
    for day in days:
        alone = f"machine time {hours(day.machine_us)}" if day.machine_us else ""
        name = Part(f"{DAYS[day.day.weekday()]} ", "strong" if day.day == today else "")
        number = Part(fit(hours(day.hands_on_us), 7, right=True) + " ")
        chart = Part(length(day.hands_on_us, _most_us(days), bar_width), "running")
        lines.append((name, number, chart, Part(f"  {alone}", "muted")))
    return (*lines, (Part("week ", "heading"), Part(hours_and_minutes(_total_us(days)), "strong")))


def hours(us: int) -> str:
    """Hours with one decimal, such as 4.5 h, to the nearest tenth; – for none."""
    if us <= 0:
        return "–"
    tenths = (us + HOUR_US // 20) // (HOUR_US // 10)
    return f"{tenths // 10}.{tenths % 10} h"


def _day(day: DayHours, is_today: bool, most_us: int, slot: int) -> list[Part]:
    name = Part(f"{DAYS[day.day.weekday()]} ", "strong" if is_today else "muted")
    number = hours(day.hands_on_us).removesuffix(" h")
    room = slot - len(name.text) - 5
    chart = [Part(length(day.hands_on_us, most_us, min(room, 12)), "running")] if room >= 1 else []
    return [name, Part(fit(number, 3, right=True)), Part(" "), *chart, Part(" ")]


def _most_us(days: Sequence[DayHours]) -> int:
    return max(SCALE_LEAST_US, *(day.hands_on_us for day in days))


def _total_us(days: Sequence[DayHours]) -> int:
    return sum(day.hands_on_us for day in days)
