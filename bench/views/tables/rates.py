"""The sales that came back as a table."""

from __future__ import annotations

from bench.domain.return_rate import SaleBack
from bench.views.columns import Column, Table
from bench.views.kinds import MONEY

SALES_BACK = Table[SaleBack](
    "sales_back",
    "Came back",
    (
        Column("Unit", "tag", width=6),
        Column("Model", "model", width=14, grow=1),
        Column("Price", "price_minor", MONEY),
        Column("Lost", "lost_minor", MONEY),
    ),
    key="sale_id",
    empty="No sale came back.",
)
