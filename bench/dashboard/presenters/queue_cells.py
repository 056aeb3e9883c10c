"""The cells of the queue: a unit's line, a stage's heading, the line of column names."""

from __future__ import annotations

from bench.dashboard.presenters.flags import flag_cell
from bench.dashboard.presenters.pieces import Line, Part, cut, fit, spread, width_of
from bench.dashboard.presenters.queue_columns import GAP, QueueColumns
from bench.dashboard.presenters.queue_lines import Heading
from bench.domain.durations import spent_of
from bench.domain.ways_out import ways_words
from bench.views.queue import QueueRow
from bench.views.timers import chief, ticking

BLANK = Part(" " * GAP)
NOTHING_LEFT = "no task left"


def unit_line(row: QueueRow, columns: QueueColumns, now_us: int) -> Line:
    """A unit's line: tag, model, next task, time, and what is amiss."""
    task = Part(fit(row.next_task, columns.task)) if row.next_task else _no_task(columns.task)
    spent = (Part(fit(spent_cell(row), columns.spent), "muted"), BLANK) if columns.spent else ()
    return (
        Part(fit(row.tag, columns.tag), "strong"),
        BLANK,
        Part(fit(row.model, columns.model)),
        BLANK,
        task,
        BLANK,
        time_cell(row, columns, now_us),
        BLANK,
        *spent,
        *flag_cell(row, columns.flags),
    )


def time_cell(row: QueueRow, columns: QueueColumns, now_us: int) -> Part:
    """The ticking column of a unit's line."""
    entry = chief(row.running)
    if entry is not None:
        return Part(fit(ticking(entry, now_us), columns.time), "running" if entry.attended else "waiting")
    return Part(fit("" if columns.spent else spent_cell(row), columns.time), "muted")


def spent_cell(row: QueueRow) -> str:
    """Time spent of the time estimated, or nothing where neither is known."""
    return spent_of(row.spent_us, row.estimate_minutes) if row.spent_us or row.estimate_minutes else ""


def heading_line(heading: Heading, width: int) -> Line:
    """A stage's heading, ruled across the queue, with how many units stand there, or left by which way."""
    cover = (Part("  cover off", "warning"),) if heading.lid_off else ()
    count = Part(f" {heading.count}", "muted")
    name = Part(fit(heading.name, min(width // 2, 40)).rstrip(), "heading")
    left = ways_words(heading.ways)
    ways = (Part(f"  {left}", "muted"),) if left else ()
    room = width - width_of((name, *cover, count)) - 2
    rule = room - width_of(ways)
    if rule < 0:
        ways, rule = (Part(f"  {fit(left, max(room - 2, 0)).rstrip()}", "muted"),), 0
    return cut((name, *cover, *ways, Part(f" {'─' * max(rule, 0)} ", "muted"), count), width)


def names_line(columns: QueueColumns, width: int) -> Line:
    """The column names."""
    spent = (fit("spent/est.", columns.spent), " " * GAP) if columns.spent else ()
    text = (" " * GAP).join(
        (
            fit("tag", columns.tag),
            fit("model", columns.model),
            fit("next task", columns.task),
            fit("time", columns.time),
        )
    )
    return spread((Part(text + " " * GAP + "".join(spent) + "flags", "muted"),), (), width)


def _no_task(width: int) -> Part:
    return Part(fit(NOTHING_LEFT, width), "muted")
