"""What a unit cost and brought as a sum, line by line, and the rows behind a line as a table."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from bench.domain.durations import hours_and_minutes
from bench.domain.money import NOT_TYPED, at_least, at_most, show_money
from bench.domain.unit_money import TIME, MoneyLine, UnitMoney
from bench.domain.ways_out import WORDS
from bench.views import kinds
from bench.views.columns import Column, Table
from bench.views.kinds import (
    DAY_OR_INSTANT,
    MONEY_OR_LENGTH,
    SUM_AMOUNT,
    Context,
    Lasting,
    SumAmount,
    figure_of,
)
from bench.views.money_rows import MoneyRow
from bench.views.tables.totals import TotalLine, gain_look, words_look

PURCHASE_FORM = "purchase form"

SUM = Table[TotalLine](
    "unit_money",
    "Cost and proceeds",
    (
        Column("", "words", width=25, look=words_look),
        Column("", "amount", SUM_AMOUNT, 13, look=lambda line: line.look),
        Column("", "note", width=16, grow=1, from_width=58, look="muted", beneath=True),
    ),
    key="key",
)
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


def sum_parts(money: UnitMoney, context: Context) -> tuple[tuple[str, tuple[TotalLine, ...]], ...]:
    """The parts of the sum, each with its title.

    A line's key is what it opens, or None, its part and its place: the same rows may open twice.
    """
    cost_so_far = kinds.at_least(money.cost_so_far_minor, known=money.cost_so_far_known)
    return (
        (
            "Cost so far",
            (
                *_lines("cost_so_far", money.cost_so_far, context),
                _total("cost_so_far", "cost so far", cost_so_far),
            ),
        ),
        ("Labour, apart", tuple(_labour(money))),
        (
            "Proceeds",
            (*_lines("proceeds", money.proceeds, context), _proceeds(money)),
        ),
        ("What is left", tuple(_result(money))),
    )


def break_even_words(money: UnitMoney) -> str:
    """The break-even price; at least as much where a cost was not typed."""
    return at_least(money.break_even_minor, money.currency, known=money.complete)


def margin_words(money: UnitMoney) -> str:
    """The margin, of a unit that has one; at most as much where a cost was not typed."""
    return at_most(money.margin_minor or 0, money.currency, known=not money.missing)


def _labour(money: UnitMoney) -> Iterator[TotalLine]:
    rate = show_money(money.rate_minor_per_hour, money.currency)
    time = f"{hours_and_minutes(money.hands_on_us)} × {rate}"
    yield TotalLine((TIME, "labour", 0), "hands-on time", money.labour_minor, note=time)
    if money.after_return_us:
        after = Lasting(money.after_return_us)
        yield TotalLine((TIME, "labour", 1), "of it since it came back", after)


def _result(money: UnitMoney) -> Iterator[TotalLine]:
    expected = NOT_TYPED if money.expected_minor is None else money.expected_minor
    break_even = kinds.at_least(money.break_even_minor, known=money.complete)
    yield TotalLine((PURCHASE_FORM, "result", 0), "expected price", expected)
    yield TotalLine((None, "result", 1), "break-even price", break_even, note=money.channel)
    if money.margin_minor is not None:
        missing = f"not typed: {', '.join(money.missing)}" if money.missing else ""
        look = gain_look(money.margin_minor)
        margin = kinds.at_most(money.margin_minor, known=not money.missing)
        yield TotalLine((None, "result", 2), "margin, before labour", margin, look, missing)
    if money.lost_minor is not None:
        lost = kinds.at_least(money.lost_minor, known=money.complete)
        yield TotalLine((None, "result", 2), f"lost, {WORDS[money.way]}", lost, "warning")
    if money.per_hour_minor is not None:
        look = gain_look(money.per_hour_minor)
        hourly = kinds.at_most(money.per_hour_minor, known=money.complete)
        yield TotalLine((TIME, "result", 2), "margin per hour", hourly, look, "margin by hands-on time")


def _proceeds(money: UnitMoney) -> TotalLine:
    note = "" if money.proceeds_known else "not all typed"
    return replace(_total("proceeds", "proceeds", money.proceeds_minor), note=note)


def _lines(part: str, lines: Iterable[MoneyLine], context: Context) -> Iterator[TotalLine]:
    for at, line in enumerate(lines):
        count = f"{line.rows} rows" if line.rows > 1 else ""
        note = ", ".join(word for word in (line.note, count) if word)
        amount = NOT_TYPED if line.amount_minor is None else line.amount_minor
        words = line.words.replace("tax on the margin", "margin tax")
        if line.on is not None:
            words = words.replace(line.on.isoformat(), context.day(line.on))
        yield TotalLine((line.opens or None, part, at), words, amount, note=note)


def _total(part: str, words: str, amount: SumAmount) -> TotalLine:
    return TotalLine((None, part, -1), words, amount, "strong")
