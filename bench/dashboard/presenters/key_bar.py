"""The key bar: as many keys as fit, in the order given, the last ones always there."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from rich.cells import cell_len

NAMES = {
    "question_mark": "?",
    "slash": "/",
    "comma": ",",
    "full_stop": ".",
    "vertical_line": "|",
    "plus": "+",
    "minus": "-",
    "left_square_bracket": "[",
    "right_square_bracket": "]",
    "escape": "Esc",
    "enter": "Enter",
    "tab": "Tab",
    "space": "Space",
    "left": "←",
    "right": "→",
    "up": "↑",
    "down": "↓",
    "pageup": "PgUp",
    "pagedown": "PgDn",
}


class KeyHint(NamedTuple):
    """One key as the bar shows it, and the action that a click runs."""

    key: str
    label: str
    action: str


def shown_key(key: str) -> str:
    """A key as people know it: F1, Ctrl+S, Esc, ?."""
    first = key.split(",")[0].strip()
    if first.startswith("ctrl+"):
        return f"Ctrl+{first.removeprefix('ctrl+').upper()}"
    if len(first) > 1 and first[0] == "f" and first[1:].isdigit():
        return first.upper()
    return NAMES.get(first, first)


def hints_that_fit(hints: Sequence[KeyHint], last: Sequence[KeyHint], width: int) -> list[KeyHint]:
    """The hints shown in `width` cells: all of `last` at the end, before them what fits of `hints`."""
    room = width - sum(_cells(hint) for hint in last)
    shown: list[KeyHint] = []
    for hint in hints:
        room -= _cells(hint)
        if room < 0:
            break
        shown.append(hint)
    return [*shown, *last]


def _cells(hint: KeyHint) -> int:
    return cell_len(hint.key) + 1 + cell_len(hint.label) + 2
