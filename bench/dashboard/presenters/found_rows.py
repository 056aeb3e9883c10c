"""What was found, as rows: things of the shop, and what can be done or opened."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from bench.dashboard.presenters.pieces import Part
from bench.dashboard.presenters.rows import Row, cell
from bench.views.finding_texts import FoundLine
from bench.views.kinds import PLAIN
from bench.views.tables.finding import FOUND, kind_words

NO_WORDS = "tag or part of it, serial number, model, name, or what you want to do"


class EntryLike(Protocol):
    """Something found that is no row of the file."""

    @property
    def kind(self) -> str:
        """What kind of thing, in a word."""

    @property
    def key(self) -> str:
        """The key that does it."""

    @property
    def name(self) -> str:
        """In a word."""

    @property
    def line(self) -> str:
        """In a sentence."""


def found_rows(found: Sequence[FoundLine | EntryLike]) -> tuple[Row, ...]:
    """A row each; the key of a row is its place. What is done by a key shows that where things have a tag."""
    return tuple(Row(at, _cells(one)) for at, one in enumerate(found))


def _cells(one: FoundLine | EntryLike) -> tuple[Part, ...]:
    if isinstance(one, FoundLine):
        return tuple(cell(column.words(one, PLAIN), column.look_of(one)) for column in FOUND.columns)
    kind = cell(kind_words(one.kind), "muted")
    return (kind, cell(one.key, "key"), cell(one.name, "strong"), cell(one.line, "muted"))
