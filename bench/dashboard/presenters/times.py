"""Running and spent time as short texts."""

from __future__ import annotations

from collections.abc import Iterable

from bench.domain.durations import MINUTE_US, hours_and_minutes, running_time
from bench.domain.timers import elapsed_us
from bench.views.timers import Running

ATTENDED = "►"
UNATTENDED = "○"
MANY_MINUTES = 1000


def chief(entries: Iterable[Running]) -> Running | None:
    """The entry to show where there is room for one: hands-on before unattended, then the longest running."""
    return min(entries, key=lambda entry: (not entry.attended, entry.started_us), default=None)


def ticking(entry: Running, now_us: int) -> str:
    """A running entry's time, such as ► 12:05; ○ where nobody's hands are on it."""
    mark = ATTENDED if entry.attended else UNATTENDED
    return f"{mark} {running_time(elapsed_us(entry.started_us, now_us))}"


def spent_of(spent_us: int, estimate_minutes: int) -> str:
    """Time spent of the time estimated, such as 35/90 min, or 17/20 h from a thousand minutes up."""
    if not estimate_minutes:
        return hours_and_minutes(spent_us)
    minutes = (spent_us + MINUTE_US // 2) // MINUTE_US
    if max(minutes, estimate_minutes) < MANY_MINUTES:
        return f"{minutes}/{estimate_minutes} min"
    return f"{(minutes + 30) // 60}/{(estimate_minutes + 30) // 60} h"
