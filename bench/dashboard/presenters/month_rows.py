"""A month or a year as rows with bars: earned by the hour, money tied up, slow units, consumables."""

from __future__ import annotations

from collections.abc import Sequence

from bench.dashboard.presenters.parts import Line, Part, gain_look, spread, wrap
from bench.dashboard.presenters.rows import Bar, Column, Row, cell, heading
from bench.domain.durations import MINUTE_US, decimal_hours
from bench.domain.earned import Earned
from bench.domain.money import NOT_TYPED, at_least, at_most, money_or, show_money
from bench.domain.quantities import show_quantity
from bench.domain.text import for_display
from bench.views.months import RULE, MonthSheet

EARNED_COLUMNS = (
    Column("Earned by", 16, grow=3),
    Column("", 6, grow=2),
    Column("An hour", 12, right=True),
    Column("Margin", 13, right=True),
    Column("Hours", 6, right=True, from_width=62),
    Column("Sold", 4, right=True),
)
TOTAL_COLUMNS = (Column("", 24, grow=1), Column("", 14, right=True))
TIED_COLUMNS = (
    Column("", 18, grow=1),
    Column("", 6, grow=1),
    Column("Units", 5, right=True),
    Column("Cost", 13, right=True),
)
SLOW_COLUMNS = (
    Column("Unit", 6),
    Column("Model", 8, grow=2),
    Column("At", 9, from_width=54),
    Column("", 5, grow=1),
    Column("Days", 4, right=True),
    Column("Hours", 9, right=True, from_width=46),
)
USED_COLUMNS = (
    Column("Consumable", 12, grow=2),
    Column("", 5, grow=1),
    Column("A unit", 12, right=True),
    Column("Costs", 11, right=True),
    Column("In all", 12, right=True, from_width=62),
)
MONTH = "month"


def month_head(sheet: MonthSheet, width: int) -> tuple[Line, ...]:
    """Which span, and what an hour at the bench earned in it."""
    left = (Part(f" {sheet.span.words}", "strong"), Part(f"  {for_display(sheet.shop)}", "muted"))
    rate = sheet.total.per_hour_minor
    units = f"{sheet.total.units} sold"
    words = f"{units}, {show_money(rate, sheet.currency)} an hour " if rate is not None else f"{units} "
    return (spread(left, (Part(words, "heading"),), width),)


def earned_rows(sheet: MonthSheet) -> tuple[Row, ...]:
    """What each kind earned by the hour; the key of a month's row is ("month", its place)."""
    rows: list[Row] = []
    for title, kind, lines in (
        ("month", MONTH, sheet.by_month),
        ("route", "route", sheet.by_route),
        ("source", "source", sheet.by_source),
        ("maker", "maker", sheet.by_maker),
    ):
        if lines:
            rows.append(heading(kind, f"by {title}"))
            rows += _earned(kind, lines, sheet.currency)
    return tuple(rows)


def total_rows(sheet: MonthSheet) -> tuple[Row, ...]:
    """The sum of the units sold, line by line, and what its hours earned."""
    total, currency = sheet.total, sheet.currency
    lines = [(line.words, money_or(line.amount_minor, currency, NOT_TYPED), "") for line in sheet.lines]
    lines.append(
        ("margin, before labour", at_most(total.margin_minor, currency, known=not total.incomplete), "strong")
    )
    lines += [(line.words, money_or(line.amount_minor, currency, NOT_TYPED), "") for line in sheet.unsold]
    if sheet.unsold:
        lines.append(
            (
                "result, before labour",
                money_or(None if sheet.missing else sheet.result_minor, currency, "not all typed"),
                "strong",
            )
        )
    lines += [(line.words, money_or(line.amount_minor, currency, NOT_TYPED), "muted") for line in sheet.kept]
    lines.append(("hours ever spent on what sold", decimal_hours(total.attended_us), ""))
    if total.per_hour_minor is not None:
        lines.append(("earned an hour of them", show_money(total.per_hour_minor, currency), "heading"))
    lines.append(("hours at the bench, all units", decimal_hours(total.spent_us), ""))
    if total.per_spent_hour_minor is not None:
        lines.append(("margin an hour of this time", show_money(total.per_spent_hour_minor, currency), ""))
    if sheet.missing:
        lines.append((f"not typed: {'; '.join(sheet.missing)}", "left out", "warning"))
    if sheet.returns:
        refunds = show_money(sheet.refunds_minor, currency)
        lines.append((f"came back: {sheet.returns}, refunded", refunds, "warning"))
    return tuple(Row(at, (cell(words), cell(shown, look))) for at, (words, shown, look) in enumerate(lines))


def tied_rows(sheet: MonthSheet) -> tuple[Row, ...]:
    """Where money is tied up now, and all of it."""
    most = max((one.landed_minor for one in sheet.tied_up), default=0)
    rows = [
        Row(
            one.name,
            (
                cell(one.name),
                Bar(one.landed_minor, most, "waiting"),
                cell(str(one.units) if one.units else "", "muted"),
                cell(at_least(one.landed_minor, sheet.currency, known=not one.unpriced)),
            ),
        )
        for one in sheet.tied_up
    ]
    together = cell(at_least(sheet.tied_up_minor, sheet.currency, known=sheet.tied_up_known), "strong")
    return (*rows, Row("together", (cell("together", "strong"), cell(""), cell(""), together)))


def slow_rows(sheet: MonthSheet) -> tuple[Row, ...]:
    """The units longest in the queue; the key is the unit's number."""
    most = max((one.days for one in sheet.slowest), default=0)
    return tuple(
        Row(
            one.unit_id,
            (
                cell(one.tag),
                cell(one.model),
                cell(f"‖ {one.stage}" if one.held is not None else one.stage, "muted"),
                Bar(one.days, most, "warning" if one.held is not None else "waiting"),
                cell(str(one.days)),
                cell(_hours_of(one.attended_us, one.estimate_minutes * MINUTE_US), "muted"),
            ),
        )
        for one in sheet.slowest
    )


def used_rows(sheet: MonthSheet) -> tuple[Row, ...]:
    """What a unit takes of each consumable; the key is the consumable's number."""
    most = max((one.cost_minor for one in sheet.used), default=0)
    return tuple(
        Row(
            one.consumable_id,
            (
                cell(one.name),
                Bar(one.cost_minor, most, "running"),
                cell(show_quantity(one.per_unit, one.base_unit)),
                cell(show_money(one.cost_per_unit_minor, sheet.currency)),
                cell(show_money(one.cost_minor, sheet.currency), "muted"),
            ),
        )
        for one in sheet.used
    )


def rule_lines(width: int) -> tuple[Line, ...]:
    """How the figures are meant."""
    return tuple((Part(line, "muted"),) for line in wrap(RULE, width))


def _earned(kind: str, lines: Sequence[Earned], currency: str) -> list[Row]:
    most = max((abs(one.per_hour_minor or 0) for one in lines), default=0)
    return [
        Row(
            (kind, at),
            (
                cell(one.name),
                Bar(abs(one.per_hour_minor or 0), most, gain_look(one.per_hour_minor)),
                cell(money_or(one.per_hour_minor, currency, "–")),
                cell(at_most(one.margin_minor, currency, known=not one.incomplete), "muted"),
                cell(decimal_hours(one.attended_us), "muted"),
                cell(str(one.units) if one.units else "", "muted"),
            ),
        )
        for at, one in enumerate(lines)
    ]


def _hours_of(spent_us: int, estimate_us: int) -> str:
    return f"{decimal_hours(spent_us)}/{decimal_hours(estimate_us)}"
