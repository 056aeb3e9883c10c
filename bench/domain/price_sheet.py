"""A walk-away price as it is shown: the sum, the names to show it by, and the rows behind its lines."""

from __future__ import annotations

from dataclasses import dataclass

from bench.domain.amounts import Instant, Length, Minor
from bench.domain.price_at_risk import PriceAtRisk
from bench.domain.walk_away import TimeGuess, UseCost, WalkAway


@dataclass(frozen=True, slots=True)
class PriceSheet:
    """A walk-away price and how sure it is. Money in minor units of `currency`.

    `doubts`: plain sentences on what the sum leaves out or rests on weakly.
    """

    route_id: int | None
    route: str
    channel_id: int | None
    channel: str
    time: TimeGuess
    answer: WalkAway
    risk: PriceAtRisk
    doubts: tuple[str, ...]
    asking_minor: Minor | None
    currency: str

    @property
    def over_minor(self) -> Minor | None:
        """By how much the asking price lies above the walk-away price; below 0 when it lies under it."""
        return None if self.asking_minor is None else self.asking_minor - self.answer.price_minor


@dataclass(frozen=True, slots=True)
class PastJob:
    """A finished job of a route, with the attended time it took. `finished_us`: when its last task ended."""

    unit_id: int
    tag: str
    model: str
    attended_us: Length
    finished_us: Instant


@dataclass(frozen=True, slots=True)
class PriceRow:
    """A row behind a line of the sum. Amounts in minor units, None where the row is a time or a setting."""

    words: str
    detail: str
    amount_minor: Minor | None = None
    length_us: Length | None = None
    unit_id: int | None = None


@dataclass(frozen=True, slots=True)
class PriceRows:
    """The rows behind one line of a walk-away price."""

    title: str
    rows: tuple[PriceRow, ...]
    currency: str
    zone: str


@dataclass(frozen=True, slots=True)
class RouteCost:
    """What a route takes: each consumable with its cost, and the sum in minor units."""

    uses: tuple[UseCost, ...]

    @property
    def cost_minor(self) -> Minor:
        """All the consumables of one job."""
        return sum(use.cost_minor for use in self.uses)
