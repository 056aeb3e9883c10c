"""Plain tables for a terminal: aligned columns, no colour, text from people shown literally."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import zip_longest
from typing import TypeVar

from rich.cells import cell_len, chop_cells, set_cell_size

from bench.domain.text import for_display
from bench.views.columns import Column, Table, longest, scaled
from bench.views.kinds import BAR, OF_TIME, PLAIN, Context

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


Record = TypeVar("Record")

WIDTH = 80
BAR_WIDTH = 10
ROOM_TO_GROW = 24
_GAP = "  "
_NARROWEST = 6
_CUT = "…"


def table(
    headings: Sequence[str],
    rows: Sequence[Sequence[str]],
    *,
    words: Sequence[int] = (0,),
    least: Sequence[int] = (),
) -> str:
    """Lines under headings, at most 80 columns wide.

    Columns named in `words` are flush left and give way where there is no room, the widest first, down to
    their `least`; the others, figures, are flush right and are never cut.
    """
    cells = [[for_display(cell) for cell in row] for row in (headings, *rows)]
    widths = [max(map(cell_len, column)) for column in zip(*cells, strict=True)]
    _narrow(widths, words, least or [_NARROWEST] * len(widths))
    return "\n".join(_line(row, widths, words) for row in cells)


def told(
    described: Table[Record],
    records: Iterable[Record],
    context: Context = PLAIN,
    *,
    total: Record | None = None,
    notes: Sequence[str] = (),
) -> str:
    """A described table, what its records add up to beneath; columns that find no room are left out.

    The first to go are those that a screen shows from the greatest width on. `notes`: told beneath each
    record, after what its columns have to tell there.
    """
    shown = tuple(records)
    if not shown:
        return described.empty
    columns = [(one, _cells(one, shown, context, total)) for one in described.columns if not one.beneath]
    while _least(columns) > WIDTH and any(column.from_width for column, _ in columns):
        columns.remove(max(reversed(columns), key=lambda one: one[0].from_width))
    headings = [column.heading for column, _ in columns]
    words = [place for place, (column, _) in enumerate(columns) if not _is_figure(column)]
    least = [_enough(column, cells) for column, cells in columns]
    cells = list(zip(*(cells for _, cells in columns), strict=True))
    head, *rows = table(headings, cells, words=words, least=least).split("\n")
    beneath = [_beneath(described, record, context) for record in shown]
    lines = [head] if any(headings) else []
    for row, said, note in zip_longest(rows, beneath, notes, fillvalue=""):
        lines += [row, *(wrapped(one, start=4, indent=6) for one in (said, note) if one)]
    return "\n".join(lines)


def _beneath(described: Table[Record], record: Record, context: Context) -> str:
    told = (one.words(record, context) for one in described.columns if one.beneath and one.value(record))
    return ", ".join(told)


def one_line(text: str) -> str:
    """Text as one line of the sheet, cut where it would run over."""
    return _fitted(for_display(text), WIDTH).rstrip()


def wrapped(text: str, *, start: int = 0, indent: int = 0) -> str:
    """Text broken between words into lines of at most 80 columns.

    The first line is indented by `start`, the later ones by `indent`; a longer word is broken too.
    """
    room = WIDTH - max(start, indent)
    words = [part for word in for_display(text).split(" ") for part in chop_cells(word, room) or [""]]
    lines = [" " * start]
    for word in words:
        if not lines[-1].strip():
            lines[-1] += word
        elif cell_len(lines[-1]) + 1 + cell_len(word) <= WIDTH:
            lines[-1] += f" {word}"
        else:
            lines.append(" " * indent + word)
    return "\n".join(line.rstrip() for line in lines)


def sections(*parts: str) -> str:
    """Parts with an empty line between, those that are empty left out."""
    return "\n\n".join(part for part in parts if part) + "\n"


def under(title: str, body: str) -> str:
    """A body under its title."""
    return f"{title}\n{body}"


def _cells(
    column: Column[Record], records: Sequence[Record], context: Context, total: Record | None
) -> list[str]:
    last = [] if total is None else [total]
    if column.kind is not BAR:
        return [column.words(record, context) for record in (*records, *last)]
    whole = longest(column, records)
    sizes = [scaled(column, record, whole) for record in records]
    return [*(bar(size.part, size.whole, BAR_WIDTH).ljust(BAR_WIDTH) for size in sizes), *("" for _ in last)]


def _enough(column: Column[Record], cells: Sequence[str]) -> int:
    """The cells below which a column of words is not cut; days are longer here than on a screen."""
    longest_time = max(map(cell_len, cells)) if column.kind in OF_TIME else 0
    return max(column.least, longest_time, _NARROWEST)


def _least(columns: Sequence[tuple[Column[Record], list[str]]]) -> int:
    """The cells that the columns take; words that grow have room before another column has any."""
    least = len(_GAP) * (len(columns) - 1)
    for column, cells in columns:
        widest = max(cell_len(for_display(cell)) for cell in (column.heading, *cells))
        enough = max(_enough(column, cells), ROOM_TO_GROW if column.grow else 0)
        least += widest if _is_figure(column) else min(widest, enough)
    return least


def _is_figure(column: Column[Record]) -> bool:
    """Whether it is never cut."""
    return column.kind.right or column.kind is BAR


def _narrow(widths: list[int], words: Sequence[int], least: Sequence[int]) -> None:
    over = sum(widths) + len(_GAP) * (len(widths) - 1) - WIDTH
    while over > 0:
        wide = [column for column in words if widths[column] > least[column]]
        if not wide:
            return
        widest = max(wide, key=lambda column: widths[column])
        widths[widest] -= 1
        over -= 1


def _line(cells: Sequence[str], widths: Sequence[int], words: Sequence[int]) -> str:
    shown = [
        _fitted(cell, width) if column in words else " " * (width - cell_len(cell)) + cell
        for column, (cell, width) in enumerate(zip(cells, widths, strict=True))
    ]
    return _GAP.join(shown).rstrip()


def _fitted(text: str, width: int) -> str:
    if cell_len(text) > width:
        text = set_cell_size(text, width - 1) + _CUT
    return set_cell_size(text, width)
