"""What units sold earned, and what an hour at the bench earned on them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from bench.domain.amounts import Length, Minor
from bench.domain.unit_money import per_hour_minor


@dataclass(frozen=True, slots=True)
class SoldUnit:
    """A unit that is sold: its margin before labour, and the attended time ever spent on it.

    `missing`: costs of it that were not typed; the margin is then at most as much.
    """

    unit_id: int
    tag: str
    model: str
    sold_on: date
    margin_minor: Minor
    attended_us: Length
    missing: tuple[str, ...] = ()

    @property
    def per_hour_minor(self) -> Minor | None:
        """Its margin by its hours; None without any."""
        return per_hour_minor(self.margin_minor, self.attended_us)


@dataclass(frozen=True, slots=True)
class Earned:
    """What units earned. `units`, `margin_minor`, `attended_us`: of those sold in the span and still sold.

    `incomplete`: units of which a cost was not typed; with any, the margin is at most as much.
    `spent_us`: attended time within the span on all units of the kind, sold or not.
    """

    name: str
    units: int
    margin_minor: Minor
    attended_us: Length
    spent_us: Length
    incomplete: int = 0

    @property
    def per_hour_minor(self) -> Minor | None:
        """Margin by all the hours spent on what was sold; None without any."""
        return per_hour_minor(self.margin_minor, self.attended_us) if self.units else None

    @property
    def per_spent_hour_minor(self) -> Minor | None:
        """The same margin by the hours spent within the span; None without any."""
        return per_hour_minor(self.margin_minor, self.spent_us)


def earned(name: str, sold: Iterable[SoldUnit], spent_us: int) -> Earned:
    """The sum of some units sold, beside the time spent within the span on all of their kind."""
    units = list(sold)
    margin = sum(one.margin_minor for one in units)
    incomplete = sum(bool(one.missing) for one in units)
    return Earned(name, len(units), margin, sum(one.attended_us for one in units), spent_us, incomplete)
