"""What a new data file begins with: stages, routes and consumables at zero stock, all of them changeable."""

from __future__ import annotations

from sqlmodel import Session

from bench.domain.starting_set import CONSUMABLES_AT_START, ROUTES_AT_START, STAGES_AT_START, RouteTaskAtStart
from bench.store.tables import Consumable, Route, RouteTask, RouteUse, Stage


def add_starting_set(session: Session) -> None:
    """Give a brand-new file its stages, routes and consumables. No journal row: nobody did this."""
    stages = _add_stages(session)
    consumables = _add_consumables(session)
    for name, tasks in ROUTES_AT_START.items():
        route = Route(name=name)
        session.add(route)
        session.flush()
        for position, task in enumerate(tasks, start=1):
            _add_route_task(session, _number(route.id), position, task, stages, consumables)


def _add_stages(session: Session) -> dict[str, int]:
    rows = [
        Stage(
            position=position,
            name=stage.name,
            lid_off=int(stage.lid_off),
            final=int(stage.final),
            lists=int(stage.lists),
            sells=int(stage.sells),
        )
        for position, stage in enumerate(STAGES_AT_START, start=1)
    ]
    session.add_all(rows)
    session.flush()
    return {row.name: _number(row.id) for row in rows}


def _add_consumables(session: Session) -> dict[str, int]:
    rows = [
        Consumable(
            name=consumable.name,
            base_unit=consumable.base_unit,
            pack_quantity=consumable.pack,
            lead_days=consumable.lead_days,
            shelf_life_days=consumable.shelf_life_days,
            hazard=consumable.hazard,
        )
        for consumable in CONSUMABLES_AT_START
    ]
    session.add_all(rows)
    session.flush()
    return {row.name: _number(row.id) for row in rows}


def _add_route_task(
    session: Session,
    route_id: int,
    position: int,
    task: RouteTaskAtStart,
    stages: dict[str, int],
    consumables: dict[str, int],
) -> None:
    row = RouteTask(
        route_id=route_id,
        stage_id=stages[task.stage],
        position=position,
        name=task.name,
        estimate_minutes=task.estimate_minutes,
        unattended=int(task.unattended),
        lid_off=int(task.lid_off),
        opens=int(task.opens),
        hazard=task.hazard,
        test=task.test,
        public=int(task.public),
    )
    session.add(row)
    session.flush()
    session.add_all(
        RouteUse(route_task_id=_number(row.id), consumable_id=consumables[name], quantity=quantity)
        for name, quantity in task.uses
    )
    session.flush()


def _number(row_id: int | None) -> int:
    assert row_id is not None  # flushed just before
    return row_id
