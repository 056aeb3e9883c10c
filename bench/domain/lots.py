"""Lots: several units for one price, shared by what each is expected to sell for."""

from __future__ import annotations

from collections.abc import Sequence

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
