"""A month or a year as text for a terminal of 80 columns, with a bar beside each line."""

from __future__ import annotations

from collections.abc import Sequence

from bench.domain.durations import decimal_hours
from bench.domain.earned import Earned
from bench.domain.localtime import day_and_time
from bench.domain.money import NOT_TYPED, at_least, at_most, money_or, show_money
from bench.domain.quantities import show_quantity
from bench.reports.bars import bars
from bench.reports.tables import one_line, sections, table, under, wrapped
from bench.views.months import RULE, MonthSheet

BAR_WIDTH = 14


def month_text(sheet: MonthSheet) -> str:
    """The month or year in plain text: earned per hour, where money is tied up, slow units, consumables."""
    return sections(
        _head(sheet),
        _total(sheet),
        _earned("Earned by month", sheet.by_month, sheet.currency),
        _earned("Earned by route", sheet.by_route, sheet.currency),
        _earned("Earned by source", sheet.by_source, sheet.currency),
        _earned("Earned by maker", sheet.by_maker, sheet.currency),
        _tied_up(sheet),
        _slowest(sheet),
        _used(sheet),
        wrapped(RULE),
    )


def _head(sheet: MonthSheet) -> str:
    read = f"Days by the clock of {sheet.zone}; read {day_and_time(sheet.read_us, sheet.zone)}"
    return "\n".join(map(one_line, (sheet.span.words, sheet.shop, read)))


def _total(sheet: MonthSheet) -> str:
    total, currency = sheet.total, sheet.currency
    rows = [
        *((line.words, money_or(line.amount_minor, currency, NOT_TYPED)) for line in sheet.lines),
        ("margin", at_most(total.margin_minor, currency, known=not total.incomplete)),
        *((line.words, money_or(line.amount_minor, currency, NOT_TYPED)) for line in sheet.unsold),
        *([("result", _result(sheet))] if sheet.unsold else []),
        *((line.words, money_or(line.amount_minor, currency, NOT_TYPED)) for line in sheet.kept),
        ("hours ever spent on what was sold", decimal_hours(total.attended_us)),
        ("earned per hour of them", money_or(total.per_hour_minor, currency)),
        ("hours at the bench in this span, on all units", decimal_hours(total.spent_us)),
        ("the margin per hour of this span", money_or(total.per_spent_hour_minor, currency)),
    ]
    units = f"{total.units} unit{'' if total.units == 1 else 's'} sold"
    back = f"Came back in this span: {sheet.returns}, refunded {show_money(sheet.refunds_minor, currency)}."
    told = [table((units, ""), rows), *([back] if sheet.returns else [])]
    if sheet.missing:
        told.append(wrapped(f"Not typed and left out: {'; '.join(sheet.missing)}."))
    return "\n".join(told)


def _result(sheet: MonthSheet) -> str:
    shown = show_money(sheet.result_minor, sheet.currency)
    return f"{shown}, not all typed" if sheet.missing else shown


def _earned(title: str, lines: Sequence[Earned], currency: str) -> str:
    drawn = bars([line.per_hour_minor for line in lines], BAR_WIDTH)
    rows = [
        (
            line.name,
            str(line.units),
            at_most(line.margin_minor, currency, known=not line.incomplete),
            decimal_hours(line.attended_us),
            money_or(line.per_hour_minor, currency),
            bar,
        )
        for line, bar in zip(lines, drawn, strict=True)
    ]
    return _list(title, ("", "sold", "margin", "hours", "per hour", ""), rows)


def _tied_up(sheet: MonthSheet) -> str:
    drawn = bars([line.landed_minor for line in sheet.tied_up], BAR_WIDTH)
    rows = [
        (
            line.name,
            str(line.units) if line.units else "",
            at_least(line.landed_minor, sheet.currency, known=not line.unpriced),
            bar,
        )
        for line, bar in zip(sheet.tied_up, drawn, strict=True)
    ]
    title = f"Money tied up now: {at_least(sheet.tied_up_minor, sheet.currency, known=sheet.tied_up_known)}"
    return _list(title, ("", "units", "landed cost", ""), rows)


def _slowest(sheet: MonthSheet) -> str:
    drawn = bars([line.days for line in sheet.slowest], BAR_WIDTH)
    rows = [
        (
            line.tag,
            line.model,
            f"{line.stage}, held: {line.held}" if line.held is not None else line.stage,
            decimal_hours(line.attended_us),
            decimal_hours(line.estimate_minutes * 60_000_000),
            str(line.days),
            bar,
        )
        for line, bar in zip(sheet.slowest, drawn, strict=True)
    ]
    headings = ("", "", "", "hours", "of", "days", "")
    return _list("Longest in the queue now", headings, rows, words=(0, 1, 2))


def _used(sheet: MonthSheet) -> str:
    drawn = bars([line.cost_minor for line in sheet.used], BAR_WIDTH)
    rows = [
        (
            line.name,
            str(line.units),
            show_quantity(line.per_unit, line.base_unit),
            show_money(line.cost_per_unit_minor, sheet.currency),
            show_money(line.cost_minor, sheet.currency),
            bar,
        )
        for line, bar in zip(sheet.used, drawn, strict=True)
    ]
    per_unit = sheet.used_per_unit_minor
    title = "Consumables used"
    if per_unit is not None:
        units = "1 unit" if sheet.used_units == 1 else f"{sheet.used_units} units"
        title += f": {show_money(per_unit, sheet.currency)} a unit, over {units}"
    return _list(title, ("", "units", "a unit", "costs", "in all", ""), rows)


def _list(
    title: str, headings: Sequence[str], rows: Sequence[Sequence[str]], words: Sequence[int] = (0,)
) -> str:
    """A table whose last column, the bars, is flush left and never cut."""
    padded = [(*row[:-1], row[-1].ljust(BAR_WIDTH)) for row in rows]
    return under(title, table(headings, padded, words=words)) if rows else ""
