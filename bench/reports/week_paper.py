"""The week sheet as text for a terminal of 80 columns."""

from __future__ import annotations

from bench.domain.localtime import day_and_time, day_name
from bench.domain.money import show_money
from bench.reports.plain_tables import one_line, sections, table, told, under
from bench.views.kinds import context_of
from bench.views.tables import week as tables
from bench.views.tables.entries import ENTRIES
from bench.views.week import WeekSheet


def week_text(sheet: WeekSheet) -> str:
    """The week in plain text: hours by day, stage, person, earlier weeks, units sold, estimates, entries."""
    context = context_of(sheet, sheet.read_us)
    by_itself = tables.stage_days(sheet, attended=False)
    return sections(
        _head(sheet),
        under("Hours by day", told(tables.WEEK_DAYS, tables.days_of(sheet), total=tables.week_total(sheet))),
        _by_stage(sheet),
        under("By itself, by stage", told(tables.STAGE_DAYS, by_itself)) if by_itself else "",
        under("Hours by person", told(tables.PEOPLE, tables.people_of(sheet))) if sheet.people else "",
        under(tables.WEEKS.title, told(tables.WEEKS, tables.weeks_of(sheet))),
        under(tables.SOLD.title, told(tables.SOLD, tables.sold_lines(sheet), context)) if sheet.sold else "",
        _repairs(sheet),
        under(
            "Estimates against tasks done in this week and the eight before",
            told(tables.ESTIMATES, sheet.estimates),
        )
        if sheet.estimates
        else "",
        under("Entries (○ by itself, * corrected)", told(ENTRIES, sheet.entries, context))
        if sheet.entries
        else "",
        "Hours are rounded one by one; CSV and JSON hold them to the microsecond.",
    )


def _head(sheet: WeekSheet) -> str:
    days = sheet.week.days()
    span = f"Week {sheet.week}, {day_name(days[0])} to {day_name(days[-1])} {days[-1].year}"
    read = f"Days by the clock of {sheet.zone}; read {day_and_time(sheet.read_us, sheet.zone)}"
    return "\n".join(map(one_line, (span, sheet.shop, read)))


def _by_stage(sheet: WeekSheet) -> str:
    stages = tables.stage_days(sheet, attended=True)
    if not stages:
        return ""
    return under("Hands on, by stage", told(tables.STAGE_DAYS, stages, total=tables.days_total(sheet)))


def _repairs(sheet: WeekSheet) -> str:
    """What owners paid for repairs in the week, and what these took."""
    done, currency = sheet.repairs, sheet.currency
    if not done.units:
        return ""
    rows = [
        ("income of work", show_money(done.income_minor, currency)),
        ("parts and consumables", show_money(-done.cost_minor, currency)),
    ]
    if done.unpriced:
        rows.append(("price not typed", ", ".join(done.unpriced)))
    return under("Owners' machines handed back", table((f"{done.units} repaired", ""), rows))
