"""The rows behind a line of a unit's money as a table."""

from __future__ import annotations

from bench.views.columns import Column, Table
from bench.views.kinds import DAY_OR_INSTANT, MONEY_OR_LENGTH, figure_of
from bench.views.money_rows import MoneyRow

BEHIND = Table[MoneyRow](
    "money_rows",
    "Rows behind the line",
    (
        Column("When", lambda row: row.at_us if row.on is None else row.on, DAY_OR_INSTANT, look="muted"),
        Column("What", "words", width=9, grow=1),
        Column("Who", "person", from_width=58, look="muted"),
        Column("", figure_of, MONEY_OR_LENGTH),
    ),
    key="row_id",
    empty="No rows behind it.",
)
