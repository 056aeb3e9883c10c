"""The demo's units on their way through the stages: when each moved, sold and taken back too."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from bench.domain.amounts import Instant
from bench.domain.tags import tag_from_number
from bench.store.demo_data import DemoUnit
from bench.store.tables import StageMove
from bench.work.demo.ground import Ground, Line, route_of
from bench.work.demo.story import Happening

REPAIRED = "repaired"


@dataclass(frozen=True)
class Step:
    """A move of a unit from one stage to another, made by `who`."""

    at_us: Instant
    who: str
    origin: str
    target: str


def steps_of(ground: Ground, unit: DemoUnit, happened: Sequence[Happening]) -> Iterator[Step]:
    """The unit's moves, each as soon as its work at the stage was done; then its return, if it came back."""
    came = happened[0]
    at_us, target = came.at_us, unit.stage
    for origin, target in pairwise(way_of(ground, unit)):
        told = [one.at_us for one in happened if _is_work_at(ground, unit, one, origin) or one.then == "out"]
        at_us = max([at_us, *told])
        yield Step(at_us, came.who, origin, target)
    for one in happened:
        if one.then == "back":
            yield Step(one.at_us, one.who, target, unit.stage)


def way_of(ground: Ground, unit: DemoUnit) -> Iterator[str]:
    """The stages a unit has passed, up to its own, or to the last one where it came back from there.

    Cover-off ones are passed over by a unit that has no task there.
    """
    with_task = {task.stage for task in route_of(unit)}
    scrapped = ground.demo.trade.scrapped.get(unit.number)
    if scrapped is not None:
        yield scrapped["stage"]
        yield unit.stage
        return
    last = None if unit.number in ground.demo.trade.comebacks else unit.stage
    for name, stage in ground.stages.items():
        if not stage.lid_off or name in with_task:
            yield name
        if name == last:
            return


def rows_of(
    ground: Ground, unit: DemoUnit, came_us: int, steps: Sequence[Step], first_id: int
) -> Iterator[StageMove]:
    """The unit's moves as rows, numbered from `first_id`."""
    since_us = came_us
    for move_id, step in enumerate(steps, start=first_id):
        yield StageMove(
            id=move_id,
            unit_id=ground.unit_ids[unit.number],
            from_stage_id=ground.stage_id(step.origin),
            from_since_us=since_us,
            to_stage_id=ground.stage_id(step.target),
            at_us=step.at_us,
            person_id=ground.people[step.who],
        )
        since_us = step.at_us


def lines_of(
    ground: Ground, unit: DemoUnit, steps: Sequence[Step], rows: Sequence[StageMove]
) -> Iterator[Line]:
    """What the journal tells of the moves: the row of each, and the unit's stage before and after."""
    for step, row in zip(steps, rows, strict=True):
        action, words, reason = _told(ground, unit, step)
        moved = {
            "table": "unit",
            "id": row.unit_id,
            "before": {"stage_id": row.from_stage_id, "stage_since_us": row.from_since_us},
            "after": {"stage_id": row.to_stage_id, "stage_since_us": row.at_us},
        }
        noted = [{"table": "stage_move", "id": row.id, "before": None, "after": row.model_dump()}, moved]
        changes = json.dumps(noted, separators=(",", ":"))
        yield Line(step.at_us, step.who, action, words, row.unit_id, reason, changes)


def _is_work_at(ground: Ground, unit: DemoUnit, one: Happening, stage: str) -> bool:
    return (
        one.task is not None
        and one.task.stage == stage
        and one.task not in ground.demo.trade.extra_tasks.get(unit.number, ())
    )


def _told(ground: Ground, unit: DemoUnit, step: Step) -> tuple[str, str, str]:
    """Action, words and reason of a move: a plain one, a sale, or a return."""
    tag, terms, trade = tag_from_number(unit.number), ground.terms, ground.demo.trade
    if ground.stages[step.origin].final:
        back = trade.comebacks[unit.number]
        refund = terms.money(back["refund"])
        given = f", {terms.shown(refund)} refunded" if refund else ""
        return "return", f"Took {tag} back to {step.target}{given}", back["reason"]
    sale = trade.sales.get(unit.number)
    if ground.stages[step.target].final and sale is not None:
        return "sell", f"Sold {tag} for {terms.shown(terms.money(sale.price))}", ""
    if ground.stages[step.target].final and unit.number in trade.owners:
        price = terms.shown(terms.money(trade.owners[unit.number][1]))
        return "leave", f"{tag} handed back, {price} for the repair", REPAIRED
    if unit.number in trade.scrapped:
        lost = terms.shown(terms.prices[unit.number] or 0)
        return "leave", f"{tag} scrapped, {lost} lost", trade.scrapped[unit.number]["reason"]
    return "move", f"Moved {tag} from {step.origin} to {step.target}", ""
