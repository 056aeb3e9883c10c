"""The cells of a unit in the queue, their columns, and the flags that say what is amiss with it."""

from __future__ import annotations

from dataclasses import dataclass

from rich.cells import cell_len

from bench.dashboard.presenters.pieces import Line, Part, clip, cut, fit, spread, width_of
from bench.dashboard.presenters.queue_lines import Heading
from bench.domain.durations import spent_of
from bench.domain.ways_out import ways_words
from bench.views.queue import QueueRow
from bench.views.timers import chief, ticking

GAP = 2
TAG_LEAST = 5
TIME = 9
SPENT = 11
FLAGS_LEAST = 12
NAME_LEAST = 10
ROOMY = 96
NAME_MOST = 40


@dataclass(frozen=True, slots=True)
class QueueColumns:
    """Cells for each column; `spent` is 0 where time runs and time spent share the one column `time`."""

    tag: int
    model: int
    task: int
    time: int
    spent: int
    flags: int

    @property
    def time_at(self) -> int:
        """The cell at which the ticking column begins."""
        return self.tag + self.model + self.task + 3 * GAP


def queue_columns(width: int, longest_tag: int = 5) -> QueueColumns:
    """The columns for a queue `width` cells wide: names share what is left, flags get a part of it."""
    tag = max(TAG_LEAST, longest_tag)
    roomy = width >= ROOMY
    time = TIME if roomy else SPENT
    spent = SPENT if roomy else 0
    gaps = GAP * (5 if roomy else 4)
    left = max(width - tag - time - spent - gaps, 2 * NAME_LEAST + FLAGS_LEAST)
    flags = max(FLAGS_LEAST, left // 4)
    model = min((left - flags) // 2, NAME_MOST)
    task = min(left - flags - model, NAME_MOST)
    return QueueColumns(tag, model, task, time, spent, left - model - task)


MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
BATTERY = Part("▲ BATTERY", "loud")


def flags_of(row: QueueRow) -> tuple[Part, ...]:
    """Every flag of a unit in full words, the one that hurts first."""
    flags: list[Part] = []
    if row.cell_finding is not None:
        flags.append(Part(f"✖ CELL: {row.cell_finding}", "loud"))
    if row.battery_alarm:
        flags.append(BATTERY)
    if row.held is not None:
        flags.append(Part(f"‖ on hold: {row.held}" if row.held else "‖ on hold", "warning"))
    if row.awaits:
        flags.append(Part(f"… waits: {', '.join(row.awaits)}", "waiting"))
    if row.overdue:
        flags.append(Part("! overdue", "alert"))
    if row.short_of:
        flags.append(Part(f"↓ short: {', '.join(row.short_of)}", "warning"))
    return tuple(flags)


def due(row: QueueRow) -> Line:
    """The day a unit is due, such as due 4 Dec; nothing where there is none or it has passed."""
    if row.due_on is None or row.overdue:
        return ()
    return (Part(f"due {row.due_on.day} {MONTHS[row.due_on.month - 1]}", "muted"),)


def flag_cell(row: QueueRow, width: int) -> Line:
    """The flags within `width` cells: all as short words first, then the due day and reasons."""
    flags = flags_of(row)
    if not flags:
        return due(row)
    shorts = [Part(_short(flag.text), flag.look) for flag in flags]
    shown: list[Part] = []
    for index, flag in enumerate(shorts):
        if _taken([*shown, flag]) + (0 if index == len(shorts) - 1 else 3) > width and shown:
            return (*_joined(shown), Part(f" +{len(shorts) - index}", "muted"))
        shown.append(flag)
    if _taken([*shown, *due(row)]) + 1 <= width:
        shown += due(row)
    return _joined(_lengthened(shown, flags, width))


def _lengthened(shown: list[Part], flags: tuple[Part, ...], width: int) -> list[Part]:
    longer = list(shown)
    for index, flag in enumerate(flags):
        room = width - _taken(longer) + cell_len(longer[index].text)
        if room > cell_len(longer[index].text) + 3:
            longer[index] = Part(clip(flag.text, room), flag.look)
    return longer


def _short(text: str) -> str:
    return text.partition(":")[0]


def _taken(parts: list[Part]) -> int:
    return sum(cell_len(part.text) for part in parts) + max(len(parts) - 1, 0)


def _joined(parts: list[Part]) -> Line:
    spaced: list[Part] = []
    for part in parts:
        spaced += [Part(" "), part] if spaced else [part]
    return tuple(spaced)


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
