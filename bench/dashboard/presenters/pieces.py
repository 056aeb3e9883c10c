"""A line of a widget as plain values: pieces of text and bars, each with its look of the style sheet."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from rich.cells import cell_len, set_cell_size

from bench.domain.text import for_display

LOOKS = (
    "muted",
    "hint",
    "strong",
    "heading",
    "running",
    "waiting",
    "good",
    "warning",
    "alert",
    "loud",
    "key",
    "cursor",
    "caret",
    "selected",
    "placeholder",
)
ELLIPSIS = "…"


class Part(NamedTuple):
    """Some text, ready to show, and its look: one of LOOKS, or "" for plain."""

    text: str
    look: str = ""


Line = tuple[Part, ...]


def clip(text: str, width: int) -> str:
    """Anyone's text made harmless and at most `width` cells wide, with … where it was cut."""
    if width <= 0:
        return ""
    if len(text) <= width and text.isascii() and text.isprintable():
        return text
    # What is far beyond the width is not even looked at: names may be ten thousand characters long.
    shown = for_display(text[: width * 4 + 64])
    if cell_len(shown) <= width and len(text) <= width * 4 + 64:
        return shown
    return set_cell_size(shown, width - 1).rstrip() + ELLIPSIS


def fit(text: str, width: int, *, right: bool = False) -> str:
    """The text clipped and filled with blanks to exactly `width` cells."""
    shown = clip(text, width)
    blanks = " " * (max(width, 0) - cell_len(shown))
    return blanks + shown if right else shown + blanks


def wrap(text: str, width: int) -> list[str]:
    """The text broken between words into lines of at most `width` cells; a longer word runs over lines."""
    lines: list[str] = []
    line = ""
    for word in for_display(text).split():
        longer = f"{line} {word}" if line else word
        if cell_len(longer) <= width:
            line = longer
            continue
        if line:
            lines.append(line)
        line = word
        while cell_len(line) > width > 1:
            head = set_cell_size(line, width).rstrip()
            lines.append(head)
            line = line[len(head) :]
    return [*lines, line] if line else lines


def width_of(parts: Iterable[Part]) -> int:
    """How many cells the parts take."""
    return sum(cell_len(part.text) for part in parts)


def plain(parts: Iterable[Part]) -> str:
    """The parts' text alone."""
    return "".join(part.text for part in parts)


def spread(left: Line, right: Line, width: int) -> Line:
    """The two ends of one line, with blanks between; the left end gives way where both do not fit."""
    room = width - width_of(right) - 1
    shown = cut(left, room) if width_of(left) > room else left
    return (*shown, Part(" " * (width - width_of(shown) - width_of(right))), *right)


def cut(parts: Line, width: int) -> Line:
    """The parts that fit into `width` cells; the last one is clipped."""
    kept: list[Part] = []
    for part in parts:
        room = width - width_of(kept)
        if room <= 0:
            break
        kept.append(part if cell_len(part.text) <= room else Part(clip(part.text, room), part.look))
    return tuple(kept)


_EIGHTHS = " ▏▎▍▌▋▊▉"
FULL = "█"
EMPTY = "░"


def bar(part: int, whole: int, width: int) -> str:
    """A bar `width` cells wide, filled by part/whole, the rest shaded; something left always shows."""
    eighths = _eighths(part, whole, width)
    full, rest = divmod(eighths, 8)
    shown = FULL * full + (_EIGHTHS[rest] if rest else "")
    return shown + EMPTY * (width - len(shown))


def length(part: int, whole: int, width: int) -> str:
    """As `bar`, with blanks instead of shading."""
    return bar(part, whole, width).replace(EMPTY, " ")


def _eighths(part: int, whole: int, width: int) -> int:
    if whole <= 0 or part <= 0:
        return 0
    return max(1, min(part, whole) * width * 8 // whole)
