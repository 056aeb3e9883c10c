"""What an honest listing says of a unit: all of it from the records, and that there is none where so."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from bench.desk import Desk
from bench.domain.condition.found import ACT, STATE
from bench.domain.condition.readings import PartFigures, SubjectLines
from bench.domain.condition.verdicts import verdicts
from bench.domain.grading import WHOLE
from bench.domain.safety import FINDINGS
from bench.views.buyer_sheet import BuyerSheet, buyer_sheet
from bench.views.grades import GradeLine
from bench.views.particulars import particulars
from bench.views.tasks import tasks_of


class Measured(NamedTuple):
    """What was measured of one thing, in words. `before_work`: not measured again since."""

    name: str
    words: str
    before_work: bool


@dataclass(frozen=True, slots=True)
class Listing:
    """The records a listing is written from. `done`, `left_out`, `to_do`: names of tasks."""

    sheet: BuyerSheet
    done: tuple[str, ...]
    left_out: tuple[str, ...]
    to_do: tuple[str, ...]

    @property
    def whole(self) -> GradeLine:
        """What is said of the unit as a whole."""
        line = self.sheet.grades.line(WHOLE)
        return line if line.holds else GradeLine(line.part, line.label)

    @property
    def parts_said(self) -> tuple[GradeLine, ...]:
        """The parts of which something was said and which were tested, but for the whole."""
        return tuple(line for line in self.sheet.graded if line.part != WHOLE and line.tested)

    @property
    def faults(self) -> tuple[str, ...]:
        """Everything on record that a buyer must be told: flaws by grade, and readings to be stated."""
        told = (*self._bad_cell(), *self.sheet.locks, *self.sheet.known_faults)
        return tuple(dict.fromkeys((*told, *self._flaws(), *self._findings())))

    @property
    def measured(self) -> tuple[Measured, ...]:
        """The newest figures of everything measured, one line a thing."""
        told: dict[tuple[str, str], list[str]] = {}
        late: set[tuple[str, str]] = set()
        for line in self.sheet.before_after:
            thing = (line.subject, line.part)
            told.setdefault(thing, []).append(f"{line.label} {line.after or line.before}")
            if line.after:
                late.add(thing)
        return tuple(
            Measured(f"{subject} {part}".rstrip(), "; ".join(words), (subject, part) not in late)
            for (subject, part), words in told.items()
        )

    def _bad_cell(self) -> Iterator[str]:
        finding = self.sheet.condition.cell_finding
        if finding is not None:
            yield f"Battery: {FINDINGS[finding]} is on record: not for sale like this"

    def _flaws(self) -> Iterator[str]:
        for line in self.sheet.graded:
            steps = [step for step in (line.function, line.looks) if step is not None and step.position > 1]
            if steps:
                names = ", ".join(step.name for step in steps)
                yield f"{line.label}: {names}{f': {line.sentence}' if line.sentence else ''}"

    def _findings(self) -> Iterator[str]:
        for lines in self.sheet.condition.subjects:
            for part in lines.parts:
                yield from _stated(lines, part)


def read_listing(desk: Desk, unit_id: int) -> Listing:
    """The records a listing is written from, in one snapshot. NotFound when there is no such unit."""
    now_us = desk.clock.now_us()
    with desk.store.read() as connection:
        tasks = tasks_of(connection, particulars(connection, unit_id))
        sheet = buyer_sheet(connection, unit_id, now_us, desk.store.path)

    def named(state: str) -> tuple[str, ...]:
        return tuple(dict.fromkeys(task.name for task in tasks if task.state == state and task.holds))

    again = tuple(dict.fromkeys(f"{task.name}, again" for task in tasks if not task.holds))
    return Listing(sheet, named("done"), named("skipped"), (*named("todo"), *again))


def _stated(lines: SubjectLines, part: PartFigures) -> Iterator[str]:
    name = f"{lines.label} {part.part}".rstrip()
    given = (*verdicts(lines.subject, part.after or part.before), *part.compared)
    for verdict in given:
        if verdict.standing in (STATE, ACT):
            yield f"{name}: {verdict.words}"
