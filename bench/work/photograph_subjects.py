"""What a photograph shows besides its unit: a task, a grade, a fault, the model or a step of its page."""

from __future__ import annotations

from bench.domain.photographs import Subject
from bench.errors import BadInput
from bench.store.tables import Fault, Grade, ModelPage, ModelStep, Task, Unit
from bench.work.change import Change
from bench.work.model_pages import page_of


def subject_columns(made: Change, unit_id: int, subject: Subject) -> dict[str, int | None]:
    """The columns that say it. The page of the unit's model is made where there is none.

    BadInput for what is another unit's, or a step of another model.
    """
    task = made.get(Task, subject.task_id, "task") if subject.task_id is not None else None
    grade = made.get(Grade, subject.grade_id, "grade") if subject.grade_id is not None else None
    fault = made.get(Fault, subject.fault_id, "fault") if subject.fault_id is not None else None
    if any(one is not None and one.unit_id != unit_id for one in (task, grade, fault)):
        raise BadInput("That task, grade or fault is another unit's.", "Choose one of this unit.")
    page = None
    if subject.model or subject.model_step_id is not None:
        unit = made.get(Unit, unit_id, "unit")
        page = page_of(made, unit.maker, unit.model)
        _require_step(made, page, subject.model_step_id)
    return {
        "task_id": subject.task_id,
        "grade_id": subject.grade_id,
        "fault_id": subject.fault_id,
        "model_page_id": None if page is None else page.id,
        "model_step_id": subject.model_step_id,
    }


def _require_step(made: Change, page: ModelPage, step_id: int | None) -> None:
    if step_id is not None and made.get(ModelStep, step_id, "step").page_id != page.id:
        raise BadInput("That step is another model's.", "Choose one of the page of the unit's model.")
