"""The stock panel: a bar, the level and the days of cover of each consumable."""

from __future__ import annotations

from collections.abc import Iterable

from bench.dashboard.presenters.pieces import EMPTY, Line, Part, bar, fit
from bench.domain.quantities import short_quantity
from bench.domain.stock_levels import StockLine
from bench.views.kinds import PLAIN
from bench.views.tables.stock import LASTS

LEVEL = 10
COVER = 9
NAME_LEAST = 10
BAR_LEAST = 3
BAR_MOST = 20


def stock_line(line: StockLine, width: int, longest_name: int = 0) -> Line:
    """One consumable: name, bar, level, days of cover, and NONE, LOW or EXPIRED where it is.

    The names get what the longest of them needs, the bars what is left.
    """
    room = width - LEVEL - COVER - 3
    bar_width = min(max(room - max(longest_name, NAME_LEAST), BAR_LEAST), BAR_MOST)
    shown = bar(line.on_hand, line.full, bar_width)
    rest = shown.lstrip("".join(set(shown) - {EMPTY}))
    word, look = _mark(line)
    lasts = f"{word} {cover(line)}".strip()
    if line.on_hand <= 0 or len(lasts) > COVER:  # what is past its shelf life need not last
        lasts = word
    return (
        Part(fit(line.name, max(room - bar_width, NAME_LEAST))),
        Part(" "),
        Part(shown.removesuffix(rest), "alert" if line.low else "good"),
        Part(rest, "muted"),
        Part(" "),
        Part(fit(short_quantity(line.on_hand, line.base_unit), LEVEL, right=True)),
        Part(" "),
        Part(fit(lasts, COVER, right=True), look),
    )


def low_words(lines: Iterable[StockLine]) -> str:
    """What is low, in one line, with how long each lasts: low: thermal paste 5 d, wipes; "" for nothing."""
    short = [line for line in lines if line.low]
    low = [f"{line.name} {cover(line)}" if line.on_hand > 0 else f"no {line.name}" for line in short]
    return f"low: {', '.join(low)}" if low else ""


def cover(line: StockLine) -> str:
    """How long it lasts with what is on order, such as 12 d; – while nothing was used."""
    return LASTS.told(line.cover, PLAIN)


def _mark(line: StockLine) -> tuple[str, str]:
    if line.on_hand <= 0:
        return "NONE", "alert"
    if line.low:
        return "LOW", "alert"
    return ("EXPIRED", "warning") if line.expired else ("", "muted")
