"""What a unit took off the shelf, as lines that can be opened."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class MaterialLine:
    """One movement for a unit. `quantity` in thousandths of `base_unit` and `cost_minor` are below 0 for an
    issue, above 0 where it was taken back."""

    movement_id: int
    at_us: int
    consumable_id: int
    name: str
    base_unit: str
    quantity: int
    cost_minor: int
    task: str
    person: str


@dataclass(frozen=True, slots=True)
class UnitMaterials:
    """Every movement for one unit, oldest first; their costs add up to the unit's materials."""

    tag: str
    currency: str
    zone: str
    lines: tuple[MaterialLine, ...]
