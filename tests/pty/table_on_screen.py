"""A table as it stands on the screen: its cells by the headings over them, wherever its columns are."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from tests.pty.terminal import Terminal

WORDS = re.compile(r"\S+(?: \S+)*")  # two blanks part one column from the next
CURSOR, FRAME, CUT = "▌", "│", "…"


class Piece(NamedTuple):
    """Words of a line, and the cells from `start` to `stop` that they take."""

    words: str
    start: int
    stop: int


def rows_under(text: str, headings: tuple[str, ...]) -> list[dict[str, str]]:
    """The rows of the table whose headings are these and perhaps more; empty where there is none.

    A cell goes by the heading that it shares most of its place with; its currency is left out.
    """
    lines = text.splitlines()
    for at, line in enumerate(lines):
        for edge, pieces in _panels(line):
            if {piece.words for piece in pieces} >= set(headings):
                below = (dict(_panels(one)).get(edge, []) for one in lines[at + 1 :])
                return [_row(pieces, cells) for cells in _until_end(below)]
    return []


def row_reads(terminal: Terminal, cells: Mapping[str, str]) -> None:
    """Wait until a row of the table with these headings has these cells, or what shows of one that is cut."""

    def holds(text: str) -> bool:
        rows = rows_under(text, tuple(cells))
        return any(all(_tells(row[name], words) for name, words in cells.items()) for row in rows)

    terminal.wait_until(holds, f"a row with {dict(cells)}")


def line_reads(terminal: Terminal, *parts: str) -> None:
    """Wait until a line of the screen has these one after the other, whatever blanks lie between."""
    words = " ".join(parts).split()

    def holds(text: str) -> bool:
        return any(_in_order(words, line.replace(FRAME, " ").split()) for line in text.splitlines())

    terminal.wait_until(holds, f"a line with {parts}")


def _tells(cell: str, words: str) -> bool:
    return words.startswith(cell[:-1]) if cell.endswith(CUT) else cell == words


def _in_order(words: list[str], line: list[str]) -> bool:
    return any(line[at : at + len(words)] == words for at in range(len(line)))


def _panels(line: str) -> Iterator[tuple[int, list[Piece]]]:
    """What stands in each panel of a line, by the place of the panel's left edge."""
    edge = 0
    for part in line.split(FRAME):
        plain = part.replace(CURSOR, " ")
        yield edge, [Piece(one[0], edge + one.start(), edge + one.end()) for one in WORDS.finditer(plain)]
        edge += len(part) + 1


def _until_end(below: Iterator[list[Piece]]) -> Iterator[list[Piece]]:
    for cells in below:
        if not cells:
            return
        yield cells


def _row(headings: list[Piece], cells: list[Piece]) -> dict[str, str]:
    row = {heading.words: "" for heading in headings}
    for cell in cells:
        best = max(
            headings, key=lambda heading: min(heading.stop, cell.stop) - max(heading.start, cell.start)
        )
        row[best.words] = cell.words.removesuffix(" EUR")
    return row
