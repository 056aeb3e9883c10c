"""What people do to faults and tests by chance: seen, closed, opened again, tested, shown cured."""

from __future__ import annotations

from collections.abc import Callable

from hypothesis import strategies as st
from hypothesis.stateful import rule

from bench.desk import Desk
from bench.work.faults import add_fault, edit_fault, remove_fault
from bench.work.outcomes import end_test, remove_test
from tests.faults.machine_ground import ANY, PEOPLE, UNITS, WHY, Ground
from tests.faults.model import Model

KINDS = st.sampled_from(("screen", "soak", "charger under load"))


class OutcomeActs(Ground):
    """Each rule does one thing as one person; what is refused must leave all as it was."""

    @rule(person=PEOPLE, unit=UNITS)
    def add_fault(self, person: int, unit: int) -> None:
        def do(desk: Desk) -> Callable[[Model], None]:
            fault = add_fault(desk, unit, symptom=f"fault {self.newest()}").fault_id
            return lambda model: model.add_fault(unit, fault)

        self.act(person, "fault", do)

    @rule(person=PEOPLE, state=st.sampled_from(("cured", "stays", "open")), choice=ANY)
    def close_fault(self, person: int, state: str, choice: int) -> None:
        sign = "<>" if state == "open" else "="
        fault = self.chosen(f"SELECT id FROM fault WHERE removed = 0 AND state {sign} 'open'", choice)

        def do(desk: Desk) -> Callable[[Model], None]:
            edit_fault(desk, fault, state=state, done=f"done {self.newest()}")
            if state == "open":
                return lambda model: model.open_fault_again(fault)
            return lambda model: model.close_fault(fault, state)

        self.act(person, f"fault {state}", do)

    @rule(person=PEOPLE, choice=ANY)
    def remove_fault(self, person: int, choice: int) -> None:
        fault = self.chosen("SELECT id FROM fault WHERE removed = 0", choice)

        def do(desk: Desk) -> Callable[[Model], None]:
            remove_fault(desk, fault, WHY)
            return lambda model: model.remove_fault(fault)

        self.act(person, "remove fault", do)

    @rule(person=PEOPLE, unit=UNITS, kind=KINDS, outcome=st.sampled_from(("passed", "failed", "broken off")))
    def test(self, person: int, unit: int, kind: str, outcome: str) -> None:
        self._end_test(person, unit, kind, outcome, 0)

    @rule(person=PEOPLE, kind=KINDS, choice=ANY)
    def test_cures(self, person: int, kind: str, choice: int) -> None:
        fault = self.chosen("SELECT id FROM fault WHERE removed = 0 AND state = 'open'", choice)
        unit = self.one("SELECT unit_id FROM fault WHERE id = ?", fault)
        self._end_test(person, unit, kind, "passed", fault)

    def _end_test(self, person: int, unit: int, kind: str, outcome: str, cured: int) -> None:
        def do(desk: Desk) -> Callable[[Model], None]:
            before = self.one("SELECT MAX(id) FROM fault")
            ended = end_test(desk, unit, outcome=outcome, kind=kind, cures=[cured] if cured else [])
            fault = ended.fault_id or 0
            return lambda model: model.end_test(
                ended.test_id, unit, kind, outcome, (fault, fault > before), cured
            )

        self.act(person, f"test {outcome}", do)

    @rule(person=PEOPLE, choice=ANY)
    def remove_test(self, person: int, choice: int) -> None:
        run = self.chosen("SELECT id FROM test_run WHERE removed = 0", choice)

        def do(desk: Desk) -> Callable[[Model], None]:
            remove_test(desk, run, WHY)
            return lambda model: model.remove_test(run)

        self.act(person, "remove test", do)

    def outcomes_are_so(self, model: Model) -> None:
        faults = self.all("SELECT id, unit_id, state, closed_by_test_id FROM fault WHERE removed = 0")
        assert set(faults) == {(fault, *one) for fault, one in model.faults.items()}
        tests = self.all("SELECT id, unit_id, kind, outcome, fault_id FROM test_run WHERE removed = 0")
        assert set(tests) == {(run, *one) for run, one in model.tests.items()}
