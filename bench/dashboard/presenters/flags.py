"""What is amiss with a unit, the worst first, each a word with a mark: colour only repeats it."""

from __future__ import annotations

from rich.cells import cell_len

from bench.dashboard.presenters.pieces import Line, Part, clip
from bench.views.queue import QueueRow

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
        flags.append(Part(f"‖ held: {row.held}" if row.held else "‖ held", "warning"))
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
