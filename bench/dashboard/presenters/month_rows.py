"""A month or a year on the screen: its head, its groups of rows, and how its figures are meant."""

from __future__ import annotations

from dataclasses import replace

from bench.dashboard.presenters.pieces import Line, Part, spread, wrap
from bench.dashboard.presenters.rows import ADDING_UP, Row, heading, rows_of, total_row
from bench.domain.money import show_money
from bench.domain.text import for_display
from bench.views.kinds import context_of
from bench.views.months import RULE, AsOfNow, MonthSheet
from bench.views.tables.month import EARNED, TIED_UP, earned_by, tied_up_total

MONTH = "month"


def month_head(sheet: MonthSheet | AsOfNow, width: int) -> tuple[Line, ...]:
    """Which span, and what was earned per hands-on hour in it once that is known."""
    left = (Part(f" {sheet.span.words}", "strong"), Part(f"  {for_display(sheet.shop)}", "muted"))
    if isinstance(sheet, AsOfNow):
        return (spread(left, (Part(f"{ADDING_UP} ", "muted"),), width),)
    rate = sheet.total.per_hour_minor
    units = f"{sheet.total.units} sold"
    words = f"{units}, {show_money(rate, sheet.currency)} per hour " if rate is not None else f"{units} "
    return (spread(left, (Part(words, "heading"),), width),)


def earned_rows(sheet: MonthSheet) -> tuple[Row, ...]:
    """What each kind earned by the hour; the key of a month's row is ("month", its place)."""
    rows: list[Row] = []
    for kind, lines in earned_by(sheet):
        rows.append(heading(kind, f"by {kind}"))
        told = rows_of(EARNED, lines, context_of(sheet))
        rows += [replace(row, key=(kind, at)) for at, row in enumerate(told)]
    return tuple(rows)


def tied_rows(sheet: MonthSheet | AsOfNow) -> tuple[Row, ...]:
    """Where money is tied up now, and all of it."""
    context = context_of(sheet)
    rows = rows_of(TIED_UP, sheet.tied_up, context)
    return (*rows, total_row(TIED_UP, tied_up_total(sheet), context))


def rule_lines(width: int) -> tuple[Line, ...]:
    """How the figures are meant."""
    return tuple((Part(line, "muted"),) for line in wrap(RULE, width))
