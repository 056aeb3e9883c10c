"""Set on which terms the shop repairs owners' machines."""

from __future__ import annotations

from bench.desk import Desk
from bench.domain.percent import read_percent
from bench.domain.typed import TypedFields, read_whole
from bench.work.change import change
from bench.work.names import tells_if_changed
from bench.work.trade import trade_of

MOST_DAYS = 3650


def edit_repair_terms(
    desk: Desk, *, tax_text: str, quote_days_text: str, warranty_text: str, uncollected_text: str
) -> None:
    """Tax on repairs, how long a quote holds, warranty on a repair, when one is uncollected (0: never)."""
    with change(desk, "repair terms") as made:
        trade, fields = trade_of(made), TypedFields()
        trade.repair_tax_per_10000 = fields.read("tax_text", read_percent, tax_text, "The tax rate")
        trade.quote_days = fields.read(
            "quote_days_text", read_whole, quote_days_text, "Days that a quote holds", 0, MOST_DAYS
        )
        trade.repair_warranty_days = fields.read(
            "warranty_text", read_whole, warranty_text, "The warranty in days", 0, MOST_DAYS
        )
        trade.uncollected_days = fields.read(
            "uncollected_text", read_whole, uncollected_text, "Days until uncollected", 0, MOST_DAYS
        )
        fields.check()
        tells_if_changed(made, "Changed the terms of repairs")
