"""A unit's particulars and figures as rows that each open what is behind them."""

from __future__ import annotations

from typing import Any

from bench.dashboard.presenters.pieces import Line, Part, spread, wrap
from bench.dashboard.presenters.rows import Row, cell, room
from bench.domain.durations import hours_and_minutes
from bench.domain.holding import NO_DRIVE
from bench.domain.localtime import date_and_time, day_and_time
from bench.domain.money import money_or, show_money
from bench.domain.safety import FINDINGS
from bench.domain.text import for_display
from bench.domain.timers import elapsed_us
from bench.views.columns import Table
from bench.views.safety import SafetyView
from bench.views.unit import UnitSheet

FACTS = Table[Any]("facts", "The unit", (room("", 12), room("", 20, grow=1)))
ATTENDED = "attended"
UNATTENDED = "unattended"
MATERIALS = "materials"
STAGE = "stage"
HELD = "held"
CELL = "cell"
OPENING_LIST = "opening"
CLOSE_UP_LIST = "close_up"
PARTICULARS = "particulars"


def unit_head(unit: UnitSheet, width: int) -> tuple[Line, ...]:
    """The line above everything: tag, model, stage, and what is amiss."""
    left = (
        Part(f" {unit.tag}", "strong"),
        Part("  "),
        Part(for_display(f"{unit.maker} {unit.model}".strip())),
    )
    amiss: tuple[Part, ...] = ()
    if unit.safety.cell_finding is not None:
        amiss = (Part(f"✖ CELL {for_display(unit.safety.cell_finding)}", "loud"), Part(" "))
    elif unit.safety.alarm:
        amiss = (Part("▲ BATTERY CONNECTED, COVER OFF", "loud"), Part(" "))
    elif unit.held is not None:
        amiss = (Part("‖ held", "warning"), Part(" "))
    return (spread(left, (*amiss, Part(f"{for_display(unit.stage)} ", "heading")), width),)


def fact_rows(
    unit: UnitSheet, now_us: int, width: int, more: tuple[Row, ...] = (), wrong: tuple[Row, ...] = ()
) -> tuple[Row, ...]:
    """The rows; a key says what Enter opens, with a number where several rows open the same.

    `more`: rows that follow the figures. `wrong`: those of faults and tests.
    """
    return (
        _row(STAGE, "Stage", f"{unit.stage}, since {date_and_time(unit.stage_since_us, unit.zone)}"),
        *_held(unit),
        *_without(unit),
        *wrong,
        *_safety(unit.safety),
        *_figures(unit, now_us),
        *more,
        *_particulars(unit, width),
    )


def _held(unit: UnitSheet) -> tuple[Row, ...]:
    if unit.held is None:
        return ()
    since = "" if unit.held_us is None else f" (since {date_and_time(unit.held_us, unit.zone)})"
    return (_row(HELD, "Held", f"{unit.held}{since}", "warning"),)


def _without(unit: UnitSheet) -> tuple[Row, ...]:
    """What was said for listing it without something, who said it and when; its drives have a row."""
    return tuple(
        _row(
            (PARTICULARS, 200 + number),
            "" if number else "Without",
            f"{one.matters}: {one.reason} ({one.person}, {day_and_time(one.at_us, unit.zone)})",
            "warning",
        )
        for number, one in enumerate(one for one in unit.without if one.covers != (NO_DRIVE,))
    )


def _safety(safety: SafetyView) -> tuple[Row, ...]:
    rows: list[Row] = []
    if safety.cell_finding is not None:
        finding = FINDINGS.get(safety.cell_finding, safety.cell_finding)
        rows.append(_row(CELL, "Cell", f"✖ {finding}: stop, see what comes next", "loud"))
    battery = "battery in" if safety.battery_connected else "battery disconnected"
    battery = "battery CONNECTED" if safety.alarm else battery
    cover = "cover off" if safety.lid_off else "cover on"
    rows.append(_row(OPENING_LIST, "Cover", f"{cover}, {battery}", "loud" if safety.alarm else ""))
    opening = sum(tick.at_us is not None for tick in safety.opening)
    close_up = sum(tick.at_us is not None for tick in safety.close_up)
    rows.append(_list(OPENING_LIST, "Opening", opening, len(safety.opening), safety.without_opening))
    rows.append(_list(CLOSE_UP_LIST, "Closing", close_up, len(safety.close_up), safety.without_close_up))
    return tuple(rows)


def _list(key: str, label: str, done: int, of: int, without: str | None) -> Row:
    if without is not None:
        return _row((key, 1), label, f"! gone on without: {without}", "alert")
    return _row((key, 1), label, f"{done} of {of} ticked", "good" if done == of else "muted")


def _figures(unit: UnitSheet, now_us: int) -> tuple[Row, ...]:
    running = [entry for task in unit.tasks for entry in task.running]
    hands = sum(elapsed_us(one.started_us, now_us) for one in running if one.attended)
    alone = sum(elapsed_us(one.started_us, now_us) for one in running if not one.attended)
    return (
        _row(ATTENDED, "Hands on", hours_and_minutes(unit.attended_us + hands)),
        _row(UNATTENDED, "By itself", hours_and_minutes(unit.unattended_us + alone)),
        _row(MATERIALS, "Materials", show_money(unit.materials_minor, unit.currency)),
    )


def _particulars(unit: UnitSheet, width: int) -> tuple[Row, ...]:
    price = money_or(unit.price_minor, unit.currency)
    facts = (
        ("Price paid", price),
        ("Due", unit.due_on.isoformat() if unit.due_on else ""),
        ("Serial", unit.serial),
        ("Route", unit.route),
        ("Owner", ", ".join(word for word in (unit.owner, unit.owner_contact) if word)),
        ("Came in", day_and_time(unit.added_us, unit.zone)),
    )
    rows = [_row((PARTICULARS, n), label, text) for n, (label, text) in enumerate(facts) if text]
    note = [line for text in unit.note.split("\n") for line in wrap(text, max(width - 14, 10))]
    rows += [_row((PARTICULARS, 100 + n), "" if n else "Note", line, "strong") for n, line in enumerate(note)]
    return tuple(rows)


def _row(key: object, label: str, text: str, look: str = "") -> Row:
    return Row(key, (cell(label, "muted"), cell(text, look)))
