"""Digits that are read from a metre away, five dots high, each dot made of whole cells."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

HEIGHT = 5


class Size(NamedTuple):
    """How many cells wide and rows high each dot of a letter is."""

    cells: int
    rows: int


SIZES = (Size(5, 3), Size(3, 2), Size(2, 1))
_SHAPES = {
    "0": ("###", "# #", "# #", "# #", "###"),
    "1": (" # ", "## ", " # ", " # ", "###"),
    "2": ("###", "  #", "###", "#  ", "###"),
    "3": ("###", "  #", " ##", "  #", "###"),
    "4": ("# #", "# #", "###", "  #", "  #"),
    "5": ("###", "#  ", "###", "  #", "###"),
    "6": ("###", "#  ", "###", "# #", "###"),
    "7": ("###", "  #", "  #", " # ", " # "),
    "8": ("###", "# #", "###", "# #", "###"),
    "9": ("###", "# #", "###", "  #", "###"),
    ":": (" ", "#", " ", "#", " "),
    " ": (" ", " ", " ", " ", " "),
}


def can_be_large(text: str) -> bool:
    """Whether there is a shape for every character."""
    return all(character in _SHAPES for character in text)


def large(text: str, size: Size = SIZES[-1]) -> tuple[str, ...]:
    """The rows of the text in large letters, each as wide as the others. `text`: digits, colons, blanks."""
    full, blank = "█" * size.cells, " " * size.cells
    rows = []
    for row in range(HEIGHT):
        shapes = (_SHAPES[character][row] for character in text)
        line = blank.join("".join(full if one == "#" else blank for one in shape) for shape in shapes)
        rows += [line] * size.rows
    return tuple(rows)


def large_width(text: str, size: Size = SIZES[-1]) -> int:
    """How many cells `large` takes."""
    return len(large(text, size)[0]) if text else 0


def largest(texts: Sequence[str], gap: int, width: int, height: int) -> Size | None:
    """The largest size at which the texts stand beside each other within this room; None where none does."""
    for size in SIZES:
        taken = sum(large_width(text, size) for text in texts) + gap * (len(texts) - 1)
        if taken <= width and HEIGHT * size.rows <= height:
            return size
    return None
