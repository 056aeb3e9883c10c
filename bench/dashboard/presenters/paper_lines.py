"""A document in plain text as lines that fit the width there is."""

from __future__ import annotations

from textwrap import wrap

from bench.dashboard.presenters.pieces import Line, Part
from bench.domain.text import for_display


def paper_lines(text: str, width: int) -> tuple[Line, ...]:
    """The text line by line, long ones broken between words under their own beginning."""
    lines: list[Line] = []
    for at, line in enumerate(text.split("\n")):
        look = "strong" if at == 0 else ""
        lines += [(Part(f" {for_display(one)}", look),) for one in _fit(line, max(width - 2, 10))]
    return tuple(lines)


def _fit(line: str, width: int) -> list[str]:
    if len(line) <= width:
        return [line]
    indent = " " * (len(line) - len(line.lstrip()))
    return wrap(line, width, subsequent_indent=f"{indent}  ") or [""]
