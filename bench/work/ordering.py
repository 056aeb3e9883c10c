"""Rows that a person moves up and down: stages, the tasks of a unit, the tasks of a route."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol, TypeVar


class Positioned(Protocol):
    """A row with a place among its like."""

    position: int


Row = TypeVar("Row", bound=Positioned)


def shift(rows: Sequence[Row], row: Row, steps: int) -> bool:
    """Move one of the rows, given in order, by so many places (up below 0), no further than the ends.

    Sets the positions again from the first one's; answers whether anything moved.
    """
    before = list(rows)
    after = list(rows)
    at = after.index(row)
    after.pop(at)
    after.insert(max(0, min(at + steps, len(after))), row)
    if after == before:
        return False
    place(after, first=min(one.position for one in before))
    return True


def place(rows: Sequence[Row], first: int = 1) -> None:
    """Number the rows in the order given."""
    for position, row in enumerate(rows, start=first):
        row.position = position
