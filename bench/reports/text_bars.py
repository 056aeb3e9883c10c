"""A bar of block characters beside a figure of a table: no colour, a minus where it is below nothing."""

from __future__ import annotations

_EIGHTHS = ("", "▏", "▎", "▍", "▌", "▋", "▊", "▉")
_FULL, _BELOW = "█", "▒"


def bar(part: int, whole: int, width: int) -> str:
    """A bar filled by part/whole of `width` columns; nothing has none.

    Below nothing it is drawn in another shade after a minus. Lengths are cut to eighths of a column, but
    what is not nothing is never drawn as nothing.
    """
    if not part or whole <= 0:
        return ""
    eighths = max(1, min(abs(part), whole) * width * 8 // whole)
    if part < 0:
        return "-" + _BELOW * max(1, eighths // 8 - 1)
    return _FULL * (eighths // 8) + _EIGHTHS[eighths % 8]
