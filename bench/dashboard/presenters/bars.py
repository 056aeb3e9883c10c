"""Bars of block characters, in eighths of a cell."""

from __future__ import annotations

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
