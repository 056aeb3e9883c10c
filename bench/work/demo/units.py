"""The demo's units as rows, and the stages they have passed."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import timedelta

from bench.domain.safety import CLOSING, CLOSING_ITEMS, FINDINGS, LIST_NAMES, LISTS, OPENING, OPENING_ITEMS
from bench.domain.tags import tag_from_number
from bench.store.demo_data import DemoUnit
from bench.store.tables import SafetyCheck, StageMove, Unit
from bench.work.demo.buying import note_of
from bench.work.demo.ground import Ground, Line, numbered
from bench.work.demo.moves import lines_of, rows_of, steps_of, way_of
from bench.work.demo.story import Happening, Moment, Moments
from bench.work.demo.tasks import TaskRows

OPENING_TASK = "cover off, disconnect the battery"
CHECKING_TASK = "check gasket, shields, antenna leads"
CLOSING_TASK = "reconnect the battery, cover on"

_BEFORE_THE_BATTERY = ("shut_down", "strap")
_WHEN_CHECKED = ("gasket", "antennas")


def ticks(
    ground: Ground, unit: DemoUnit, row: Unit, happened: Sequence[Happening]
) -> tuple[list[SafetyCheck], list[Line]]:
    """What was ticked of the unit's lists, and the journal's lines about it."""
    checks: list[SafetyCheck] = []
    lines: list[Line] = []
    for one in happened:
        which, items = _ticked_by(one, unit)
        if not items:
            continue
        back, note = ground.demo.screws_back.get(unit.number, (unit.screws, ""))
        counted = "screws_back" in items
        checks += [
            SafetyCheck(
                unit_id=numbered(row.id),
                lid_count=0,
                list=which,
                item=item,
                person_id=ground.people[one.who],
                at_us=one.at_us,
                screws=back if item == "screws_back" else None,
                note=note if counted else "",
            )
            for item in items
        ]
        words = "; ".join(LISTS[which][item] for item in items)
        summary = f"Ticked the {LIST_NAMES[which]} of {row.tag}: {words}"
        lines.append(Line(one.at_us, one.who, "tick", summary, row.id, note if counted else ""))
    return checks, lines


def _ticked_by(one: Happening, unit: DemoUnit) -> tuple[str, tuple[str, ...]]:
    task = one.task.name if one.task is not None and one.then == "done" else ""
    if task == OPENING_TASK:
        return OPENING, _BEFORE_THE_BATTERY if unit.battery_left_connected else tuple(OPENING_ITEMS)
    if task == CHECKING_TASK:
        return CLOSING, _WHEN_CHECKED
    if task == CLOSING_TASK:
        return CLOSING, tuple(item for item in CLOSING_ITEMS if item not in _WHEN_CHECKED)
    return CLOSING, ()


@dataclass
class UnitRows:
    """Every row about units, their tasks apart; and when what happened to them."""

    tasks: TaskRows
    moments: Moments
    units: list[Unit] = field(default_factory=list)
    moves: list[StageMove] = field(default_factory=list)
    checks: list[SafetyCheck] = field(default_factory=list)
    lines: list[Line] = field(default_factory=list)


def unit_rows(ground: Ground, happened: Iterable[Happening]) -> UnitRows:
    """Rows of all units, numbered in the order of the file."""
    by_unit: defaultdict[int, list[Happening]] = defaultdict(list)
    for one in happened:
        by_unit[one.unit].append(one)
    left: dict[int, Moment] = {}
    rows = UnitRows(TaskRows(ground), Moments(by_unit, left))
    for unit in ground.demo.units:
        rows.tasks.add_unit(unit, ground.unit_ids[unit.number], by_unit[unit.number])
        _add_unit(rows, ground, unit, by_unit[unit.number], left)
    rows.tasks.number_entries()
    return rows


def _add_unit(
    rows: UnitRows, ground: Ground, unit: DemoUnit, happened: Sequence[Happening], left: dict[int, Moment]
) -> None:
    came = happened[0]
    steps = list(steps_of(ground, unit, happened))
    moves = list(rows_of(ground, unit, came.at_us, steps, len(rows.moves) + 1))
    rows.moves += moves
    rows.lines += lines_of(ground, unit, steps, moves)
    for step in steps:
        if ground.stages[step.target].final:
            left[unit.number] = Moment(step.at_us, step.who, step.at_us)
        elif ground.stages[step.origin].final:
            rows.lines += _tasks_added(ground, unit, step.at_us, step.who)
    since_us = steps[-1].at_us if steps else came.at_us
    row = _row(ground, unit, came.at_us, since_us, happened)
    row.back_us = next((step.at_us for step in reversed(steps) if ground.stages[step.origin].final), None)
    if row.held_reason is not None:
        row.held_us = max(since_us, happened[-1].at_us)
        rows.lines.append(_held_line(row, row.held_us, came.who))
    rows.units.append(row)
    checks, lines = ticks(ground, unit, row, happened)
    rows.checks += checks
    rows.lines += lines


def _tasks_added(ground: Ground, unit: DemoUnit, at_us: int, who: str) -> list[Line]:
    """What the journal tells of tasks that the unit was given when it came back."""
    tag = tag_from_number(unit.number)
    return [
        Line(
            at_us,
            who,
            "add task",
            f"Added {task.name} to {tag} at {task.stage}",
            ground.unit_ids[unit.number],
        )
        for task in ground.demo.trade.extra_tasks.get(unit.number, ())
    ]


def _row(ground: Ground, unit: DemoUnit, added_us: int, since_us: int, happened: Sequence[Happening]) -> Unit:
    stage = ground.stages[unit.stage]
    was_opened = any(ground.stages[name].lid_off for name in way_of(ground, unit))
    owner = ground.demo.trade.owners.get(unit.number)
    due_on = None if unit.due_in_days is None else ground.today + timedelta(days=unit.due_in_days)
    return Unit(
        id=ground.unit_ids[unit.number],
        tag=tag_from_number(unit.number),
        maker=unit.maker,
        model=unit.model,
        serial=unit.serial,
        note=note_of(ground, unit),
        route_id=ground.routes[unit.route],
        stage_id=ground.stage_id(unit.stage),
        stage_since_us=since_us,
        added_us=added_us,
        due_on=due_on.isoformat() if due_on else None,
        owner_id=ground.terms.parties[owner[0]] if owner else None,
        price_minor=ground.terms.prices[unit.number],
        held_reason=FINDINGS[unit.cell] if unit.cell else unit.held or None,
        lid_off=stage.lid_off,
        opened_us=_opened_us(happened) if stage.lid_off else None,
        lid_count=int(was_opened and not stage.lid_off),
        screws_out=unit.screws if stage.lid_off and not unit.battery_left_connected else None,
        cell_finding=unit.cell or None,
    )


def _opened_us(happened: Sequence[Happening]) -> int | None:
    """When the first work with the cover off began."""
    starts = (start_us for one in happened if one.task and one.task.lid_off for start_us, _ in one.pieces)
    return min(starts, default=None)


def _held_line(unit: Unit, at_us: int, who: str) -> Line:
    if unit.cell_finding:
        words = f"Stopped work on {unit.tag}: {FINDINGS[unit.cell_finding]}"
        return Line(at_us, who, "bad cell", words, unit.id)
    return Line(at_us, who, "hold", f"Put {unit.tag} on hold", unit.id, unit.held_reason or "")
