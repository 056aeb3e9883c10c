"""What was found by its name, as a table: what kind of thing, the unit's tag, its name, where it is."""

from __future__ import annotations

from bench.domain.faults import STATES
from bench.views.columns import Column, Table
from bench.views.finding_texts import FAULT, JOB, PARTY, FoundLine

KIND_WORDS = {PARTY: "buyer, seller", JOB: "repair job"}


def kind_words(kind: str) -> str:
    """What kind of thing it is, in words."""
    return KIND_WORDS.get(kind, kind)


def place_words(line: FoundLine) -> str:
    """Where it is, or how it stands."""
    return STATES.get(line.place, line.place) if line.kind == FAULT else line.place


FOUND = Table[FoundLine](
    "found",
    "Found",
    (
        Column("Kind", lambda one: kind_words(one.kind), width=13, look="muted"),
        Column("Tag", "tag", width=7, look="strong"),
        Column("What", "name", width=18, grow=1),
        Column("Where", place_words, width=18, grow=2, look="muted"),
    ),
    key=lambda one: (one.kind, one.number),
    empty="Nothing bears these words.",
)
