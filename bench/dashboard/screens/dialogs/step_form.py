"""A step of the shop's scale of grades."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from bench.dashboard.screens.dialogs.field import Field, TextField
from bench.dashboard.screens.dialogs.form import Form
from bench.domain.grading import Step


class StepForm(Form[bool]):
    """Asks for its name and meaning; without `step` it is a new one at the lower end."""

    def __init__(self, side: str, step: Step | None = None) -> None:
        super().__init__(
            f"New step for {side}" if step is None else f"Step {step.name} for {side}",
            draft=f"step {step.step_id if step is not None else f'new {side}'}",
        )
        self.side = side
        self.step = step

    def fields(self) -> Sequence[Field]:
        """Its name, and what a buyer may expect of it."""
        step = self.step
        return (
            TextField("name", "Name", value=step.name if step else ""),
            TextField("meaning", "Meaning", value=step.meaning if step else ""),
        )

    def work(self) -> Callable[[], Any]:
        """Add it, or change it."""
        desk, side, step = self.desk, self.side, self.step
        name, meaning = self.value("name"), self.value("meaning")

        def keep() -> object:
            from bench.work.grades import add_step, edit_step

            if step is None:
                return add_step(desk, side, name=name, meaning=meaning)
            edit_step(desk, step.step_id, name=name, meaning=meaning)
            return step.step_id

        return keep
