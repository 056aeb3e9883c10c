"""Lots and the units of one lot as tables."""

from __future__ import annotations

from bench.domain.lots import Share
from bench.views.columns import Column, Table
from bench.views.kinds import COUNT, DAY, MONEY, WORD
from bench.views.lots import LotLine, LotUnitLine

LOTS = Table[LotLine](
    "lots",
    "Lots",
    (
        Column("No.", "lot_id", COUNT, from_width=78, look="muted"),
        Column("Lot", "name", width=12, grow=1),
        Column("Bought", "bought_on", DAY, look="muted"),
        Column("Price", "price_minor", MONEY),
        Column("Sold", lambda one: f"{one.sold} of {one.units}", WORD, 6),
        Column("Seller", "seller", width=10, grow=1, from_width=64, look="muted"),
    ),
    key="lot_id",
    empty="No lots.",
)
LOT_UNITS = Table[LotUnitLine](
    "lot_units",
    "Its units",
    (
        Column("Unit", "tag", width=6),
        Column("Model", "model", width=12, grow=2),
        Column("Serial", "serial", width=10, from_width=110, look="muted"),
        Column("Stage", "stage", width=10, from_width=70, look="muted"),
        Column("Expected", "expected_minor", MONEY),
        Column("Share", "share_minor", MONEY),
        Column("Cost left", "left_minor", MONEY, from_width=84, look="muted"),
        Column(
            "",
            lambda one: "donor" if one.donor else "sold" if one.sold else "",
            width=6,
            look=lambda one: "waiting" if one.donor else "good",
        ),
    ),
    key="unit_id",
    empty="No units.",
)
SHARES = Table[Share](
    "shares",
    "Shares",
    (
        Column("Unit", "tag", width=6),
        Column("Before", "old_minor", MONEY),
        Column("Now", "new_minor", MONEY),
    ),
    key="unit_id",
)
