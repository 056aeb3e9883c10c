"""The demo's faults and tests with their outcomes, what units are made of, and their pictures, act by act."""

from __future__ import annotations

import tempfile
from dataclasses import dataclass, field
from pathlib import Path

from bench.desk import Desk
from bench.domain.faults import CURED
from bench.domain.outcomes import FAILED, PASSED
from bench.store.demo_data import DemoUnit
from bench.store.demo_trade import DemoFault, DemoGrade, DemoPhotograph, DemoReading, DemoSpecification
from bench.views.binder import value
from bench.work.faults import add_fault, edit_fault, point_to_fault
from bench.work.grades import set_grade
from bench.work.outcomes import end_test
from bench.work.photographs import attach_photographs
from bench.work.readings import add_reading
from bench.work.specification import set_specification
from tests.work.demo_bought import Bought


@dataclass
class Found(Bought):
    """The acts by which it is told what is wrong with a unit, what it is made of and what it looks like."""

    faults: dict[tuple[int, str], int] = field(default_factory=dict)

    def find_fault(self, desk: Desk, one: DemoFault) -> None:
        unit_id = self.unit_ids[one.unit]
        self.faults[one.unit, one.symptom] = found = add_fault(
            desk,
            unit_id,
            symptom=one.symptom,
            place=one.place,
            origin=one.origin,
            suspected=one.suspected,
            task_id=None if one.at == "back" else self._task(one.unit, one.at),
        ).fault_id
        if one.failed:
            end_test(
                desk,
                unit_id,
                outcome=FAILED,
                kind=one.failed,
                ran_text=f"{one.ran} min",
                fault_id=found,
            )

    def close_fault(self, desk: Desk, one: DemoFault) -> None:
        """What it was and what was done; what a test had found is closed by one that passes."""
        unit_id, number = self.unit_ids[one.unit], self.faults[one.unit, one.symptom]
        state = None if one.failed and one.state == CURED else one.state
        edit_fault(desk, number, cause=one.cause, done=one.done, state=state)
        if state is None and not self._is_test(unit_id, one.closed_at):
            ran_text = f"{one.ran} min"
            end_test(desk, unit_id, outcome=PASSED, kind=one.failed, ran_text=ran_text, cures=[number])

    def join_fault(self, desk: Desk, one: DemoFault) -> None:
        """Say what belongs to it."""
        number, unit_id = self.faults[one.unit, one.symptom], self.unit_ids[one.unit]
        if one.task:
            point_to_fault(desk, number, task_id=self._task(one.unit, one.task))
        if one.part:
            part = "SELECT id FROM part WHERE to_unit_id = :unit AND name = :name AND removed = 0"
            point_to_fault(desk, number, part_id=self._named(part, unit=unit_id, name=one.part))
        if one.back:
            back = (
                "SELECT comeback.id FROM comeback JOIN sale ON sale.id = sale_id WHERE sale.unit_id = :unit"
            )
            point_to_fault(desk, number, comeback_id=self._named(back, unit=unit_id))

    def _is_test(self, unit_id: int, name: str) -> bool:
        text = "SELECT test FROM task WHERE unit_id = :unit AND name = :name AND removed = 0"
        with self.desk.store.read() as connection:
            return bool(value(connection, text, unit=unit_id, name=name))

    def pass_test(self, desk: Desk, unit: DemoUnit, name: str) -> None:
        """The test is done, and with it what it showed cured."""
        told = [one for one in self.demo.trade.faults if (one.unit, one.closed_at) == (unit.number, name)]
        end_test(
            desk,
            self.unit_ids[unit.number],
            outcome=PASSED,
            task_id=self._task(unit.number, name),
            cures=[self.faults[one.unit, one.symptom] for one in told],
        )

    def specify(self, desk: Desk, one: DemoSpecification) -> None:
        set_specification(desk, self.unit_ids[one.unit], _pairs(one.fields))

    def measure(self, desk: Desk, one: DemoReading) -> None:
        unit_id = self.unit_ids[one.unit]
        add_reading(
            desk,
            unit_id,
            moment=one.moment,
            subject=one.subject,
            fields=_pairs(one.figures),
            note=one.note,
        )

    def grade(self, desk: Desk, one: DemoGrade) -> None:
        text = "SELECT id FROM grade_step WHERE side = :side AND name = :name AND removed = 0"
        set_grade(
            desk,
            self.unit_ids[one.unit],
            one.part,
            function_step_id=self._named(text, side="function", name=one.function) if one.function else None,
            looks_step_id=self._named(text, side="looks", name=one.looks) if one.looks else None,
            sentence=one.sentence,
            tested=one.tested == "yes",
        )

    def picture(self, desk: Desk, one: DemoPhotograph) -> None:
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / one.file
            path.write_bytes(one.content)
            unit_id, shown = self.unit_ids[one.unit], one.shown == "yes"
            attach_photographs(desk, unit_id, [str(path)], caption=one.caption, shown=shown)


def _pairs(typed: str) -> dict[str, str]:
    return {name.strip(): text.strip() for name, text in (pair.split("=", 1) for pair in typed.split(";"))}
