"""The demo's tasks as rows: time entries, what was done or skipped, what it took from stock."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from bench.domain.amounts import Instant
from bench.domain.durations import MINUTE_US, hours_and_minutes
from bench.domain.tags import tag_from_number
from bench.domain.text import task_on
from bench.store.demo_data import DemoUnit
from bench.store.tables import Correction, Task, TaskUse, TimeEntry
from bench.work.demo.ground import Ground, Line, numbered
from bench.work.demo.story import Happening, tasks_of


@dataclass(frozen=True)
class Taken:
    """What a finished task took from stock: quantities in thousandths, by consumable."""

    at_us: Instant
    who: str
    task_id: int
    uses: tuple[tuple[str, int], ...]


@dataclass
class TaskRows:
    """Every row about tasks, and what follows from them elsewhere."""

    ground: Ground
    tasks: list[Task] = field(default_factory=list)
    uses: list[TaskUse] = field(default_factory=list)
    entries: list[TimeEntry] = field(default_factory=list)
    corrections: list[Correction] = field(default_factory=list)
    taken: list[Taken] = field(default_factory=list)
    lines: list[Line] = field(default_factory=list)

    def add_unit(self, unit: DemoUnit, unit_id: int, happened: Sequence[Happening]) -> None:
        """The tasks of a unit's route, and what was done of them."""
        tag = tag_from_number(unit.number)
        for position, pattern in enumerate(tasks_of(self.ground.demo, unit), start=1):
            task = Task(
                id=len(self.tasks) + 1,
                unit_id=unit_id,
                stage_id=self.ground.stage_id(pattern.stage),
                position=position,
                name=pattern.name,
                estimate_minutes=pattern.estimate_minutes,
                unattended=int(pattern.unattended),
                lid_off=int(pattern.lid_off),
                opens=int(pattern.opens),
                hazard=pattern.hazard,
                test=pattern.test,
                public=int(pattern.public),
                route_task_id=self.ground.route_tasks.get((unit.route, pattern.name)),
            )
            self.tasks.append(task)
            for name, quantity in pattern.uses:
                consumable_id = numbered(self.ground.consumables[name].id)
                self.uses.append(
                    TaskUse(task_id=numbered(task.id), consumable_id=consumable_id, quantity=quantity)
                )
            for one in happened:
                if one.task is pattern:
                    self._add_sitting(task, one, task_on(task.name, tag))
                elif one.then == "out" and task.state == "todo":
                    task.state, task.ended_us = "skipped", one.at_us
                    task.skip_reason = self.ground.demo.trade.scrapped[unit.number]["reason"]

    def number_entries(self) -> None:
        """Give the time entries their numbers, by start; then the corrected ones can be told."""
        self.entries.sort(key=lambda entry: (entry.started_us, entry.person_id))
        for number, entry in enumerate(self.entries, start=1):
            entry.id = number
        self._add_corrections()

    def _add_sitting(self, task: Task, one: Happening, what: str) -> None:
        assert one.task is not None
        if one.then == "skipped":
            task.state, task.ended_us, task.skip_reason = "skipped", one.at_us, one.note
            self.lines.append(Line(one.at_us, one.who, "skip", f"Skipped {what}", task.unit_id, one.note))
            return
        self._add_entries(task, one)
        if one.then == "runs":
            self.lines.append(Line(one.at_us, one.who, "start", f"Started {what}", task.unit_id))
        elif one.then == "stop":
            length = hours_and_minutes(sum(stop_us - start_us for start_us, stop_us in one.pieces))
            words = f"Stopped {what} after {length}"
            self.lines.append(Line(one.at_us, one.who, "stop", words, task.unit_id))
        else:
            task.state, task.ended_us = "done", one.at_us
            self.lines.append(Line(one.at_us, one.who, "finish", f"Finished {what}", task.unit_id))
            if one.task.uses:
                self.taken.append(Taken(one.at_us, one.who, numbered(task.id), one.task.uses))

    def _add_entries(self, task: Task, one: Happening) -> None:
        for start_us, stop_us in one.pieces:
            is_open = one.then == "runs" and (start_us, stop_us) == one.pieces[-1]
            self.entries.append(
                TimeEntry(
                    task_id=numbered(task.id),
                    person_id=self.ground.people[one.who],
                    started_us=start_us,
                    stopped_us=None if is_open else stop_us,
                    attended=int(not task.unattended),
                )
            )

    def _add_corrections(self) -> None:
        names = {number: name for name, number in self.ground.people.items()}
        for one in self.ground.demo.corrections:
            unit_id = self.ground.unit_ids[one.unit]
            task = next(task for task in self.tasks if (task.unit_id, task.name) == (unit_id, one.task))
            entry = [entry for entry in self.entries if entry.task_id == task.id][-1]
            assert entry.stopped_us is not None
            wrong_us = entry.stopped_us + one.too_late_minutes * MINUTE_US
            self.corrections.append(
                Correction(
                    time_entry_id=numbered(entry.id),
                    person_id=entry.person_id,
                    at_us=wrong_us,
                    old_started_us=entry.started_us,
                    old_stopped_us=wrong_us,
                    new_started_us=entry.started_us,
                    new_stopped_us=entry.stopped_us,
                    reason=one.reason,
                )
            )
            words = f"Corrected {task_on(task.name, tag_from_number(one.unit))}"
            who = names[entry.person_id]
            self.lines.append(Line(wrong_us, who, "correct", words, unit_id, one.reason))
