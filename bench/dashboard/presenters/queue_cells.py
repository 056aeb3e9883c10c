"""The cells of a unit in the queue, their columns, and the flags that say what is amiss with it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rich.cells import cell_len

from bench.dashboard.presenters.pieces import Line, Part, clip, cut, fit, spread, width_of
from bench.dashboard.presenters.queue_lines import Heading
from bench.domain.durations import spent_of
from bench.domain.localtime import short_day
from bench.domain.timers import elapsed_us
from bench.domain.ways_out import ways_words
from bench.views.queue import QueueRow
from bench.views.timers import HANDS_ON, chief, ticking

GAP = 2
TAG_LEAST = 5
TIME = 10  # such as ► 9 min 59
SPENT = 12
FLAGS_LEAST = 12
NAME_LEAST = 10
ROOMY = 96
NAME_MOST = 40


@dataclass(frozen=True, slots=True)
class QueueColumns:
    """Cells for each column; `spent` is 0 where time runs and time spent share the one column `time`.

    `rest` is what next task and flags share, each line as it needs; flags begin after `task` if they can.
    """

    tag: int
    model: int
    time: int
    spent: int
    rest: int
    task: int

    @property
    def time_at(self) -> int:
        """The cell at which the ticking column begins."""
        return self.tag + self.model + 2 * GAP


def queue_columns(
    width: int, longest_tag: int = 5, longest_model: int = NAME_MOST, longest_task: int = NAME_MOST
) -> QueueColumns:
    """The columns for a queue `width` cells wide: models as long as they are, tasks and flags the rest."""
    tag = max(TAG_LEAST, longest_tag)
    roomy = width >= ROOMY
    time = TIME if roomy else SPENT
    spent = SPENT if roomy else 0
    left = width - tag - time - spent - GAP * (4 if roomy else 3)
    left = max(left, 2 * NAME_LEAST + GAP + FLAGS_LEAST)
    model = max(min(longest_model, NAME_MOST, left // 3), NAME_LEAST)
    rest = left - model
    return QueueColumns(tag, model, time, spent, rest, min(longest_task, rest - GAP - FLAGS_LEAST))


def longest(rows: Sequence[QueueRow]) -> tuple[int, int, int]:
    """How many cells the longest tag, model and next task take, as `queue_columns` takes them."""
    return (
        max((len(row.tag) for row in rows), default=0),
        max((_cells(row.model) for row in rows), default=NAME_LEAST),
        max((_cells(row.next_task) for row in rows), default=NAME_LEAST),
    )


def _cells(name: str) -> int:
    return cell_len(clip(name, NAME_MOST))


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
    if row.ran_out:
        flags.append(Part(f"◷ time is up: {', '.join(row.ran_out)}", "alert"))
    if row.left:
        flags.append(Part(f"↩ interrupted: {', '.join(row.left)}", "waiting"))
    if row.overdue:
        flags.append(Part("! overdue", "alert"))
    if row.short_of:
        flags.append(Part(f"↓ short: {', '.join(row.short_of)}", "warning"))
    return tuple(flags)


def due(row: QueueRow) -> Line:
    """The day a unit is due, such as due 4 Dec; nothing where there is none or it has passed.

    It lies ahead: there is no room for its year, and hardly a doubt.
    """
    if row.due_on is None or row.overdue:
        return ()
    return (Part(f"due {short_day(row.due_on, today=row.due_on)}", "muted"),)


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
    """A unit's line: tag, model, time, next task, and what is amiss."""
    spent = (Part(fit(spent_cell(row), columns.spent), "muted"), BLANK) if columns.spent else ()
    return (
        Part(fit(row.tag, columns.tag), "strong"),
        BLANK,
        Part(fit(row.model, columns.model)),
        BLANK,
        time_cell(row, columns, now_us),
        BLANK,
        *spent,
        *task_and_flags(row, columns),
    )


def task_and_flags(row: QueueRow, columns: QueueColumns) -> Line:
    """The next task and the flags in the room that they share: where both fit, nothing of either is cut.

    Where they do not, every flag keeps its short word and the task gets the rest.
    """
    text, look = (row.next_task, "") if row.next_task else (NOTHING_LEFT, "muted")
    name = cell_len(clip(text, columns.rest))
    full = width_of(_joined([*(flags_of(row) or due(row))]))
    if not full:
        return (Part(fit(text, columns.rest), look),)
    shorts = _taken([Part(_short(flag.text)) for flag in flags_of(row)])
    least = min(max(shorts, min(full, FLAGS_LEAST)), columns.rest - GAP - NAME_LEAST)
    beside = columns.rest - GAP - name  # what the whole name of the task leaves
    flags = columns.rest - GAP - columns.task
    flags = max(min(flags, beside), least, min(full, beside))
    return (Part(fit(text, columns.rest - GAP - flags), look), BLANK, *flag_cell(row, flags))


def time_cell(row: QueueRow, columns: QueueColumns, now_us: int) -> Part:
    """The ticking column of a unit's line; what was spent and expected stays where it is the only one."""
    entry = chief(row.running)
    if entry is None:
        return Part(fit("" if columns.spent else spent_cell(row), columns.time), "muted")
    shown = ticking(entry, now_us)
    if entry.attended and row.estimate_minutes and not columns.spent:
        spent_us = row.spent_us + elapsed_us(entry.started_us, now_us)
        shown = f"{HANDS_ON}{spent_of(spent_us, row.estimate_minutes)}"
    return Part(fit(shown, columns.time), "running" if entry.attended else "waiting")


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


def names_line(columns: QueueColumns, width: int, told: str = "") -> Line:
    """The column names; in place of the last what is `told`."""
    spent = (fit("spent/est.", columns.spent),) if columns.spent else ()
    text = (" " * GAP).join(
        (
            fit("tag", columns.tag),
            fit("model", columns.model),
            fit("time", columns.time),
            *spent,
            fit("next task", columns.task),
        )
    )
    last = Part(told, "strong") if told else Part("flags", "muted")
    return spread((Part(text, "muted"), Part(" " * GAP), last), (), width)
