"""What a buyer reads of a unit's grades and readings, as tables."""

from __future__ import annotations

from bench.views.buyer_sheet import BeforeAfter
from bench.views.columns import Column, Table
from bench.views.grades import GradeLine


def function_words(line: GradeLine) -> str:
    """How a part works, in the shop's words."""
    if line.grade_id is None:
        return "not graded"
    return line.function.name if line.function else ("not said" if line.tested else "not tested")


def looks_words(line: GradeLine) -> str:
    """How it looks, in the shop's words."""
    if line.grade_id is None:
        return "not graded"
    return line.looks.name if line.looks else "not said"


def _subject(line: BeforeAfter) -> str:
    return f"{line.subject}, {line.part}" if line.part else line.subject


GRADED = Table[GradeLine](
    "graded",
    "Grades",
    (
        Column("", "label"),
        Column("Function", function_words),
        Column("Looks", looks_words),
        Column("", "sentence", beneath=True),
    ),
    key="part",
)
MEASURED = Table[BeforeAfter](
    "measured",
    "Before and after the work",
    (
        Column("", _subject),
        Column("", "label"),
        Column("Before", lambda line: line.before or None),
        Column("After", lambda line: line.after or None),
    ),
    key="label",
)
