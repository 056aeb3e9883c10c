"""A consumable's particulars as the texts of a form."""

from __future__ import annotations

from bench.domain.quantities import plain_number
from bench.domain.stock_levels import StockLine


def consumable_values(line: StockLine) -> dict[str, str]:
    """What the consumable's form begins with, by field. A reorder point worked out from use stays empty."""
    return {
        "name": line.name,
        "base_unit": line.base_unit,
        "pack_text": plain_number(line.pack),
        "lead_days_text": str(line.lead_days),
        "shelf_life_text": "" if line.shelf_life_days is None else str(line.shelf_life_days),
        "reorder_text": plain_number(line.reorder_at) if line.reorder_fixed else "",
        "hazard": line.hazard,
        "code": line.code,
    }
