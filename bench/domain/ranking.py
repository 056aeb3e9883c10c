"""What next: the order in which units earn most for the time still to spend."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from bench.domain.amounts import Minor


@dataclass(frozen=True, slots=True)
class Candidate:
    """A unit that waits. `to_earn_minor`: margin still to earn; `minutes_left`: attended minutes to spend."""

    unit_id: int
    tag: str
    to_earn_minor: Minor
    minutes_left: int
    due_on: date | None = None


@dataclass(frozen=True, slots=True)
class Ranked:
    """A unit's place in the order, and the reason for it."""

    unit_id: int
    tag: str
    place: int
    past_due: bool
    to_earn_minor: Minor
    minutes_left: int


def smith_ratio(weight: int, time: int) -> Fraction:
    """Weight by time, exactly; work that takes no more time comes before all other.

    Largest first gives the least sum of weighted finishing times.
    Source: W. E. Smith, Various optimizers for single-stage production, Naval Research Logistics
    Quarterly 3 (1956), 59-66.
    """
    return Fraction(weight, time) if time > 0 else Fraction(10**18 if weight >= 0 else -(10**18))


def rank(candidates: Iterable[Candidate], today: date) -> tuple[Ranked, ...]:
    """Units due today or past due first, oldest due date first; then by Smith's ratio, due date and tag."""

    def order(unit: Candidate) -> tuple[int, date, Fraction, date, str]:
        due = unit.due_on or date.max
        ratio = -smith_ratio(unit.to_earn_minor, unit.minutes_left)
        return (0, due, ratio, due, unit.tag) if due <= today else (1, date.max, ratio, due, unit.tag)

    return tuple(
        Ranked(
            unit_id=unit.unit_id,
            tag=unit.tag,
            place=place,
            past_due=unit.due_on is not None and unit.due_on < today,
            to_earn_minor=unit.to_earn_minor,
            minutes_left=unit.minutes_left,
        )
        for place, unit in enumerate(sorted(candidates, key=order), start=1)
    )
