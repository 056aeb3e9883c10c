"""Time entries as a table, and the words in which one of them is told."""

from __future__ import annotations

from dataclasses import replace

from bench.domain.durations import hours_and_minutes, running_time
from bench.domain.localtime import clock_time, weekday_and_time
from bench.domain.timers import elapsed_us
from bench.domain.weeks import local_day
from bench.views.columns import Column, Table
from bench.views.entries import EntryLine
from bench.views.kinds import COUNT, Context, Kind


def span_words(started_us: int, stopped_us: int | None, context: Context) -> str:
    """From when to when; a stop of None still runs."""
    start, zone = context.instant(started_us), context.zone
    if stopped_us is None:
        return f"{start}–running"
    same_day = local_day(started_us, zone) == local_day(stopped_us, zone)
    return f"{start}–{clock_time(stopped_us, zone) if same_day else context.instant(stopped_us)}"


def span_in_week(started_us: int, stopped_us: int | None, zone: str) -> str:
    """The same within one week, where the day of the week says which day it is: Wed 10:00–11:30."""
    start, day = weekday_and_time(started_us, zone), local_day(started_us, zone)
    if stopped_us is None:
        return f"{start}–running"
    same_day = day == local_day(stopped_us, zone)
    return f"{start}–{clock_time(stopped_us, zone) if same_day else weekday_and_time(stopped_us, zone)}"


def length_words(entry: EntryLine, now_us: int) -> str:
    """How long an entry is, * where it was corrected; it ticks while it runs."""
    star = "* " if entry.corrected else ""
    if entry.stopped_us is None:
        return f"{star}► {running_time(elapsed_us(entry.started_us, now_us))}"
    return star + hours_and_minutes(entry.stopped_us - entry.started_us)


def length_look(entry: EntryLine) -> str:
    """What runs stands out, hands-on apart from what runs by itself."""
    if entry.stopped_us is not None:
        return "muted"
    return "running" if entry.attended else "waiting"


def _span(entry: EntryLine, context: Context) -> str:
    return span_words(entry.started_us, entry.stopped_us, context)


def _span_in_week(entry: EntryLine, context: Context) -> str:
    return span_in_week(entry.started_us, entry.stopped_us, context.zone)


def _length_us(entry: EntryLine) -> float:
    return float("inf") if entry.stopped_us is None else entry.stopped_us - entry.started_us


FROM_AND_TO = Kind(_span, width=24, right=False, order=lambda entry: entry.started_us)
FROM_AND_TO_IN_WEEK = replace(FROM_AND_TO, words=_span_in_week, width=19)
TOOK = Kind(lambda entry, context: length_words(entry, context.now_us), width=10, order=_length_us)

ENTRIES = Table[EntryLine](
    "entries",
    "Entries",
    (
        Column("No.", "entry_id", COUNT, from_width=88, look="muted"),
        Column("From and to", lambda entry: entry, FROM_AND_TO),
        Column("Who", "person", from_width=64, look="muted"),
        Column("Task", lambda entry: entry.task if entry.attended else f"○ {entry.task}", width=14, grow=1),
        Column("Stage", "stage", width=10, from_width=100, look="muted"),
        Column("Unit", "tag", width=6, from_width=90, look="muted"),
        Column("Length", lambda entry: entry, TOOK, look=length_look),
    ),
    key="entry_id",
    empty="No time yet.",
)

# Of one week, where tags and tasks stand whole: the day is told by its name, people where there is room.
WEEK_ENTRIES = replace(
    ENTRIES,
    columns=(
        Column("No.", "entry_id", COUNT, from_width=100, look="muted"),
        Column("From and to", lambda entry: entry, FROM_AND_TO_IN_WEEK),
        Column("Unit", "tag", width=6),
        Column("Task", lambda entry: entry.task if entry.attended else f"○ {entry.task}", width=24, grow=1),
        Column("Who", "person", from_width=84, look="muted"),
        Column("Stage", "stage", width=10, from_width=110, look="muted"),
        Column("Length", lambda entry: entry, TOOK, look=length_look),
    ),
)
