"""Keep in the journal that the computer's clock was set while timers may have been running."""

from __future__ import annotations

from bench.desk import Desk
from bench.domain.durations import MINUTE_US, SECOND_US, hours_and_minutes
from bench.work.change import change


def report_clock_step(desk: Desk, step_us: int) -> None:
    """Note by how much the wall clock was set (+ forward, - back); a step of nothing is not noted."""
    if step_us == 0:
        return
    with change(desk, "clock") as made:
        way = "jumped forward" if step_us > 0 else "was set back"
        made.tells(f"The clock {way} by {_length(abs(step_us))}: look at the entries of that time")


def _length(us: int) -> str:
    return hours_and_minutes(us) if us >= MINUTE_US else f"{-(-us // SECOND_US)} s"
