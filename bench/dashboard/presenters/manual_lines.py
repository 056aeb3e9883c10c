"""A page of the manual as lines of the width there is, and where each of its blocks begins."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import zip_longest
from textwrap import wrap
from typing import NamedTuple

from rich.cells import cell_len

from bench.dashboard.presenters.pieces import Line, Part, width_of
from bench.manual.blocks import Block, Kind, Look, plain_of, spans_of
from bench.manual.plain import table_widths

WIDEST = 96  # cells: a longer line is hard to follow
GAP = Part("  ")
LOOKS = {Look.PLAIN: "", Look.CODE: "key", Look.BOLD: "strong", Look.LINK: "heading"}


class PageLines(NamedTuple):
    """The lines, and of each block the number of its first."""

    lines: tuple[Line, ...]
    starts: tuple[int, ...]


def page_lines(blocks: Sequence[Block], width: int, sought: str = "") -> PageLines:
    """The blocks broken between words; what is sought stands out."""
    room = max(min(width - 2, WIDEST), 20)
    lines: list[Line] = []
    starts: list[int] = []
    for at, block in enumerate(blocks):
        follows = block.kind is Kind.ITEM and at > 0 and blocks[at - 1].kind is Kind.ITEM
        if at and not follows:
            lines.append(())
        starts.append(len(lines))
        lines += [_found((Part(" "), *line), sought) for line in _lines(block, room)]
    return PageLines(tuple(lines), tuple(starts))


def holds(block: Block, sought: str) -> bool:
    """Whether a block says this, in whatever capitals."""
    told = "\n".join(plain_of(cell) for row in block.rows for cell in row) or plain_of(block.text)
    return sought.casefold() in told.casefold()


def _lines(block: Block, width: int) -> Iterator[Line]:
    match block.kind:
        case Kind.HEADING:
            look = "heading" if block.level < 3 else "strong"
            text = plain_of(block.text)
            yield (Part(text.upper() if block.level == 1 else text, look),)
        case Kind.CODE:
            for command in block.text.splitlines():
                yield from ((GAP, Part(one, "strong")) for one in _code(command, width - len(GAP.text)))
        case Kind.TABLE:
            yield from _table(block, width)
        case _:
            mark = f"{block.mark} " if block.mark else ""
            for at, line in enumerate(_wrapped(block.text, width - len(mark))):
                yield (Part(mark if at == 0 else " " * len(mark)), *line)


def _code(line: str, width: int) -> list[str]:
    """A command of one line, or of several where there is no room."""
    return (
        [line] if len(line) <= width else wrap(line, width, subsequent_indent="    ", break_on_hyphens=False)
    )


def _table(block: Block, width: int) -> Iterator[Line]:
    widths = table_widths([[plain_of(cell) for cell in row] for row in block.rows], width)
    for at, row in enumerate(block.rows):
        cells = [_wrapped(cell, size) for cell, size in zip(row, widths, strict=True)]
        for line in zip_longest(*cells, fillvalue=()):
            filled = (_filled(cell, size, at) for cell, size in zip(line, widths, strict=True))
            yield tuple(part for cell in filled for part in cell)[:-1]


def _filled(cell: Line, size: int, row: int) -> Line:
    shown = tuple(Part(part.text, "muted") for part in cell) if row == 0 else cell
    return (*shown, Part(" " * (size - width_of(cell))), GAP)


def _wrapped(text: str, width: int) -> list[Line]:
    """Words put into lines; a word may have several looks, as a key with a comma behind it has."""
    lines: list[list[Part]] = [[]]
    for word in _words(text):
        line = lines[-1]
        if line and width_of(line) + 1 + width_of(word) > width:
            lines.append(list(word))
        else:
            lines[-1] += [*([Part(" ")] if line else []), *word]
    return [_joined(line) for line in lines]


def _words(text: str) -> Iterator[list[Part]]:
    word: list[Part] = []
    for span in spans_of(text):
        for at, piece in enumerate(span.text.split(" ")):
            if at and word:
                yield word
                word = []
            if piece:
                word.append(Part(piece, LOOKS[span.look]))
    if word:
        yield word


def _joined(parts: Sequence[Part]) -> Line:
    """Neighbours of one look made one part, so that words of several can be found in it."""
    joined: list[Part] = []
    for at, part in enumerate(parts):
        blank = part.text == " " and 0 < at < len(parts) - 1 and parts[at - 1].look == parts[at + 1].look
        look = parts[at - 1].look if blank else part.look
        if joined and joined[-1].look == look:
            joined[-1] = Part(joined[-1].text + part.text, look)
        else:
            joined.append(Part(part.text, look))
    return tuple(joined)


def _found(line: Line, sought: str) -> Line:
    return tuple(piece for part in line for piece in _split(part, sought.casefold())) if sought else line


def _split(part: Part, sought: str) -> Iterator[Part]:
    text, at = part.text, 0
    folded = text.casefold()
    if len(folded) != len(text):
        yield part
        return
    while (found := folded.find(sought, at)) >= 0:
        if found > at:
            yield Part(text[at:found], part.look)
        yield Part(text[found : found + len(sought)], "selected")
        at = found + len(sought)
    if at < len(text) or cell_len(text) == 0:
        yield Part(text[at:], part.look)
