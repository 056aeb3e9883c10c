"""General expenses and income as tables: line by line, and by category."""

from __future__ import annotations

from bench.domain.expenses import ExpenseLine
from bench.views.columns import Column, Table
from bench.views.expenses import GeneralTotal
from bench.views.kinds import COUNT, DAY, MONEY, SHARE
from bench.views.tables.totals import gain_look

EXPENSES = Table[ExpenseLine](
    "expenses",
    "General expenses and income",
    (
        Column("No.", "expense_id", COUNT, from_width=60, look="muted"),
        Column("Day", "day", DAY, look="muted"),
        Column("Category", "category", width=12, grow=1),
        Column("Who", "party", width=10, grow=1, from_width=64),
        Column("Note", "note", width=10, grow=2, from_width=84, look="muted"),
        Column("Tax in it", "tax_per_10000", SHARE, 9, from_width=96, look="muted"),
        Column("Amount", "amount_minor", MONEY, 10, look=lambda line: gain_look(line.amount_minor)),
    ),
    key="expense_id",
    empty="Nothing was spent or earned beside the units in this time.",
)
BY_CATEGORY = Table[GeneralTotal](
    "by_category",
    "By category",
    (
        Column("Category", "category", width=12, grow=1),
        Column("Lines", "rows", COUNT, 5, look="muted"),
        Column("Amount", "amount_minor", MONEY, 10, look=lambda line: gain_look(line.amount_minor)),
    ),
    key=lambda line: (line.category, line.income),
    empty="–",
)
