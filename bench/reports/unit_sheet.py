"""One unit's sheet and its money as text and JSON: particulars, tasks, lists, the sum and its rows."""

from __future__ import annotations

from collections.abc import Sequence

from bench.domain.durations import hours_and_minutes
from bench.domain.localtime import day_and_time
from bench.domain.money import show_money
from bench.domain.outcomes import KINDS
from bench.domain.quantities import show_quantity
from bench.domain.safety import AFTER_A_BAD_CELL, CLOSING, FINDINGS, LIST_NAMES, OPENING
from bench.domain.unit_money import UnitMoney
from bench.reports.plain_tables import one_line, sections, table, told, under, wrapped
from bench.reports.plain_values import facts_of, json_text
from bench.reports.specification import machine_lines, taken_words
from bench.views.kinds import context_of
from bench.views.money_rows import MoneyRows
from bench.views.safety import SafetyView, Tick
from bench.views.tables.money import BEHIND, SUM, sum_parts
from bench.views.tables.tasks import ON_PAPER
from bench.views.tables.unit import figure_facts, particular_facts, standing_facts
from bench.views.tasks import TaskLine
from bench.views.unit import UnitSheet


def unit_text(sheet: UnitSheet) -> str:
    """Everything about the unit in plain text."""
    tasks = told(ON_PAPER, sheet.tasks, context_of(sheet))
    return sections(
        one_line(f"Unit {sheet.tag}, {sheet.name}"),
        _particulars(sheet),
        "\n".join(wrapped(line) for line in sheet.note.split("\n")) if sheet.note else "",
        _specification(sheet),
        under(ON_PAPER.title, tasks) if sheet.tasks else tasks,
        _uses(sheet.tasks),
        _faults(sheet),
        _safety(sheet.safety, sheet.zone),
    )


def unit_json(sheet: UnitSheet) -> str:
    """The unit as a JSON document; `spent` leaves out what still runs: that is under `running`."""
    return json_text("unit", facts_of(sheet, sheet.zone))


def _particulars(sheet: UnitSheet) -> str:
    context = context_of(sheet)
    facts = (*standing_facts(sheet, context), *figure_facts(sheet), *particular_facts(sheet, context))
    return "\n".join(wrapped(f"{fact.label:<14}{fact.words}", indent=14) for fact in facts)


def _specification(sheet: UnitSheet) -> str:
    kept = sheet.specification
    if kept is None:
        return ""
    when = wrapped(taken_words(kept, sheet.zone), start=2, indent=4)
    return under("Specification", "\n".join([*machine_lines(kept.machine), when]))


def _uses(tasks: Sequence[TaskLine]) -> str:
    rows = [
        (
            task.name,
            use.name,
            show_quantity(use.quantity, use.base_unit),
            show_quantity(use.on_hand, use.base_unit),
        )
        for task in tasks
        for use in task.uses
    ]
    return (
        under("Consumables of tasks", table(("", "", "per job", "on hand"), rows, words=(0, 1)))
        if rows
        else ""
    )


def _faults(sheet: UnitSheet) -> str:
    """The faults that are open, and how the last test of each kind ended."""
    faults = [f"f{one.fault_id} {one.told}" for one in sheet.faults if one.told]
    ended = ", ".join(f"{KINDS[one.kind].label.lower()} {one.outcome}" for one in sheet.outcomes)
    lines = [wrapped(line, start=2, indent=4) for line in (*faults, *([ended] if ended else []))]
    return under("Faults and tests", "\n".join(lines)) if lines else ""


def _safety(view: SafetyView, zone: str) -> str:
    cover = "Cover off" if view.lid_off else "Cover on"
    battery = f"battery {'' if view.battery_connected else 'dis'}connected"
    state = f"{cover}, {battery}."
    lines = [state.upper() if view.alarm else state, wrapped(view.caution)]
    if view.cell_finding is not None:
        lines = [f"STOP: {FINDINGS[view.cell_finding]}.", *map(wrapped, AFTER_A_BAD_CELL)]
    if view.screws_out is not None:
        back = "not counted back yet" if view.screws_back is None else f"{view.screws_back} back"
        lines.append(f"Screws: {view.screws_out} out, {back}.")
    lists = (
        *_list(OPENING, view.opening, view.without_opening, zone),
        *_list(CLOSING, view.closing, view.without_closing, zone),
    )
    return "\n".join((*lines, *lists))


def _list(which: str, ticks: Sequence[Tick], without: str | None, zone: str) -> list[str]:
    lines = [f"{LIST_NAMES[which].capitalize()}:"]
    if without is not None:
        lines.append(wrapped(f"gone on without it: {without}", start=2, indent=4))
    return lines + [wrapped(_tick(tick, zone), start=2, indent=6) for tick in ticks]


def _tick(tick: Tick, zone: str) -> str:
    if tick.at_us is None:
        return f"[ ] {tick.label}"
    note = f" ({tick.note})" if tick.note else ""
    return f"[x] {tick.label}, {tick.person} {day_and_time(tick.at_us, zone)}{note}"


NOT_ADVICE = "Tax is calculated by the shop's settings and is not advice."


def money_text(money: UnitMoney) -> str:
    """Cost so far, labour apart, what it brought, margin and break-even."""
    context = context_of(money)
    return sections(
        one_line(f"Unit {money.tag}, {money.model}"),
        *(under(title, told(SUM, lines, context)) for title, lines in sum_parts(money, context)),
        NOT_ADVICE if any("tax" in line.words for line in money.proceeds) else "",
    )


def money_json(money: UnitMoney) -> str:
    """The unit's money as a JSON document, sums included."""
    return json_text("unit_money", facts_of(money, money.zone))


def money_rows_text(rows: MoneyRows) -> str:
    """The rows behind one line of it."""
    total = show_money(rows.amount_minor, rows.currency)
    if any(row.length_us is not None for row in rows.rows):
        total = hours_and_minutes(rows.length_us)
    title = f"Unit {rows.tag}, {rows.opens}"
    body = told(BEHIND, rows.rows, context_of(rows))
    return sections(under(one_line(title), body), f"Total {total}.")


def money_rows_json(rows: MoneyRows) -> str:
    """The same rows as a JSON document."""
    return json_text("money_rows", facts_of(rows, rows.zone))
