"""Faults and tests of the simple shop."""

from __future__ import annotations

from dataclasses import dataclass, field

from tests.faults.model_ground import Bench, need

OPEN, CURED, FAILED, BROKEN_OFF = "open", "cured", "failed", "broken off"


@dataclass
class Outcomes(Bench):
    """Faults: unit, state, the test that closed it. Tests: unit, kind, outcome, the fault that it showed.

    `answered`: the tests that failed and for which someone typed a reason since.
    """

    faults: dict[int, tuple[int, str, int | None]] = field(default_factory=dict)
    tests: dict[int, tuple[int, str, str, int | None]] = field(default_factory=dict)
    answered: set[int] = field(default_factory=set)

    def add_fault(self, unit: int, fault: int) -> None:
        self.faults[fault] = (unit, OPEN, None)

    def close_fault(self, fault: int, state: str, test: int | None = None) -> None:
        need(fault in self.faults and self.faults[fault][1] == OPEN, f"fault {fault} closed, not open")
        self.faults[fault] = (self.faults[fault][0], state, test)

    def open_fault_again(self, fault: int) -> None:
        need(fault in self.faults and self.faults[fault][1] != OPEN, f"fault {fault} opened again")
        self.faults[fault] = (self.faults[fault][0], OPEN, None)

    def remove_fault(self, fault: int) -> None:
        need(fault in self.faults, f"fault {fault} removed, not there")
        del self.faults[fault]
        self.tests = {
            run: (unit, kind, outcome, None if shown == fault else shown)
            for run, (unit, kind, outcome, shown) in self.tests.items()
        }

    def end_test(
        self, run: int, unit: int, kind: str, outcome: str, shown: tuple[int, bool], cured: int
    ) -> None:
        """`shown`: the fault and whether it was opened by it, 0 for none; `cured`: likewise 0 for none."""
        need(unit not in self.sold, f"a test of {unit}, which is sold")
        self.cell_is_good(unit)
        fault, opened = shown
        if opened:
            self.add_fault(unit, fault)
        if fault:
            need(self.faults.get(fault, (0, ""))[:2] == (unit, OPEN), f"test {run} shows no open fault")
        if cured:
            need(self.faults.get(cured, (0, ""))[0] == unit, f"test {run} cures another unit's fault")
            self.close_fault(cured, CURED, run)
        self.tests[run] = (unit, kind, outcome, fault or None)
        if outcome == FAILED and unit in self.listed and unit not in self.held:
            self.stop_all(unit)
            self.held[unit] = "for its test"

    def remove_test(self, run: int) -> None:
        need(run in self.tests, f"test {run} removed, not there")
        need(all(one[2] != run for one in self.faults.values()), f"test {run} removed, and it closed a fault")
        del self.tests[run]

    def failed(self, unit: int) -> list[int]:
        """The last tests of each kind, where one failed and nobody has answered for it since."""
        runs = sorted(run for run, one in self.tests.items() if one[0] == unit and one[2] != BROKEN_OFF)
        newest = {self.tests[run][1]: run for run in runs}
        return [run for run in newest.values() if self.tests[run][2] == FAILED and run not in self.answered]

    def answer_for_tests(self, unit: int) -> None:
        """A reason was typed for what had failed until now."""
        self.answered |= {run for run, one in self.tests.items() if one[0] == unit}
