"""Lots: several units for one price, shared by what each is expected to sell for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bench.domain.amounts import Minor
from bench.domain.money import share
from bench.errors import BadInput


def lot_weights(expected_minor: Sequence[int | None], donors: Sequence[bool]) -> tuple[int, ...]:
    """What a lot's price is shared by: what each unit is expected to sell for, in minor units.

    Where nothing is expected of any, units kept whole count alike and donors nothing.
    """
    if any(expected_minor) or all(donors):
        return tuple(value or 0 for value in expected_minor)
    return tuple(0 if donor else 1 for donor in donors)


def share_lot(price_minor: int, expected_minor: Sequence[int]) -> tuple[int, ...]:
    """Each unit's part of a lot's price, in minor units that add up to it exactly.

    Relative sales value: in proportion to what each is expected to sell for, equal parts where nothing is
    expected of any. Rounding: largest remainder, of equal ones the earlier unit.
    Source: joint-cost allocation by relative sales value, as in reference texts of cost accounting.
    """
    if not expected_minor:
        raise BadInput("There is no unit in the lot.", "Add at least one.")
    if price_minor < 0 or min(expected_minor) < 0:
        raise BadInput("A price cannot be below zero.", "Give 0 or more.")
    return share(price_minor, expected_minor if any(expected_minor) else [1] * len(expected_minor))


# The rule, to be shown beside any sharing.
SHARING_RULE = (
    "The price is shared by each unit's expected price, to the last minor unit: largest "
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
    """A lot shared again: every unit's share before and after. They add up to the same price."""

    lot_id: int
    name: str
    price_minor: Minor
    shares: tuple[Share, ...]
    currency: str


@dataclass(frozen=True, slots=True)
class DonorMade:
    """A unit now kept for its parts, or no longer. `shares`: of its lot, where that was shared again too."""

    unit_id: int
    tag: str
    donor: bool
    expected_minor: Minor
    lot_id: int | None
    shares: tuple[Share, ...]
    currency: str
