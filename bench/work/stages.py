"""The stages that units pass: added, renamed, put in another order, removed."""

from __future__ import annotations

from sqlmodel import col, func, select

from bench.desk import Desk
from bench.errors import Refused
from bench.store.tables import Route, RouteTask, Stage, Task, Unit
from bench.work.change import Change, change
from bench.work.lookups import stages_in_order
from bench.work.names import free_name, tells_if_changed
from bench.work.ordering import place, shift


def add_stage(desk: Desk, name: str, *, after_stage_id: int | None, lid_off: bool) -> int:
    """A new stage behind the one named, or before all others for None; answers its number."""
    with change(desk, "add stage") as made:
        stages = stages_in_order(made.session)
        at = 0
        if after_stage_id is not None:
            before = made.get(Stage, after_stage_id, "stage")
            if before.final:
                raise Refused(f"Units that reach {before.name} have left.", "Put the new stage before it.")
            at = stages.index(before) + 1
        stage = Stage(name=free_name(made, Stage, name, "stage"), position=at + 1, lid_off=int(lid_off))
        made.session.add(stage)
        place([*stages[:at], stage, *stages[at:]])
        made.session.flush()
        made.tells(f"Added stage {stage.name}")
        assert stage.id is not None
        return stage.id


def rename_stage(desk: Desk, stage_id: int, name: str) -> None:
    """Give a stage another name."""
    with change(desk, "rename stage") as made:
        stage = made.get(Stage, stage_id, "stage")
        before, stage.name = stage.name, free_name(made, Stage, name, "stage", stage_id)
        tells_if_changed(made, f"Renamed stage {before} to {stage.name}")


def reorder_stage(desk: Desk, stage_id: int, steps: int) -> None:
    """Move a stage up (below 0) or down, no further than the ends. Stages at which units leave stay last."""
    with change(desk, "reorder stage") as made:
        stage = made.get(Stage, stage_id, "stage")
        alike = [one for one in stages_in_order(made.session) if one.final == stage.final]
        if shift(alike, stage, steps):
            made.tells(f"Moved stage {stage.name}")


def set_stage_lid(desk: Desk, stage_id: int, lid_off: bool) -> None:
    """Say whether the cover is off at a stage. Refused while units stand there: theirs is as it is."""
    with change(desk, "stage cover") as made:
        stage = made.get(Stage, stage_id, "stage")
        if bool(stage.lid_off) == lid_off:
            return
        _require_empty(made, stage)
        stage.lid_off = int(lid_off)
        made.tells(f"Stage {stage.name} is now cover {'off' if lid_off else 'on'}")


def set_stage_lists(desk: Desk, stage_id: int, lists: bool) -> None:
    """Say whether units are offered for sale from a stage on. Refused while units stand there."""
    with change(desk, "stage lists") as made:
        stage = made.get(Stage, stage_id, "stage")
        if bool(stage.lists) == lists:
            return
        if stage.final:
            raise Refused(f"Units that reach {stage.name} have left.", "Mark a stage before that.")
        _require_empty(made, stage)
        stage.lists = int(lists)
        does = "are" if lists else "are not"
        made.tells(f"Units at stage {stage.name} {does} listed from now on")


def set_stage_sells(desk: Desk, stage_id: int, sells: bool) -> None:
    """Say whether units that leave at a stage are sold. Refused while units stand there, or none leave."""
    with change(desk, "stage sells") as made:
        stage = made.get(Stage, stage_id, "stage")
        if bool(stage.sells) == sells:
            return
        if not stage.final:
            raise Refused(f"Units do not leave at {stage.name}.", "Mark a stage at which they leave.")
        _require_empty(made, stage)
        stage.sells = int(sells)
        does = "are" if sells else "are not"
        made.tells(f"Units that leave at stage {stage.name} {does} sold from now on")


def remove_stage(desk: Desk, stage_id: int) -> None:
    """Take out a stage that nothing needs: no unit stands there, no open task or route's task belongs to it.

    Refused otherwise, and for the only stage at which units leave or come in.
    """
    with change(desk, "remove stage") as made:
        stage = made.get(Stage, stage_id, "stage")
        _require_another(made, stage)
        _require_empty(made, stage)
        _require_no_tasks(made, stage)
        stage.removed = 1
        made.tells(f"Removed stage {stage.name}")


def _require_another(made: Change, stage: Stage) -> None:
    alike = [one for one in stages_in_order(made.session) if one.final == stage.final]
    if len(alike) == 1:
        what = "at which units leave" if stage.final else "at which work is done"
        raise Refused(f"{stage.name} is the only stage {what}.", "Rename it instead.")


def _require_empty(made: Change, stage: Stage) -> None:
    units = select(func.count(col(Unit.id))).where(Unit.stage_id == stage.id, Unit.removed == 0)
    count = made.session.exec(units).one()
    if count:
        stand = "1 unit stands" if count == 1 else f"{count} units stand"
        raise Refused(f"{stand} at {stage.name}.", "Move them to another stage first.")


def _require_no_tasks(made: Change, stage: Stage) -> None:
    open_tasks = (
        select(Unit.tag)
        .join(Task, col(Task.unit_id) == Unit.id)
        .where(Task.stage_id == stage.id, Task.state == "todo", Task.removed == 0, Unit.removed == 0)
    )
    tag = made.session.exec(open_tasks).first()
    if tag is not None:
        raise Refused(f"Unit {tag} still has an open task at {stage.name}.", "Finish or skip it first.")
    routes = (
        select(Route.name)
        .join(RouteTask, col(RouteTask.route_id) == Route.id)
        .where(RouteTask.stage_id == stage.id, RouteTask.removed == 0, Route.removed == 0)
    )
    route = made.session.exec(routes).first()
    if route is not None:
        raise Refused(f"The route {route} has a task at {stage.name}.", "Give it another stage first.")
