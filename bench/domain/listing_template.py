"""In whose words a listing stands: a text with names such as $faults, where the records are put in.

The names are those of `string.Template`, and $$ is a dollar sign.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from string import Template
from typing import NamedTuple

from bench.domain.text import clean_note
from bench.errors import BadInput

SHORT = {
    "title": "maker and model",
    "tag": "the unit's tag",
    "shop": "the shop's name",
    "price": "the price asked",
    "grade": "the grade of the whole",
    "shipping": "what sending it costs",
    "warranty": "the shop's warranty",
}
LISTS = {
    "specification": "what it is made of",
    "condition": "grades of its parts",
    "faults": "every open fault, and wear",
    "renewed": "parts put in, readings before and after",
    "measured": "the newest figures",
    "work": "what was done, of the tasks marked public",
    "drives": "drives and how they were wiped",
    "not_tested": "what nobody tested",
    "to_do": "public tasks that are still open",
    "photographs": "the photographs that go into papers",
}
NAMES = {**SHORT, **LISTS}
MUST = ("faults", "not_tested")

BUILT_IN = """\
$title
$price

$grade

Specification
$specification

Faults and wear
$faults

Parts
$condition

Renewed
$renewed

Measured
$measured

Work done
$work

Drives
$drives

Not tested
$not_tested

Still to be done when this was written
$to_do

Shipping and warranty
$shipping
$warranty

Photographs
$photographs"""

_EMPTY_LINES = re.compile(r"\n(?: *\n)+")

Value = str | tuple[str, ...]


class Line(NamedTuple):
    """A line with its names filled in; or, where a list's name stood alone in it, that name and the list."""

    words: str
    name: str = ""
    listed: tuple[str, ...] = ()


Paragraph = tuple[Line, ...]


def read_template(text: str) -> str:
    """A template fit to keep; empty for the built-in one, or for nothing typed.

    BadInput for a name that no listing knows, for a $ that begins none, and where the faults or what was not
    tested are left out.
    """
    template = clean_note(text, "The template")
    if template in ("", BUILT_IN):
        return ""
    made = Template(template)
    if not made.is_valid():
        raise BadInput("A $ in the template begins no name.", "Type $$ for a dollar sign.")
    names = made.get_identifiers()
    unknown = [name for name in names if name not in NAMES]
    if unknown:
        raise BadInput(f"A listing knows no name {_signs(unknown)}.", f"It knows {_signs(NAMES)}.")
    missing = [name for name in MUST if name not in names]
    if missing:
        raise BadInput(
            f"The template leaves out {_signs(missing)}.",
            "A buyer must be told every open fault and what was not tested: put it in.",
        )
    return template


def filled(template: str, values: Mapping[str, Value]) -> tuple[Paragraph, ...]:
    """The template (empty: the built-in one) with its names filled in, a paragraph between two empty lines.

    A line whose names all stand for nothing goes, and a paragraph where no line with a name is left. What is
    filled in is never read for names.
    """
    blocks = (block.split("\n") for block in _EMPTY_LINES.split(template or BUILT_IN))
    return tuple(found for block in blocks if (found := _paragraph(block, values)))


def _paragraph(lines: Iterable[str], values: Mapping[str, Value]) -> Paragraph:
    kept: list[Line] = []
    named = left = 0
    for line in lines:
        names = Template(line).get_identifiers()
        there = [name for name in names if values.get(name)]
        named, left = named + bool(names), left + bool(there)
        if (there or not names) and line.strip():
            kept.append(_line(line, names, values))
    return tuple(kept) if left or not named else ()


def _line(line: str, names: list[str], values: Mapping[str, Value]) -> Line:
    if len(names) == 1 and line.strip() in (f"${names[0]}", f"${{{names[0]}}}"):
        value = values[names[0]]
        return Line(value) if isinstance(value, str) else Line("", names[0], value)
    words = {name: value if isinstance(value, str) else "; ".join(value) for name, value in values.items()}
    return Line(Template(line).substitute({name: words.get(name, "") for name in names}))


def _signs(names: Iterable[str]) -> str:
    return ", ".join(f"${name}" for name in names)
