"""A unit's money as rows: what it cost, what it brought, labour apart, and the rows behind each line."""

from __future__ import annotations

from dataclasses import replace

from bench.dashboard.presenters.pieces import Line, Part, spread
from bench.dashboard.presenters.rows import Row, heading, rows_of
from bench.domain.text import for_display
from bench.domain.unit_money import UnitMoney
from bench.views.kinds import Context, context_of
from bench.views.money_rows import MoneyRows
from bench.views.tables.money import BEHIND, SUM, break_even_words, margin_words, sum_parts
from bench.views.tables.totals import gain_look


def money_head(money: UnitMoney, width: int) -> tuple[Line, ...]:
    """Tag and model, and what it earned or has to bring."""
    left = (Part(f" Money of {money.tag}", "strong"), Part(f"  {for_display(money.model)}"))
    if money.margin_minor is None:
        right = Part(f"break-even {break_even_words(money)} ", "heading")
    else:
        right = Part(f"margin {margin_words(money)} ", gain_look(money.margin_minor))
    return (spread(left, (right,), width),)


def money_rows(money: UnitMoney, context: Context) -> tuple[Row, ...]:
    """Every line of it under the title of its part."""
    rows: list[Row] = []
    for title, lines in sum_parts(money, context):
        rows += [heading(title, title), *rows_of(SUM, lines, context)]
    return tuple(rows)


def behind_rows(behind: MoneyRows) -> tuple[Row, ...]:
    """The rows behind a line; the key is the row's place and its number in the file."""
    rows = rows_of(BEHIND, behind.rows, context_of(behind))
    return tuple(replace(row, key=(at, row.key)) for at, row in enumerate(rows))


def opened_by(key: object) -> str | None:
    """What a row of the sum opens; None for one that has no rows behind it."""
    return key[0] if isinstance(key, tuple) and isinstance(key[0], str) else None
