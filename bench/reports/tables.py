"""Plain tables for a terminal: aligned columns, no colour, text from people shown literally."""

from __future__ import annotations

from collections.abc import Sequence

from rich.cells import cell_len, chop_cells, set_cell_size

from bench.domain.text import for_display

WIDTH = 80
_GAP = "  "
_NARROWEST = 6
_CUT = "…"


def table(headings: Sequence[str], rows: Sequence[Sequence[str]], *, words: Sequence[int] = (0,)) -> str:
    """Lines under headings, at most 80 columns wide.

    Columns named in `words` are flush left and give way where there is no room, the widest first; the
    others, figures, are flush right and are never cut.
    """
    cells = [[for_display(cell) for cell in row] for row in (headings, *rows)]
    widths = [max(map(cell_len, column)) for column in zip(*cells, strict=True)]
    _narrow(widths, words)
    return "\n".join(_line(row, widths, words) for row in cells)


def noted(lines: str, notes: Sequence[str]) -> str:
    """A table with a note beneath each row that has one."""
    headings, *rows = lines.split("\n")
    told = [headings]
    for row, note in zip(rows, notes, strict=True):
        told += [row, wrapped(note, start=4, indent=6)] if note else [row]
    return "\n".join(told)


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


def _narrow(widths: list[int], words: Sequence[int]) -> None:
    over = sum(widths) + len(_GAP) * (len(widths) - 1) - WIDTH
    while over > 0:
        widest = max(words, key=lambda column: widths[column])
        if widths[widest] <= _NARROWEST:
            return
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
