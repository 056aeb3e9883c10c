"""A small busy workshop, made by the use cases themselves, for tests that look at the first screen."""

from __future__ import annotations

from bench.desk import Desk
from bench.domain.safety import OPENING, OPENING_ITEMS
from bench.views.queue import read_queue
from bench.views.routes import read_routes
from bench.views.shop import read_stages
from bench.views.stock import read_stock
from bench.views.unit import read_unit
from bench.work.moves import hold_unit, move_unit
from bench.work.safety import go_on_without, tick, untick
from bench.work.shop import add_person
from bench.work.stock import restock
from bench.work.timers import start_task, stop_person
from bench.work.units import add_unit
from tests.clocks import HandSetClock

HOSTILE = (
    "[red]x[/]",
    "family \U0001f469\u200d\U0001f469\u200d\U0001f467 laptop",
    "日本語のノートパソコン 十四型",
    "مرحبا دفتر",
    "w" * 150,
)


def fill(desk: Desk, clock: HandSetClock) -> None:
    """Units at several stages: one timed, one held, one overdue, one open with its battery connected."""
    routes = read_routes(desk)
    stages = {stage.name: stage.stage_id for stage in read_stages(desk)}
    for line in read_stock(desk).lines[:4]:
        restock(desk, line.consumable_id, packs_text="1")
    models = [f"Maple {number} inch" for number in (11, 12, 13, 14, 15)] + list(HOSTILE)
    units = [
        add_unit(
            desk,
            maker="Invented",
            model=model,
            route_id=routes[index % len(routes)].route_id,
            due_text="2026-12-24" if index == 1 else "",
        ).unit_id
        for index, model in enumerate(models)
    ]
    add_unit(desk, maker="Late", model="one", due_text="2025-01-05")
    hold_unit(desk, units[2], "part on order: [b]fan[/b]")
    for unit_id in units[:2]:
        move_unit(desk, unit_id, stages["inspected"], open_tasks="skip", reason="seen at the door")
    tick(desk, units[3], OPENING, list(OPENING_ITEMS), screws=11)
    go_on_without(desk, units[4], OPENING, "battery glued, taken out later")
    tick(desk, units[5], OPENING, list(OPENING_ITEMS))
    for unit_id in units[3:6]:
        move_unit(desk, unit_id, stages["opened"], open_tasks="skip", reason="seen at the door")
    start_task(desk, first_todo(desk, units[5]))
    stop_person(desk)
    untick(desk, units[5], OPENING, "battery_out")
    add_person(desk, "Bo")
    start_task(desk, first_todo(desk, units[3]))
    clock.advance(minutes=61, us=7_000_000)


def first_todo(desk: Desk, unit_id: int) -> int:
    """The first task of a unit that is still to do."""
    return next(task.task_id for task in read_unit(desk, unit_id).tasks if task.state == "todo")


def unit_ids(desk: Desk) -> list[int]:
    """The units in the order of the queue."""
    return [row.unit_id for stage in read_queue(desk).stages for row in stage.rows]
