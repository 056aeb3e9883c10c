"""A page as plain text for a terminal or a pipe, broken between words."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from textwrap import wrap

from bench.manual.blocks import Block, Kind

INDENT = "    "
_LEAST_COLUMN = 12
_GAP = 2


def page_as_text(blocks: Sequence[Block], width: int) -> str:
    """The blocks as text of at most `width` cells a line; code is not broken."""
    told: list[str] = []
    for at, block in enumerate(blocks):
        follows = at > 0 and block.kind is Kind.ITEM and blocks[at - 1].kind is Kind.ITEM
        if at and not follows:
            told.append("")
        told += _lines(block, width)
    return "\n".join(told)


def table_widths(rows: Sequence[Sequence[str]], room: int) -> tuple[int, ...]:
    """A width for each column of a table: what its cells need; the widest gives way if there is no room."""
    widths = [max(len(cell) for cell in column) for column in zip(*rows, strict=True)]
    room -= _GAP * (len(widths) - 1)
    while sum(widths) > room and max(widths) > _LEAST_COLUMN:
        widths[widths.index(max(widths))] -= 1
    return tuple(widths)


def _lines(block: Block, width: int) -> Iterator[str]:
    match block.kind:
        case Kind.HEADING:
            words = unmarked(block.text)
            yield words.upper() if block.level == 1 else words
        case Kind.CODE:
            yield from (f"{INDENT}{line}".rstrip() for line in block.text.splitlines())
        case Kind.TABLE:
            yield from _table(block, width)
        case Kind.ITEM:
            mark = f"{block.mark} "
            yield from _wrapped(unmarked(block.text), width, mark, " " * len(mark))
        case Kind.PARAGRAPH:
            yield from _wrapped(unmarked(block.text), width)


def unmarked(text: str) -> str:
    """The text with its bold and its links plain; `code` keeps its marks, which tell a key from a letter."""
    return re.sub(r"\[([^\]]+)\]\([^)]*\)", r"\1", text.replace("**", ""))


def _wrapped(text: str, width: int, first: str = "", then: str = "") -> list[str]:
    return wrap(
        text,
        width,
        initial_indent=first,
        subsequent_indent=then,
        break_on_hyphens=False,
        break_long_words=False,
    )


def _table(block: Block, width: int) -> Iterator[str]:
    rows = [[unmarked(cell) for cell in row] for row in block.rows]
    widths = table_widths(rows, width)
    for row in rows:
        cells = [wrap(cell, size) or [""] for cell, size in zip(row, widths, strict=True)]
        for at in range(max(map(len, cells))):
            shown = (
                f"{lines[at] if at < len(lines) else '':<{size}}"
                for lines, size in zip(cells, widths, strict=True)
            )
            yield (" " * _GAP).join(shown).rstrip()
