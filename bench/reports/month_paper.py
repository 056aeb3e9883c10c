"""A month or a year as text for a terminal of 80 columns."""

from __future__ import annotations

from bench.domain.localtime import day_and_time
from bench.domain.money import at_least, show_money
from bench.reports.plain_tables import one_line, sections, told, under, wrapped
from bench.views.kinds import context_of
from bench.views.months import RULE, MonthSheet
from bench.views.tables.month import (
    EARNED,
    SLOWEST,
    TIED_UP,
    TOTAL,
    USED,
    earned_by,
    tied_up_total,
    total_lines,
)


def month_text(sheet: MonthSheet) -> str:
    """The month or year in plain text: earned per hour, where money is tied up, slow units, consumables."""
    context = context_of(sheet)
    return sections(
        _head(sheet),
        _total(sheet),
        *(under(f"Earned by {kind}", told(EARNED, lines, context)) for kind, lines in earned_by(sheet)),
        _titled(_tied_title(sheet), told(TIED_UP, sheet.tied_up, context, total=tied_up_total(sheet))),
        _titled(SLOWEST.title, _slowest(sheet)),
        _titled(_used_title(sheet), told(USED, sheet.used, context) if sheet.used else ""),
        wrapped(RULE),
    )


def _head(sheet: MonthSheet) -> str:
    read = f"Days by the clock of {sheet.zone}; read {day_and_time(sheet.read_us, sheet.zone)}"
    return "\n".join(map(one_line, (sheet.span.words, sheet.shop, read)))


def _total(sheet: MonthSheet) -> str:
    units = f"{sheet.total.units} unit{'' if sheet.total.units == 1 else 's'} sold"
    lines = [units, told(TOTAL, total_lines(sheet))]
    if sheet.returns:
        refunds = show_money(sheet.refunds_minor, sheet.currency)
        lines.append(f"Came back in this span: {sheet.returns}, refunded {refunds}.")
    if sheet.missing:
        lines.append(wrapped(f"Not typed and left out: {'; '.join(sheet.missing)}."))
    return "\n".join(lines)


def _slowest(sheet: MonthSheet) -> str:
    if not sheet.slowest:
        return ""
    held = ["" if one.held is None else f"held: {one.held}" for one in sheet.slowest]
    return told(SLOWEST, sheet.slowest, context_of(sheet), notes=held)


def _tied_title(sheet: MonthSheet) -> str:
    return f"{TIED_UP.title}: {at_least(sheet.tied_up_minor, sheet.currency, known=sheet.tied_up_known)}"


def _used_title(sheet: MonthSheet) -> str:
    per_unit = sheet.used_per_unit_minor
    if per_unit is None:
        return "Consumables used"
    units = "1 unit" if sheet.used_units == 1 else f"{sheet.used_units} units"
    return f"Consumables used: {show_money(per_unit, sheet.currency)} a unit, over {units}"


def _titled(title: str, body: str) -> str:
    return under(title, body) if body else ""
