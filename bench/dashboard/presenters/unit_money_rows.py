"""A unit's money as rows: what it cost, what it brought, labour apart, and the rows behind each line."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import Any

from bench.dashboard.presenters.pieces import Line, Part, spread
from bench.dashboard.presenters.rows import Row, cell, heading, room, rows_of
from bench.domain.durations import hours_and_minutes
from bench.domain.money import NOT_TYPED, at_least, at_most, money_or, show_money
from bench.domain.text import for_display
from bench.domain.unit_money import TIME, MoneyLine, UnitMoney
from bench.domain.ways_out import WORDS
from bench.views.columns import Table
from bench.views.kinds import context_of
from bench.views.looks import gain_look
from bench.views.money_rows import MoneyRows
from bench.views.tables.money import BEHIND

SUM = Table[Any](
    "sum", "The sum", (room("", 25), room("", 13, right=True), room("", 16, grow=1, from_width=58))
)
PURCHASE_FORM = "purchase form"


def money_head(money: UnitMoney, width: int) -> tuple[Line, ...]:
    """Tag and model, and what it earned or has to bring."""
    left = (Part(f" Money of {money.tag}", "strong"), Part(f"  {for_display(money.model)}"))
    if money.margin_minor is None:
        right = Part(f"break-even {_break_even(money)} ", "heading")
    else:
        margin = at_most(money.margin_minor, money.currency, known=not money.missing)
        right = Part(f"margin {margin} ", gain_look(money.margin_minor))
    return (spread(left, (right,), width),)


def money_rows(money: UnitMoney) -> tuple[Row, ...]:
    """Every line of it; a key is what the line opens and its place, so that the same rows may open twice."""
    shown = _shower(money)
    time = f"{hours_and_minutes(money.attended_us)} × {shown(money.rate_minor_per_hour)}"
    after = hours_and_minutes(money.after_return_us)
    return (
        heading("landed", "What it has cost"),
        *_lines("landed", money.landed, money),
        _sum("landed", "landed cost", at_least(money.landed_minor, money.currency, known=money.landed_known)),
        heading("labour", "Labour, apart"),
        _row(TIME, 0, "hands-on time", shown(money.labour_minor), time),
        *([_row(TIME, 1, "of it since it came back", after)] if money.after_return_us else []),
        heading("brought", "What it has brought"),
        *_lines("brought", money.brought, money),
        _sum("brought", "brought", _brought(money)),
        heading("result", "What is left"),
        *_result(money),
    )


def behind_rows(behind: MoneyRows) -> tuple[Row, ...]:
    """The rows behind a line; the key is the row's place and its number in the file."""
    rows = rows_of(BEHIND, behind.rows, context_of(behind))
    return tuple(replace(row, key=(at, row.key)) for at, row in enumerate(rows))


def opened_by(key: object) -> str | None:
    """What a row of the sum opens; None for one that has no rows behind it."""
    return key[0] if isinstance(key, tuple) and isinstance(key[0], str) else None


def _result(money: UnitMoney) -> tuple[Row, ...]:
    shown = _shower(money)
    expected = "not typed" if money.expected_minor is None else shown(money.expected_minor)
    through = money.channel
    rows = [
        _row(PURCHASE_FORM, 0, "expected sale price", expected),
        _row(None, 1, "break-even price", _break_even(money), through),
    ]
    if money.margin_minor is not None:
        look = gain_look(money.margin_minor)
        margin = at_most(money.margin_minor, money.currency, known=not money.missing)
        missing = f"not typed: {', '.join(money.missing)}" if money.missing else ""
        rows.append(_row(None, 2, "margin, before labour", margin, missing, look=look))
    if money.lost_minor is not None:
        lost = at_least(money.lost_minor, money.currency, known=money.complete)
        rows.append(_row(None, 2, f"lost, {WORDS[money.way]}", lost, look="warning"))
    if money.per_hour_minor is not None:
        look = gain_look(money.per_hour_minor)
        words = "margin by hands-on time"
        hourly = at_most(money.per_hour_minor, money.currency, known=money.complete)
        rows.append(_row(TIME, 2, "margin an hour", hourly, words, look=look))
    return tuple(rows)


def _break_even(money: UnitMoney) -> str:
    return at_least(money.break_even_minor, money.currency, known=money.complete)


def _brought(money: UnitMoney) -> str:
    shown = show_money(money.brought_minor, money.currency)
    return shown if money.brought_known else f"{shown}, not all typed"


def _lines(part: str, lines: Iterable[MoneyLine], money: UnitMoney) -> Iterable[Row]:
    for at, line in enumerate(lines):
        count = f"{line.rows} rows" if line.rows > 1 else ""
        note = ", ".join(word for word in (line.note, count) if word)
        shown = money_or(line.amount_minor, money.currency, NOT_TYPED)
        words = cell(line.words.replace("tax on the margin", "margin tax"))
        yield Row((line.opens or None, part, at), (words, cell(shown), cell(note, "muted")))


def _sum(part: str, words: str, shown: str) -> Row:
    return Row((None, part, -1), (cell(words, "strong"), cell(shown, "strong"), cell("")))


def _row(opens: str | None, at: int, words: str, shown: str, note: str = "", look: str = "") -> Row:
    return Row((opens, "result", at), (cell(words), cell(shown, look), cell(note, "muted")))


def _shower(money: UnitMoney) -> Callable[[int], str]:
    return lambda minor: show_money(minor, money.currency)
