"""Blocks as a page for `man`: the macros of man(7), as groff and mandoc both read them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from bench.manual.blocks import Block, Kind, Look, spans_of

# What groff would set otherwise than typed: the hyphen of a minus, quotes, the caret, the tilde.
_ESCAPES = {"\\": r"\e", "-": r"\-", "'": r"\(aq", "`": r"\(ga", "^": r"\(ha", "~": r"\(ti"}
_MARKS = {"-": r"\(bu"}
_FONTS = {Look.CODE: r"\fB", Look.BOLD: r"\fI", Look.LINK: r"\fI"}


def literal(text: str) -> str:
    """Text as typed, nothing of it read as an escape."""
    return "".join(_ESCAPES.get(letter, letter) for letter in text)


def head(name: str, day: str, source: str) -> str:
    """The first line of a page of section 1."""
    return f'.TH {name.upper()} 1 {day} "{source}" "User Commands"\n'


def section(title: str, text: str) -> str:
    """A section of some roff."""
    return f".SH {literal(title.upper())}\n{text}"


def term(tag: str, text: str) -> str:
    """A word, bold, and what it means set in beneath."""
    return f".TP\n.B {literal(tag)}\n{line_of(text)}\n"


def line_of(text: str) -> str:
    """A block's text on one line, its spans in their fonts."""
    told = "".join(
        f"{_FONTS[span.look]}{literal(span.text)}\\fR" if span.look in _FONTS else literal(span.text)
        for span in spans_of(text)
    )
    return _guarded(told)


def roff_of(blocks: Sequence[Block]) -> str:
    """The blocks, a page's title as a section and its headings as parts of it."""
    lines = [line for block in blocks for line in _lines(block)]
    return "".join(
        f"{line}\n" for line, before in zip(lines, ["", *lines], strict=False) if _stands(line, before)
    )


def _stands(line: str, before: str) -> bool:
    """Whether a line says something: a heading begins a paragraph by itself."""
    return line != ".PP" or not before.startswith((".SH", ".SS"))


def _guarded(line: str) -> str:
    """A line that begins with a control character, made text."""
    return rf"\&{line}" if line.startswith((".", "'")) else line


def _lines(block: Block) -> Iterator[str]:
    match block.kind:
        case Kind.HEADING:
            text = block.text.upper() if block.level == 1 else block.text
            yield f"{'.SH' if block.level == 1 else '.SS'} {literal(re.sub('`', '', text))}"
        case Kind.PARAGRAPH:
            yield ".PP"
            yield line_of(block.text)
        case Kind.ITEM:
            yield f".IP {_MARKS.get(block.mark, block.mark)} 4"
            yield line_of(block.text)
        case Kind.CODE:
            yield from (".PP", ".RS 4", ".nf")
            yield from (_guarded(literal(line)) or r"\&" for line in block.text.splitlines())
            yield from (".fi", ".RE")
        case Kind.TABLE:
            for first, *others in block.rows[1:]:
                yield from (".TP", line_of(first), line_of("; ".join(filter(None, others))))
