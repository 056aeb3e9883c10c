"""People and firms traded with, and from when a private person's data may be erased, as text."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from bench.reports.plain_tables import sections, told, wrapped
from bench.views.parties import PartyLine
from bench.views.tables.register import PEOPLE, Person

RULE = (
    "Private people's data may go so many years after the last business with them as the shop's settings "
    "say; until then the register needs them. Local law comes first."
)


def parties_text(lines: Sequence[PartyLine], today: date) -> str:
    """A line each, the number first by which a command names it."""
    people = told(PEOPLE, [Person(line, today) for line in lines])
    return sections(people, wrapped(RULE) if lines else "")
