"""Lots as they are typed and shown: units for one price, each one's share, and what a sharing changed."""

from __future__ import annotations

from dataclasses import dataclass

from bench.domain.amounts import Minor

# The rule, to be shown beside any sharing.
SHARING_RULE = (
    "The price is shared by what each unit is expected to sell for, to the last minor unit: largest "
    "remainder, of equal ones the earlier unit; equal parts where nothing is expected of any. A donor counts "
    "with what is expected of its parts, 0 unless typed. A unit already sold keeps its share."
)


@dataclass(frozen=True, slots=True)
class LotUnit:
    """One unit of a lot as typed. `donor`: kept for its parts."""

    maker: str
    model: str
    serial: str = ""
    route_id: int | None = None
    expected_text: str = ""
    note: str = ""
    tag_text: str = ""
    donor: bool = False


@dataclass(frozen=True, slots=True)
class LotPart:
    """What of a lot's cost falls to a unit: its price, the buyer's premium in that, the freight on top."""

    price_minor: Minor
    premium_minor: Minor
    freight_minor: Minor


@dataclass(frozen=True, slots=True)
class Share:
    """A unit's share of its lot before and after a sharing, in minor units."""

    unit_id: int
    tag: str
    old_minor: Minor
    new_minor: Minor


@dataclass(frozen=True, slots=True)
class LotBought:
    """A new lot and the shares of its units, in the order typed."""

    lot_id: int
    name: str
    price_minor: Minor
    shares: tuple[Share, ...]
    currency: str


@dataclass(frozen=True, slots=True)
class LotReshared:
    """A lot shared anew: every unit's share before and after. They add up to the same price."""

    lot_id: int
    name: str
    price_minor: Minor
    shares: tuple[Share, ...]
    currency: str


@dataclass(frozen=True, slots=True)
class DonorMade:
    """A unit now kept for its parts, or no longer. `shares`: of its lot, where that was shared anew too."""

    unit_id: int
    tag: str
    donor: bool
    expected_minor: Minor
    lot_id: int | None
    shares: tuple[Share, ...]
    currency: str
