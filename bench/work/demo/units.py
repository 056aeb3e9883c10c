"""The demo's units as rows, and the stages they have passed."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import timedelta
from itertools import pairwise

from bench.domain.money import read_money
from bench.domain.safety import FINDINGS
from bench.domain.tags import tag_from_number
from bench.store.demo_files import DemoUnit
from bench.store.tables import SafetyCheck, Unit
from bench.work.demo.ground import Ground, Line, route_of
from bench.work.demo.lists import ticks
from bench.work.demo.story import Happening
from bench.work.demo.tasks import TaskRows


@dataclass
class UnitRows:
    """Every row about units, their tasks apart."""

    tasks: TaskRows
    units: list[Unit] = field(default_factory=list)
    checks: list[SafetyCheck] = field(default_factory=list)
    lines: list[Line] = field(default_factory=list)


def unit_rows(ground: Ground, happened: Iterable[Happening]) -> UnitRows:
    """Rows of all units, numbered in the order of the file."""
    by_unit: defaultdict[int, list[Happening]] = defaultdict(list)
    for one in happened:
        by_unit[one.unit].append(one)
    rows = UnitRows(TaskRows(ground))
    for unit_id, unit in enumerate(ground.demo.units, start=1):
        rows.tasks.add_unit(unit, unit_id, by_unit[unit.number])
        _add_unit(rows, ground, unit, unit_id, by_unit[unit.number])
    rows.tasks.number_entries()
    return rows


def _add_unit(
    rows: UnitRows, ground: Ground, unit: DemoUnit, unit_id: int, happened: Sequence[Happening]
) -> None:
    came, tag = happened[0], tag_from_number(unit.number)
    words = f"Added {tag} {unit.maker} {unit.model}"
    rows.lines.append(Line(came.at_us, came.who, "add unit", words, unit_id))
    since_us = came.at_us
    for since_us, origin, target in _moves(ground, unit, happened):
        words = f"Moved {tag} from {origin} to {target}"
        rows.lines.append(Line(since_us, came.who, "move", words, unit_id))
    row = _row(ground, unit, unit_id, came.at_us, since_us)
    if row.held_reason is not None:
        row.held_us = max(since_us, happened[-1].at_us)
        rows.lines.append(_held_line(row, row.held_us, came.who))
    rows.units.append(row)
    checks, lines = ticks(ground, unit, row, happened)
    rows.checks += checks
    rows.lines += lines


def _moves(ground: Ground, unit: DemoUnit, happened: Sequence[Happening]) -> Iterator[tuple[int, str, str]]:
    """When the unit went from which stage to which: as soon as its work there was done."""
    at_us = happened[0].at_us
    for origin, target in pairwise(_way(ground, unit)):
        at_us = max([at_us, *(one.at_us for one in happened if one.task and one.task.stage == origin)])
        yield at_us, origin, target


def _way(ground: Ground, unit: DemoUnit) -> Iterator[str]:
    """The stages up to the unit's own; lid-off ones are passed over by a unit that has no task there."""
    with_task = {task.stage for task in route_of(unit)}
    for name, stage in ground.stages.items():
        if not stage.lid_off or name in with_task:
            yield name
        if name == unit.stage:
            return


def _row(ground: Ground, unit: DemoUnit, unit_id: int, added_us: int, since_us: int) -> Unit:
    stage = ground.stages[unit.stage]
    was_opened = any(ground.stages[name].lid_off for name in _way(ground, unit))
    due_on = None if unit.due_in_days is None else ground.today + timedelta(days=unit.due_in_days)
    return Unit(
        id=unit_id,
        tag=tag_from_number(unit.number),
        maker=unit.maker,
        model=unit.model,
        serial=unit.serial,
        note=unit.note,
        route_id=ground.routes[unit.route],
        stage_id=ground.stage_id(unit.stage),
        stage_since_us=since_us,
        added_us=added_us,
        due_on=due_on.isoformat() if due_on else None,
        price_minor=read_money(unit.price, ground.demo.currency) if unit.price else None,
        held_reason=FINDINGS[unit.cell] if unit.cell else unit.held or None,
        lid_off=stage.lid_off,
        lid_count=int(was_opened and not stage.lid_off),
        screws_out=unit.screws if stage.lid_off and not unit.battery_left_connected else None,
        cell_finding=unit.cell or None,
    )


def _held_line(unit: Unit, at_us: int, who: str) -> Line:
    if unit.cell_finding:
        words = f"Stopped work on {unit.tag}: {FINDINGS[unit.cell_finding]}"
        return Line(at_us, who, "bad cell", words, unit.id)
    return Line(at_us, who, "hold", f"Held {unit.tag}", unit.id, unit.held_reason or "")
