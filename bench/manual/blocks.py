"""A page's Markdown as blocks: headings, paragraphs, list items, code and tables; and text as spans.

Only what the pages use: `#` headings, `-` and `1.` items, fenced code, tables, and within a line `code`,
**bold** and [links](page.md).
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from enum import Enum
from typing import NamedTuple


class Kind(Enum):
    """What a block is."""

    HEADING = "heading"
    PARAGRAPH = "paragraph"
    ITEM = "item"
    CODE = "code"
    TABLE = "table"


class Block(NamedTuple):
    """A block. `level`: of a heading; `mark`: before an item; `rows`: a table's, the first its headings."""

    kind: Kind
    text: str = ""
    level: int = 0
    mark: str = ""
    rows: tuple[tuple[str, ...], ...] = ()

    @property
    def anchor(self) -> str:
        """The name by which a heading is gone to: `On hold` is on-hold."""
        return anchor_of(self.text)


class Look(Enum):
    """How a span stands out."""

    PLAIN = "plain"
    CODE = "code"
    BOLD = "bold"
    LINK = "link"


class Span(NamedTuple):
    """Some text of one look."""

    text: str
    look: Look


_HEADING = re.compile(r"(#{1,3}) (.+)")
_ITEM = re.compile(r"(- |\d+\. )(.+)")
_SPAN = re.compile(r"`([^`]+)`|\*\*([^*]+)\*\*|\[([^\]]+)\]\([^)]*\)")
_RULE = re.compile(r"\|( ?-+ ?\|)+")
_FENCE = "```"


def anchor_of(heading: str) -> str:
    """A heading in small letters and digits with - between."""
    return "-".join(re.findall(r"[a-z0-9]+", heading.casefold()))


def blocks_of(text: str) -> tuple[Block, ...]:
    """The blocks of a page in their order; comments are left out."""
    return tuple(_blocks(re.sub(r"<!--.*?-->\n?", "", text, flags=re.DOTALL).splitlines()))


def spans_of(text: str) -> tuple[Span, ...]:
    """The text of a block, without its marks, as spans that each have one look."""
    return tuple(span for span in _spans(text) if span.text)


def plain_of(text: str) -> str:
    """The text of a block without its marks."""
    return "".join(span.text for span in spans_of(text))


def _spans(text: str) -> Iterator[Span]:
    at = 0
    for found in _SPAN.finditer(text):
        yield Span(text[at : found.start()], Look.PLAIN)
        code, bold, link = found.groups()
        if code is not None:
            yield Span(code, Look.CODE)
        elif bold is not None:
            yield Span(bold, Look.BOLD)
        else:
            yield Span(link, Look.LINK)
        at = found.end()
    yield Span(text[at:], Look.PLAIN)


def _blocks(lines: list[str]) -> Iterator[Block]:
    at = 0
    while at < len(lines):
        line = lines[at]
        if line.startswith(_FENCE):
            end = next(one for one in range(at + 1, len(lines)) if lines[one].startswith(_FENCE))
            yield Block(Kind.CODE, "\n".join(lines[at + 1 : end]))
        elif heading := _HEADING.fullmatch(line):
            end = at
            yield Block(Kind.HEADING, heading[2], level=len(heading[1]))
        elif line.startswith("|"):
            end = _end(lines, at, lambda one: not one.startswith("|"))
            yield Block(Kind.TABLE, rows=tuple(_rows(lines[at : end + 1])))
        elif line.strip():
            end = _end(lines, at, _begins_another)
            yield _text_block(" ".join(one.strip() for one in lines[at : end + 1]))
        else:
            end = at
        at = end + 1


def _text_block(text: str) -> Block:
    item = _ITEM.fullmatch(text)
    return Block(Kind.ITEM, item[2], mark=item[1].strip()) if item else Block(Kind.PARAGRAPH, text)


def _begins_another(line: str) -> bool:
    return (
        not line.strip() or line.startswith((_FENCE, "|")) or bool(_HEADING.match(line) or _ITEM.match(line))
    )


def _end(lines: list[str], at: int, ends: Callable[[str], bool]) -> int:
    """The last line of what begins at `at` and goes on until a line that `ends` it."""
    end = at
    while end + 1 < len(lines) and not ends(lines[end + 1]):
        end += 1
    return end


def _rows(lines: list[str]) -> Iterator[tuple[str, ...]]:
    for line in lines:
        if not _RULE.fullmatch(line):
            yield tuple(cell.strip() for cell in line.strip("|").split(" | "))
