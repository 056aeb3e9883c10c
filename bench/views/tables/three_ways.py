"""Three ways on for a unit side by side, and what its model fetched, as tables."""

from __future__ import annotations

from bench.domain.own_prices import OwnSale
from bench.domain.three_ways import TITLES, WAYS, WayRow
from bench.views.columns import Column, Table
from bench.views.kinds import DAY, DAYS, MONEY

_LOOKS = {"cash": "strong", "after labour": "heading"}


def _look(row: WayRow) -> str:
    return _LOOKS.get(row.what, "")


THREE_WAYS = Table[WayRow](
    "three_ways",
    "Repair, sell as is, or part out",
    (
        Column("", "words", width=20, grow=1, look=_look),
        Column(TITLES[WAYS[0]], "repair_minor", MONEY, look=_look),
        Column(TITLES[WAYS[1]], "as_is_minor", MONEY, look=_look),
        Column(TITLES[WAYS[2]], "part_out_minor", MONEY, look=_look),
    ),
    key="what",
)
OWN_SALES = Table[OwnSale](
    "own_sales",
    "Sold before",
    (
        Column("Unit", "tag", width=6),
        Column("Sold", "sold_on", DAY, look="muted"),
        Column("Fetched", "net_minor", MONEY),
        Column("On offer", "listed_days", DAYS, 9, from_width=60, look="muted"),
    ),
    key="unit_id",
    empty="None of this model was sold yet.",
)
