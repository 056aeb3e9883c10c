"""What is known of one limit or constant, and the sources they come from."""

from __future__ import annotations

from typing import NamedTuple

COMMON_PRACTICE = "common practice, no source"
UNVERIFIED = "unverified"


class Limit(NamedTuple):
    """One limit or constant. `checked`: the day on which source and edition were last looked at, ISO 8601.

    `unverified`: the figure was not read in the source itself nor in a quotation of it.
    """

    id: str
    value: float
    unit: str
    source: str
    edition: str
    checked: str
    unverified: bool = False

    @property
    def whole(self) -> int:
        """The value as the whole number that it is; ValueError where it is none."""
        if self.value != int(self.value):
            raise ValueError(f"{self.id} is {self.value}, not a whole number.")
        return int(self.value)

    @property
    def typed(self) -> str:
        """The value as a person would type it."""
        return f"{self.value:.12g}"

    @property
    def said(self) -> str:
        """Where it comes from, as a screen says it."""
        where = f"{self.source}, {self.edition}" if self.edition else self.source
        return f"{where}, {UNVERIFIED}" if self.unverified else where


class Source(NamedTuple):
    """Where limits come from, in which edition, and when that was last looked at."""

    name: str
    edition: str = ""
    checked: str = "2026-11-26"
    unverified: bool = False

    def of(self, limit_id: str, value: float, unit: str = "") -> Limit:
        """A limit from this source."""
        return Limit(limit_id, float(value), unit, self.name, self.edition, self.checked, self.unverified)


PRACTICE = Source(COMMON_PRACTICE)


def by_id(*limits: Limit) -> dict[str, Limit]:
    """The limits by their id; ValueError where one is given twice."""
    found = {limit.id: limit for limit in limits}
    if len(found) != len(limits):
        raise ValueError("A limit's id is given twice.")
    return found
