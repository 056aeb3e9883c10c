"""The stock panel: a bar, the level and the days of cover of each consumable."""

from __future__ import annotations

from bench.dashboard.presenters.bars import bar
from bench.dashboard.presenters.parts import Line, Part, fit
from bench.domain.quantities import show_quantity
from bench.domain.stock_book import StockLine

LEVEL = 11
COVER = 7
MARK = 7
NAME_LEAST = 10
BAR_LEAST = 4
BAR_MOST = 20
TIGHT = 40


def stock_line(line: StockLine, width: int) -> Line:
    """One consumable: name, bar, level, days of cover, and LOW or EXPIRED where it is."""
    room = width - LEVEL - COVER - MARK - 4
    bar_width = min(max(room // 3, BAR_LEAST), BAR_MOST)
    name_width = max(room - bar_width, NAME_LEAST)
    look = "alert" if line.low else "good"
    return (
        Part(fit(line.name, name_width)),
        Part(" "),
        Part(bar(line.on_hand, line.full, bar_width), look),
        Part(" "),
        Part(fit(show_quantity(line.on_hand, line.base_unit), LEVEL, right=True)),
        Part(" "),
        Part(fit(cover(line), COVER, right=True), "muted"),
        Part(" "),
        _mark(line),
    )


def cover(line: StockLine) -> str:
    """How long it lasts, such as 12 d; – while nothing was used."""
    if line.days_of_cover is None:
        return "–"
    days = line.days_of_cover
    return ">999 d" if days > 999 else f"{days:.0f} d"


def _mark(line: StockLine) -> Part:
    if line.on_hand <= 0:
        return Part("↓ NONE ", "loud")
    if line.low:
        return Part("↓ LOW  ", "alert")
    return Part("! OLD  " if line.expired else " " * MARK, "warning" if line.expired else "")
