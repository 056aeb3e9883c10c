"""One unit's sheet as text and JSON: particulars, tasks, what they take, the two checklists."""

from __future__ import annotations

from collections.abc import Sequence

from bench.domain.durations import hours_and_minutes
from bench.domain.localtime import day_and_time
from bench.domain.money import money_or, show_money
from bench.domain.outcomes import KINDS
from bench.domain.quantities import show_quantity
from bench.domain.safety import AFTER_A_BAD_CELL, CLOSE_UP, FINDINGS, LIST_NAMES, OPENING
from bench.reports.plain_tables import noted, one_line, sections, table, under, wrapped
from bench.reports.plain_values import facts_of, json_text
from bench.views.safety import SafetyView, Tick
from bench.views.tasks import TaskLine
from bench.views.unit import UnitSheet

_STATES = {"todo": "to do", "done": "done", "skipped": "skipped"}


def unit_text(sheet: UnitSheet) -> str:
    """Everything about the unit in plain text."""
    return sections(
        one_line(f"Unit {sheet.tag}, {f'{sheet.maker} {sheet.model}'.strip()}"),
        _particulars(sheet),
        "\n".join(wrapped(line) for line in sheet.note.split("\n")) if sheet.note else "",
        _tasks(sheet.tasks, sheet.zone),
        _uses(sheet.tasks),
        _faults(sheet),
        _safety(sheet.safety, sheet.zone),
    )


def unit_json(sheet: UnitSheet) -> str:
    """The unit as a JSON document; `spent` leaves out what still runs: that is under `running`."""
    return json_text("unit", facts_of(sheet, sheet.zone))


def _particulars(sheet: UnitSheet) -> str:
    facts = {
        "Serial": sheet.serial,
        "Owner": ", ".join(word for word in (sheet.owner, sheet.owner_contact) if word),
        "Route": sheet.route,
        "Stage": f"{sheet.stage}, since {day_and_time(sheet.stage_since_us, sheet.zone)}",
        "Held": _held(sheet),
        "Without": _without(sheet),
        "Due": sheet.due_on.isoformat() if sheet.due_on else "",
        "Bought for": money_or(sheet.price_minor, sheet.currency),
        "Added": day_and_time(sheet.added_us, sheet.zone),
        "Attended": hours_and_minutes(sheet.attended_us),
        "Unattended": hours_and_minutes(sheet.unattended_us),
        "Materials": show_money(sheet.materials_minor, sheet.currency),
    }
    return "\n".join(wrapped(f"{name:<12}{value}", indent=12) for name, value in facts.items() if value)


def _held(sheet: UnitSheet) -> str:
    if sheet.held is None or sheet.held_us is None:
        return ""
    return f"{sheet.held}, since {day_and_time(sheet.held_us, sheet.zone)}"


def _without(sheet: UnitSheet) -> str:
    return "; ".join(
        f"{one.matters}: {one.reason} ({one.person} {day_and_time(one.at_us, sheet.zone)})"
        for one in sheet.without
    )


def _tasks(tasks: Sequence[TaskLine], zone: str) -> str:
    if not tasks:
        return "No tasks."
    rows = [
        (
            f"{number:>2} {task.name}",  # the number by which a command names it
            task.stage,
            "runs" if task.running else (_STATES[task.state] if task.holds else "do again"),
            f"{task.estimate_minutes} min",
            hours_and_minutes(task.spent_us),
        )
        for number, task in enumerate(tasks, start=1)
    ]
    lines = table(("", "stage", "", "estimate", "spent"), rows, words=(0, 1, 2))
    return under("Tasks", noted(lines, [_note(task, zone) for task in tasks]))


def _note(task: TaskLine, zone: str) -> str:
    timers = [f"{one.person} since {day_and_time(one.started_us, zone)}" for one in task.running]
    return "; ".join([*timers, *([task.skip_reason] if task.skip_reason else [])])


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
    return under("Tasks take", table(("", "", "per job", "on hand"), rows, words=(0, 1))) if rows else ""


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
        *_list(CLOSE_UP, view.close_up, view.without_close_up, zone),
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
