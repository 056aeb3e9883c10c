"""Bars of block characters beside the figures of a table: no colour, a minus where one is below nothing."""

from __future__ import annotations

from collections.abc import Sequence

_EIGHTHS = ("", "▏", "▎", "▍", "▌", "▋", "▊", "▉")
_FULL, _BELOW = "█", "▒"


def bars(figures: Sequence[int | None], width: int) -> tuple[str, ...]:
    """A bar for each figure, the largest in size `width` columns long; None and 0 have none.

    Below nothing it is drawn in another shade after a minus. Lengths are cut to eighths of a column, but
    what is not nothing is never drawn as nothing.
    """
    longest = max((abs(figure) for figure in figures if figure), default=0)
    return tuple(_bar(figure, longest, width) if figure else "" for figure in figures)


def _bar(figure: int, longest: int, width: int) -> str:
    eighths = max(1, abs(figure) * width * 8 // longest)
    if figure < 0:
        return "-" + _BELOW * max(1, eighths // 8 - 1)
    return _FULL * (eighths // 8) + _EIGHTHS[eighths % 8]
