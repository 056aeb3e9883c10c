"""Time entries and their corrections in words."""

from __future__ import annotations

from bench.domain.durations import hours_and_minutes
from bench.domain.localtime import local_datetime
from bench.domain.text import task_on
from bench.domain.timers import elapsed_us
from bench.views.entries import CorrectionLine, EntryLine
from bench.views.kinds import Context
from bench.views.tables.entries import span_words
from bench.views.timers import Running


def still_running_words(timer: Running, context: Context) -> str:
    """A timer that was perhaps forgotten: what, whose, since when."""
    hands = "" if timer.attended else ", machine time"
    since = context.instant(timer.started_us)
    length = hours_and_minutes(elapsed_us(timer.started_us, context.now_us))
    return (
        f"{task_on(timer.task, timer.tag)}: {timer.person}{hands}\n"
        f"since {since}, {length}; estimated {timer.estimate_minutes} min"
    )


def typed_time(instant_us: int | None, zone: str) -> str:
    """An instant as it would be typed, to the minute: 2026-11-25 10:00; nothing for none."""
    return "" if instant_us is None else f"{local_datetime(instant_us, zone):%Y-%m-%d %H:%M}"


def entry_words(entry: EntryLine, context: Context) -> str:
    """What an entry is about, in two lines."""
    hands = "hands-on" if entry.attended else "machine time"
    span = span_words(entry.started_us, entry.stopped_us, context)
    return f"{task_on(entry.task, entry.tag)}\n{entry.person}, {hands}: {span}"


def correction_words(line: CorrectionLine, context: Context) -> str:
    """One correction: who, when, what it was before, and why."""
    was = span_words(line.old_started_us, line.old_stopped_us, context)
    return f"{context.instant(line.at_us)} {line.person}: it was {was} ({line.reason})"
