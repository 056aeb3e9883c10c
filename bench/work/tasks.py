"""The tasks of one unit: added, renamed, put in another order, given what they take."""

from __future__ import annotations

from sqlmodel import col, func, select

from bench.desk import Desk
from bench.domain.durations import read_minutes
from bench.domain.outcomes import read_kind
from bench.domain.quantities import read_quantity, show_quantity
from bench.domain.safety import check_hazard
from bench.domain.text import clean_line, task_on
from bench.domain.typed import TypedFields, read_field
from bench.errors import Refused
from bench.store.tables import Consumable, Fault, Stage, Task, TaskUse, Unit
from bench.work.change import Change, change
from bench.work.lookups import tasks_in_order
from bench.work.names import tells_if_changed
from bench.work.ordering import shift


def add_task(
    desk: Desk,
    unit_id: int,
    *,
    name: str,
    stage_id: int,
    estimate_text: str,
    unattended: bool,
    lid_off: bool,
    opens: bool = False,
    hazard: str = "",
    test: str = "",
    fault_id: int | None = None,
    public: bool = False,
) -> int:
    """One more task on a unit, last at its stage; answers its number.

    `opens`: it takes the cover off. `hazard`: one of the kinds of `domain.safety`, empty for none. `test`: a
    kind of `domain.outcomes`, empty where it is no test. `fault_id`: the unit's fault that it is for.
    `public`: a listing may name it.
    """
    with change(desk, "add task") as made:
        unit = made.get(Unit, unit_id, "unit")
        stage = made.get(Stage, stage_id, "stage")
        if stage.final:
            raise Refused(f"Units that reach {stage.name} have left.", "Give the task an earlier stage.")
        fields = TypedFields()
        new_name = fields.read("name", clean_line, name, "The task's name")
        minutes = fields.read("estimate_text", read_minutes, estimate_text)
        kind = fields.read("test", read_kind, test)
        fields.check()
        if fault_id is not None and made.get(Fault, fault_id, "fault").unit_id != unit_id:
            raise Refused(f"That fault is not of unit {unit.tag}.", "Choose one of its own.")
        last = select(func.max(col(Task.position))).where(Task.unit_id == unit_id)
        task = made.add(
            Task(
                unit_id=unit_id,
                stage_id=stage_id,
                position=(made.session.exec(last).one() or 0) + 1,
                name=new_name,
                estimate_minutes=minutes,
                unattended=int(unattended),
                lid_off=int(lid_off or opens),
                opens=int(opens),
                hazard=check_hazard(hazard),
                test=kind,
                fault_id=fault_id,
                public=int(public),
            )
        )
        made.tells(f"Added {task.name} to {unit.tag} at {stage.name}", unit_id=unit_id)
        assert task.id is not None
        return task.id


def rename_task(
    desk: Desk, task_id: int, *, name: str, estimate_text: str, public: bool | None = None
) -> None:
    """Give a unit's task another name and estimate, and say whether a listing may name it; None: as it is."""
    with change(desk, "edit task") as made:
        task, unit = _task_and_unit(made, task_id)
        before, fields = task.name, TypedFields()
        task.name = fields.read("name", clean_line, name, "The task's name")
        task.estimate_minutes = fields.read("estimate_text", read_minutes, estimate_text)
        task.public = task.public if public is None else int(public)
        fields.check()
        now = "" if task.name == before else f", now {task.name}"
        tells_if_changed(made, f"Edited {before} on {unit.tag}{now}", unit.id)


def reorder_task(desk: Desk, task_id: int, steps: int) -> None:
    """Move a task up (below 0) or down among the unit's tasks at its stage, no further than the ends."""
    with change(desk, "reorder task") as made:
        task, unit = _task_and_unit(made, task_id)
        alike = [one for one in tasks_in_order(made.session, unit.id) if one.stage_id == task.stage_id]
        if shift(alike, task, steps):
            made.tells(f"Moved {task_on(task.name, unit.tag)}", unit_id=unit.id)


def set_task_use(desk: Desk, task_id: int, consumable_id: int, quantity_text: str) -> None:
    """Say what an open task takes of a consumable, in its base unit; 0 or nothing typed for none."""
    with change(desk, "task use") as made:
        task, unit = _task_and_unit(made, task_id)
        consumable = made.get(Consumable, consumable_id, "consumable")
        if task.state != "todo":
            raise Refused(f"{task_on(task.name, unit.tag)} is {task.state} already.", "Reopen it first.")
        typed = quantity_text.strip() or "0"
        quantity = read_field("quantity_text", read_quantity, typed, consumable.base_unit, allow_zero=True)
        statement = select(TaskUse).where(TaskUse.task_id == task_id, TaskUse.consumable_id == consumable_id)
        use = made.session.exec(statement).first()
        if use is None and quantity:
            made.add(TaskUse(task_id=task_id, consumable_id=consumable_id, quantity=quantity))
        elif use is not None and quantity:
            use.quantity = quantity
        elif use is not None:
            made.session.delete(use)
        amount = show_quantity(quantity, consumable.base_unit) if quantity else "no"
        tells_if_changed(
            made, f"{task_on(task.name, unit.tag)} now takes {amount} {consumable.name}", unit.id
        )


def _task_and_unit(made: Change, task_id: int) -> tuple[Task, Unit]:
    task = made.get(Task, task_id, "task")
    return task, made.get(Unit, task.unit_id, "unit")
