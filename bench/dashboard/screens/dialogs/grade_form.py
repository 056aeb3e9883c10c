"""One part graded: how it works, how it looks, and a sentence a buyer can check."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from bench.dashboard.presenters.grade_rows import step_choices
from bench.dashboard.screens.dialogs.choice_field import ChoiceField
from bench.dashboard.screens.dialogs.field import Field, TextField
from bench.dashboard.screens.dialogs.form import Form
from bench.dashboard.screens.dialogs.mark_field import YES, MarkField
from bench.domain.grading import FUNCTION, LOOKS, Step
from bench.views.grades import GradeLine

NOT_TESTED = "not_tested"


class GradeForm(Form[bool]):
    """Says of the part how it works and looks, in place of what was said before."""

    def __init__(self, unit_id: int, line: GradeLine, scale: tuple[Step, ...]) -> None:
        super().__init__(f"Grade: {line.label}", draft=f"grade {unit_id} {line.part}")
        self.unit_id = unit_id
        self.line = line
        self.scale = scale

    def fields(self) -> Sequence[Field]:
        """Both sides of the scale, the sentence, and whether it was tested at all."""
        line = self.line
        function = step_choices(self.scale, FUNCTION, line.function)
        looks = step_choices(self.scale, LOOKS, line.looks)
        return (
            ChoiceField(FUNCTION, "Works", function, none="not said", value=_number(line.function)),
            ChoiceField(LOOKS, "Looks", looks, none="not said", value=_number(line.looks)),
            TextField("sentence", "In a sentence", value=line.sentence),
            MarkField(NOT_TESTED, "", "was not tested", value=self._untested()),
        )

    def work(self) -> Callable[[], Any]:
        """Grade it."""
        desk, unit_id, part = self.desk, self.unit_id, self.line.part
        function, looks = self.value(FUNCTION), self.value(LOOKS)
        sentence, tested = self.value("sentence"), self.value(NOT_TESTED) != YES

        def grade() -> object:
            from bench.work.grades import set_grade

            return set_grade(
                desk,
                unit_id,
                part,
                function_step_id=int(function) if function else None,
                looks_step_id=int(looks) if looks else None,
                sentence=sentence,
                tested=tested,
            )

        return grade

    def _untested(self) -> str:
        return YES if self.line.grade_id is not None and not self.line.tested else ""


def _number(step: Step | None) -> str:
    return str(step.step_id) if step is not None else ""
