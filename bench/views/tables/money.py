"""What a unit cost and brought as a sum, line by line, and the rows behind a line as a table."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from bench.domain.durations import hours_and_minutes
from bench.domain.money import NOT_TYPED, at_least, at_most, money_or, show_money
from bench.domain.unit_money import TIME, MoneyLine, UnitMoney
from bench.domain.ways_out import WORDS
from bench.views.columns import Column, Table
from bench.views.kinds import DAY_OR_INSTANT, MONEY_OR_LENGTH, WORD, figure_of
from bench.views.money_rows import MoneyRow
from bench.views.tables.totals import TotalLine, gain_look, words_look

PURCHASE_FORM = "purchase form"

SUM = Table[TotalLine](
    "unit_money",
    "Cost and proceeds",
    (
        Column("", "words", width=25, look=words_look),
        Column("", "amount", WORD, 13, look=lambda line: line.look),
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


def sum_parts(money: UnitMoney) -> tuple[tuple[str, tuple[TotalLine, ...]], ...]:
    """The parts of the sum, each with its title.

    A line's key is what it opens, or None, its part and its place: the same rows may open twice.
    """
    cost_so_far = at_least(money.cost_so_far_minor, money.currency, known=money.cost_so_far_known)
    return (
        (
            "Cost so far",
            (
                *_lines("cost_so_far", money.cost_so_far, money),
                _total("cost_so_far", "cost so far", cost_so_far),
            ),
        ),
        ("Labour, apart", tuple(_labour(money))),
        (
            "Proceeds",
            (*_lines("proceeds", money.proceeds, money), _total("proceeds", "proceeds", _proceeds(money))),
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
    labour = show_money(money.labour_minor, money.currency)
    yield TotalLine((TIME, "labour", 0), "hands-on time", labour, note=time)
    if money.after_return_us:
        after = hours_and_minutes(money.after_return_us)
        yield TotalLine((TIME, "labour", 1), "of it since it came back", after)


def _result(money: UnitMoney) -> Iterator[TotalLine]:
    expected = money_or(money.expected_minor, money.currency, NOT_TYPED)
    yield TotalLine((PURCHASE_FORM, "result", 0), "expected price", expected)
    yield TotalLine((None, "result", 1), "break-even price", break_even_words(money), note=money.channel)
    if money.margin_minor is not None:
        missing = f"not typed: {', '.join(money.missing)}" if money.missing else ""
        look = gain_look(money.margin_minor)
        yield TotalLine((None, "result", 2), "margin, before labour", margin_words(money), look, missing)
    if money.lost_minor is not None:
        lost = at_least(money.lost_minor, money.currency, known=money.complete)
        yield TotalLine((None, "result", 2), f"lost, {WORDS[money.way]}", lost, "warning")
    if money.per_hour_minor is not None:
        look = gain_look(money.per_hour_minor)
        hourly = at_most(money.per_hour_minor, money.currency, known=money.complete)
        yield TotalLine((TIME, "result", 2), "margin per hour", hourly, look, "margin by hands-on time")


def _proceeds(money: UnitMoney) -> str:
    shown = show_money(money.proceeds_minor, money.currency)
    return shown if money.proceeds_known else f"{shown}, not all typed"


def _lines(part: str, lines: Iterable[MoneyLine], money: UnitMoney) -> Iterator[TotalLine]:
    for at, line in enumerate(lines):
        count = f"{line.rows} rows" if line.rows > 1 else ""
        note = ", ".join(word for word in (line.note, count) if word)
        amount = money_or(line.amount_minor, money.currency, NOT_TYPED)
        words = line.words.replace("tax on the margin", "margin tax")
        yield TotalLine((line.opens or None, part, at), words, amount, note=note)


def _total(part: str, words: str, amount: str) -> TotalLine:
    return TotalLine((None, part, -1), words, amount, "strong")
