"""Calendar months and years as spans of days in the shop's zone."""

from __future__ import annotations

import re
from calendar import monthrange
from dataclasses import dataclass
from datetime import date

from bench.domain.localtime import FIRST_YEAR, LAST_YEAR
from bench.domain.text import quoted
from bench.domain.weeks import day_bounds_us
from bench.errors import BadInput

_MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)
_SPAN = re.compile(r"([0-9]{4})(?:-([0-9]{1,2}))?")


@dataclass(frozen=True, slots=True)
class Span:
    """A calendar year, or one month of it."""

    year: int
    month: int | None = None

    def __post_init__(self) -> None:
        if not FIRST_YEAR <= self.year <= LAST_YEAR:
            raise BadInput(f"{self.year} is not a year here.", f"Give one from {FIRST_YEAR} to {LAST_YEAR}.")
        if self.month is not None and not 1 <= self.month <= 12:
            raise BadInput(f"There is no month {self.month}.", "Months run from 1 to 12.")

    def __str__(self) -> str:
        return f"{self.year}" if self.month is None else f"{self.year}-{self.month:02}"

    @classmethod
    def parse(cls, text: str) -> Span:
        """The month written as 2026-11, or the year as 2026; BadInput for anything else."""
        found = _SPAN.fullmatch(text.strip())
        if found is None:
            raise BadInput(f"{quoted(text)} is not a month or a year.", "Write 2026-11, or 2026.")
        return cls(int(found[1]), int(found[2]) if found[2] else None)

    @classmethod
    def month_of(cls, day: date) -> Span:
        """The month that holds this day."""
        return cls(day.year, day.month)

    @property
    def words(self) -> str:
        """Such as November 2026, or 2026."""
        return f"{self.year}" if self.month is None else f"{_MONTHS[self.month - 1]} {self.year}"

    @property
    def first(self) -> date:
        """Its first day."""
        return date(self.year, self.month or 1, 1)

    @property
    def last(self) -> date:
        """Its last day."""
        month = self.month or 12
        return date(self.year, month, monthrange(self.year, month)[1])

    def next(self, n: int = 1) -> Span:
        """The span of the same kind n later; before it for n below 0."""
        if self.month is None:
            return Span(self.year + n)
        months = self.year * 12 + self.month - 1 + n
        return Span(months // 12, months % 12 + 1)

    def months(self) -> tuple[Span, ...]:
        """The months it is made of: twelve, or itself."""
        return (self,) if self.month else tuple(Span(self.year, month) for month in range(1, 13))

    def bounds_us(self, zone: str) -> tuple[int, int]:
        """The instants at which it and what follows begin in that zone."""
        return day_bounds_us(self.first, zone)[0], day_bounds_us(self.last, zone)[1]
