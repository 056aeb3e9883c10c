"""Letters that are read from a metre away, five dots high, each dot made of whole cells or of half a one."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Sequence
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
    "A": (" # ", "# #", "###", "# #", "# #"),
    "B": ("## ", "# #", "## ", "# #", "## "),
    "C": (" ##", "#  ", "#  ", "#  ", " ##"),
    "D": ("## ", "# #", "# #", "# #", "## "),
    "E": ("###", "#  ", "## ", "#  ", "###"),
    "F": ("###", "#  ", "## ", "#  ", "#  "),
    "G": (" ##", "#  ", "# #", "# #", " ##"),
    "H": ("# #", "# #", "###", "# #", "# #"),
    "I": ("###", " # ", " # ", " # ", "###"),
    "J": ("  #", "  #", "  #", "# #", " # "),
    "K": ("# #", "# #", "## ", "# #", "# #"),
    "L": ("#  ", "#  ", "#  ", "#  ", "###"),
    "M": ("#   #", "## ##", "# # #", "#   #", "#   #"),
    "N": ("#  #", "## #", "# ##", "#  #", "#  #"),
    "O": (" ## ", "#  #", "#  #", "#  #", " ## "),
    "P": ("## ", "# #", "## ", "#  ", "#  "),
    "Q": (" ## ", "#  #", "#  #", "# ##", " ###"),
    "R": ("## ", "# #", "## ", "# #", "# #"),
    "S": (" ##", "#  ", " # ", "  #", "## "),
    "T": ("###", " # ", " # ", " # ", " # "),
    "U": ("# #", "# #", "# #", "# #", "###"),
    "V": ("# #", "# #", "# #", "# #", " # "),
    "W": ("#   #", "#   #", "# # #", "## ##", "#   #"),
    "X": ("# #", "# #", " # ", "# #", "# #"),
    "Y": ("# #", "# #", " # ", " # ", " # "),
    "Z": ("###", "  #", " # ", "#  ", "###"),
    "-": ("  ", "  ", "##", "  ", "  "),
    "+": ("   ", " # ", "###", " # ", "   "),
    ".": (" ", " ", " ", " ", "#"),
    ",": ("  ", "  ", "  ", " #", "# "),
    "'": ("#", "#", " ", " ", " "),
    "/": ("  #", "  #", " # ", "#  ", "#  "),
    "%": ("# #", "  #", " # ", "#  ", "# #"),
    "(": (" #", "# ", "# ", "# ", " #"),
    ")": ("# ", " #", " #", " #", "# "),
    ":": (" ", "#", " ", "#", " "),
    " ": (" ", " ", " ", " ", " "),
}
_HALVES = {("#", "#"): "█", ("#", " "): "▀", (" ", "#"): "▄", (" ", " "): " "}


def can_be_large(text: str) -> bool:
    """Whether there is a shape for every character."""
    return all(character in _SHAPES for character in text)


def capitals(text: str) -> str:
    """The text in capitals without accents, as there are shapes for."""
    apart = unicodedata.normalize("NFKD", text.upper())
    return "".join(one for one in apart if not unicodedata.combining(one))


def large_words(text: str, width: int, height: int) -> tuple[str, ...] | None:
    """The text in the largest capitals that hold it on two lines in this room; None where none do."""
    told = capitals(text)
    if not can_be_large(told):
        return None
    for draw, high, wide in ((large, HEIGHT, large_width), (_halved, HEIGHT // 2 + 1, _halved_width)):
        lines = _broken(told, width, wide)
        if lines is not None and len(lines) * (high + 1) - 1 <= height:
            rows = [row for line in lines for row in ("", *draw(line))]
            return tuple(rows[1:])
    return None


def _broken(text: str, width: int, wide: Callable[[str], int]) -> list[str] | None:
    """The text on as few lines as hold it; None where it wants more than there may be."""
    words = text.split()
    for first in range(len(words), 0, -1):
        lines = [" ".join(words[:first]), " ".join(words[first:])]
        lines = [line for line in lines if line]
        if all(wide(line) <= width for line in lines):
            return lines
    return None


def _halved(text: str) -> tuple[str, ...]:
    """The text with two dots above each other in one cell: three rows high."""
    dots = [line.replace("█", "#") for line in large(text, Size(1, 1))]
    dots.append(" " * len(dots[0]))
    pairs = zip(dots[::2], dots[1::2], strict=True)
    return tuple("".join(_HALVES[both] for both in zip(*pair, strict=True)) for pair in pairs)


def _halved_width(text: str) -> int:
    return large_width(text, Size(1, 1))


def large(text: str, size: Size = SIZES[-1]) -> tuple[str, ...]:
    """The rows of the text in large letters, each as wide as the others. `text`: what `can_be_large`."""
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
