"""The tables of a month or a year: earned by the hour, its sum, money tied up, slow units, consumables."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from bench.domain.durations import MINUTE_US, decimal_hours
from bench.domain.machine_power import power_words
from bench.domain.money import NOT_TYPED
from bench.domain.unit_money import Earned, MoneyLine
from bench.views.columns import Column, Table
from bench.views.kinds import (
    BAR,
    COUNT,
    HOURS,
    MONEY,
    QUANTITY,
    SUM_AMOUNT,
    Amount,
    SumAmount,
    at_least,
    at_most,
)
from bench.views.ledger import GENERAL
from bench.views.months import AsOfNow, MonthSheet, SlowUnit, UsedUp
from bench.views.tables.totals import TotalLine, gain_look, words_look
from bench.views.tied_up import TiedUp

EARNED = Table[Earned](
    "earned",
    "Earned by the hour",
    (
        Column("Earned by", "name", width=16, grow=3),
        Column(
            "", lambda one: one.per_hour_minor, BAR, grow=2, look=lambda one: gain_look(one.per_hour_minor)
        ),
        Column("Per hour", "per_hour_minor", MONEY),
        Column(
            "Margin", lambda one: at_most(one.margin_minor, known=not one.incomplete), MONEY, 10, look="muted"
        ),
        Column("Hours", "hands_on_us", HOURS, from_width=68, look="muted"),
        Column("Sold", "units", COUNT, look="muted"),
    ),
    key="name",
    empty="Nothing sold in this time.",
)
TOTAL = Table[TotalLine](
    "total",
    "Total of what was sold",
    (
        Column("", "words", width=24, grow=1, look=words_look),
        Column("", "amount", SUM_AMOUNT, 14, look=lambda line: line.look),
    ),
    key="key",
)
TIED_UP = Table[TiedUp](
    "tied_up",
    "Money tied up now",
    (
        Column("", "name", width=18, grow=1),
        Column("", "cost_so_far_minor", BAR, grow=1, look="waiting"),
        Column("Units", lambda one: one.units or None, COUNT, 5, look="muted"),
        Column("Cost", lambda one: at_least(one.cost_so_far_minor, known=not one.unpriced), MONEY, 10),
    ),
    key="name",
)
SLOWEST = Table[SlowUnit](
    "slow",
    "Longest in the queue now",
    (
        Column("Unit", "tag", width=6),
        Column("Model", "model", grow=2),
        Column("At", lambda one: stage_words(one.stage, one.held), width=9, from_width=57, look="muted"),
        Column("", "days", BAR, 5, grow=1, look=lambda one: "waiting" if one.held is None else "warning"),
        Column("Days", "days", COUNT),
        Column("Hours", "hands_on_us", HOURS, 6, from_width=46, look="muted"),
        Column("Of", lambda one: one.estimate_minutes * MINUTE_US, HOURS, 6, from_width=57, look="muted"),
    ),
    key="unit_id",
    empty="No unit.",
)
USED = Table[UsedUp](
    "used",
    "Consumables a unit",
    (
        Column("Consumable", "name", width=12, grow=2),
        Column("", "cost_minor", BAR, 5, grow=1, look="running"),
        Column("Units", "units", COUNT, 5, from_width=80, look="muted"),
        Column("A unit", lambda one: Amount(one.per_unit, one.base_unit), QUANTITY, 12),
        Column("Costs", "cost_per_unit_minor", MONEY, 9),
        Column("Total", "cost_minor", MONEY, from_width=62, look="muted"),
    ),
    key="consumable_id",
    empty="None used.",
)


def earned_by(sheet: MonthSheet) -> tuple[tuple[str, tuple[Earned, ...]], ...]:
    """What was earned by each kind of which there is any."""
    kinds = (
        ("month", sheet.by_month),
        ("route", sheet.by_route),
        ("source", sheet.by_source),
        ("maker", sheet.by_maker),
    )
    return tuple((kind, lines) for kind, lines in kinds if lines)


def tied_up_total(sheet: MonthSheet | AsOfNow) -> TiedUp:
    """All that is tied up."""
    units = sum(one.units for one in sheet.tied_up)
    cost_minor = sum(one.cost_so_far_minor for one in sheet.tied_up)
    return TiedUp("total", units, cost_minor, sum(one.unpriced for one in sheet.tied_up))


def stage_words(stage: str, held: str | None) -> str:
    """Where a unit stands; ‖ where it is held there."""
    return stage if held is None else f"‖ {stage}"


def total_lines(sheet: MonthSheet) -> tuple[TotalLine, ...]:
    """The sum of the units sold, line by line, and what its hours earned."""
    sold = tuple(TotalLine(at, *line) for at, line in enumerate(_sold(sheet)))
    hours = tuple(TotalLine(len(sold) + at, *line) for at, line in enumerate(_hours(sheet)))
    return (*sold, *_general(sheet), *hours)


def _general(sheet: MonthSheet) -> Iterator[TotalLine]:
    """What belongs to no unit, by category; the key of each is ("general", category)."""
    for one in sheet.general:
        yield TotalLine((GENERAL, one.category), f"{one.category} ({one.rows})", one.amount_minor)
    if sheet.general:
        after = _unless_missing(sheet, sheet.after_general_minor)
        yield TotalLine((GENERAL, ""), "after general expenses", after, "strong")


def left_out_lines(sheet: MonthSheet) -> tuple[TotalLine, ...]:
    """What the sum leaves out, and what came back."""
    lines: list[TotalLine] = []
    if sheet.missing:
        lines.append(TotalLine("missing", f"not typed: {'; '.join(sheet.missing)}", "left out", "warning"))
    if sheet.returns:
        words = f"came back: {sheet.returns}, refunded"
        lines.append(TotalLine("returns", words, sheet.refunds_minor, "warning"))
    return tuple(lines)


Told = tuple[str, SumAmount | None, str]


def _unless_missing(sheet: MonthSheet, minor: int | None) -> SumAmount:
    return "not all typed" if sheet.missing or minor is None else minor


def _sold(sheet: MonthSheet) -> Iterator[Told]:
    margin = at_most(sheet.total.margin_minor, known=not sheet.total.incomplete)
    yield from _money_lines(sheet.lines)
    yield "margin, before labour", margin, "strong"
    yield from _money_lines(sheet.unsold)
    if sheet.unsold:
        yield "result, before labour", _unless_missing(sheet, sheet.result_minor), "strong"
    yield from _money_lines(sheet.kept, "muted")


def _hours(sheet: MonthSheet) -> Iterator[Told]:
    total = sheet.total
    yield "hours ever spent on what sold", decimal_hours(total.hands_on_us), ""
    yield "earned per hour of them", total.per_hour_minor, "heading"
    yield "hours at the bench, all units", decimal_hours(total.spent_us), ""
    yield "margin per hour of this time", total.per_spent_hour_minor, ""
    if sheet.power is not None:
        yield "electricity of machine time", power_words(sheet.power, sheet.currency), "muted"


def _money_lines(lines: Sequence[MoneyLine], look: str = "") -> Iterator[Told]:
    for line in lines:
        yield line.words, NOT_TYPED if line.amount_minor is None else line.amount_minor, look
