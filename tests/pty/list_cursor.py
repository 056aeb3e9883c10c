"""The cursor of the list that has the focus, and how a person brings it to a line that they can read."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import NamedTuple

from tests.pty.at_the_bench import DOWN, UP
from tests.pty.terminal import Terminal

MARK, FRAME = "▌", "│"


class Under(NamedTuple):
    """The line under the cursor: where its mark stands, and what it says to the edge of its panel."""

    row: int
    column: int
    words: str


def under_cursor(text: str) -> Under | None:
    """The first line with the cursor's mark at the left edge of its panel; None where none has it."""
    for row, line in enumerate(text.splitlines()):
        column = line.find(MARK)
        if column == 0 or (column > 0 and line[column - 1] == FRAME):
            return Under(row, column, _to_the_edge(line, column))
    return None


def cursor_to(terminal: Terminal, words: str) -> None:
    """Bring the cursor to the line with these words, up or down; down where none shows them.

    It has moved where it stands in another row: the same row may be told again meanwhile. Only towards a line
    that does not show yet, another line in the same row counts too, for there the list scrolls.
    """
    here = _waited(terminal, lambda _: True)
    while words not in here.words:
        lines = terminal.text().splitlines()
        shown = [row for row, line in enumerate(lines) if words in _to_the_edge(line, here.column)]
        nearest = min(shown, key=lambda row: abs(row - here.row), default=None)
        terminal.send(UP if nearest is not None and nearest < here.row else DOWN)
        here = _waited(terminal, partial(_moved, here, nearest is not None))


def _moved(before: Under, in_sight: bool, now: Under) -> bool:
    return now.row != before.row if in_sight else now != before


def _waited(terminal: Terminal, holds: Callable[[Under], bool]) -> Under:
    """The line under the cursor, once it is as asked."""

    def found(text: str) -> bool:
        here = under_cursor(text)
        return here is not None and holds(here)

    here = under_cursor(terminal.wait_until(found, "the cursor on another line"))
    assert here is not None
    return here


def _to_the_edge(line: str, column: int) -> str:
    """What stands in this panel: nothing where a frame or a title runs through its edge."""
    inside = column == 0 or line[column - 1 : column] == FRAME
    return line[column + 1 :].partition(FRAME)[0] if inside else ""
