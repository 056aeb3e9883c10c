"""Several units or tasks at once: one act, one transaction, one line of the journal, undone as one.

Each passes the gates that it would pass by itself. Where one does not, nothing is changed of any, and the
sentence names it.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass

from bench.desk import Desk
from bench.domain.text import clean_line, quoted
from bench.domain.typed import read_field
from bench.errors import BadInput, NotFound, Refused
from bench.store.engine import plain_connection
from bench.store.tables import Stage, Task, Unit
from bench.views.tasks import stage_after, stage_before
from bench.work.change import Change, change
from bench.work.moves import hold_within, move_within, release_within
from bench.work.timers import finish_within, reopen_within, skip_within

MOST_NAMED = 8
NOTHING_CHANGED = "Nothing was changed of any of them. See to it on its own, or take its mark off."
StageOf = Callable[[sqlite3.Connection, int], int | None]


@dataclass(frozen=True, slots=True)
class Several:
    """What was done: how many units or tasks it was, named, and the consumables that are low now."""

    count: int
    named: str
    low: tuple[str, ...] = ()


def move_units_on(desk: Desk, unit_ids: Sequence[int]) -> Several:
    """Move each of the units to the stage that comes next for it, past the gates of every move."""
    return _move_each(desk, unit_ids, stage_after, "stands at the last stage")


def move_units_back(desk: Desk, unit_ids: Sequence[int]) -> Several:
    """Move each of the units back one stage; the tasks of the stages gone back over are to do again."""
    return _move_each(desk, unit_ids, stage_before, "stands at the first stage")


def move_units_to(desk: Desk, unit_ids: Sequence[int], to_stage_id: int) -> Several:
    """Move all of the units to one stage; going back, as `move_units_back`."""
    return _move_each(desk, unit_ids, lambda _connection, _unit_id: to_stage_id, "")


def hold_units(desk: Desk, unit_ids: Sequence[int], reason: str) -> Several:
    """Set all of the units aside for one reason; hands-on timers on them stop."""
    with change(desk, "hold") as made:
        why = read_field("reason", clean_line, reason, "The reason for holding")
        units = _units(made, unit_ids)
        for unit in units:
            with _named(unit.tag):
                hold_within(made, unit, why)
        return _told(made, "Put on hold:", [unit.tag for unit in units], reason=why)


def release_units(desk: Desk, unit_ids: Sequence[int]) -> Several:
    """Let all of the units go on."""
    with change(desk, "release") as made:
        units = _units(made, unit_ids)
        for unit in units:
            with _named(unit.tag):
                release_within(unit)
        return _told(made, "Released", [unit.tag for unit in units])


def finish_tasks(desk: Desk, task_ids: Sequence[int]) -> Several:
    """Finish all of the tasks; each takes what its route says. A test is done with its outcome alone."""
    with change(desk, "finish") as made:
        low: dict[str, None] = {}
        tasks = _tasks(made, task_ids)
        for task in tasks:
            with _named(task.name):
                issued = finish_within(made, task, made.get(Unit, task.unit_id, "unit"), None)
            low |= dict.fromkeys(one.name for one in issued if one.low)
        return _told_tasks(made, "Finished", tasks, low=tuple(low))


def skip_tasks(desk: Desk, task_ids: Sequence[int], reason: str) -> Several:
    """Leave all of the tasks out, for one reason."""
    with change(desk, "skip") as made:
        why = read_field("reason", clean_line, reason, "The reason")
        tasks = _tasks(made, task_ids)
        for task in tasks:
            if task.state != "todo":
                raise Refused(f"{quoted(task.name)} is {task.state} already.", NOTHING_CHANGED)
            skip_within(made, task, why)
        return _told_tasks(made, "Skipped", tasks, reason=why)


def reopen_tasks(desk: Desk, task_ids: Sequence[int]) -> Several:
    """Put all of the tasks back to be done; what they took stays issued."""
    with change(desk, "reopen") as made:
        tasks = _tasks(made, task_ids)
        for task in tasks:
            if task.state == "todo":
                raise Refused(f"{quoted(task.name)} is not done yet.", NOTHING_CHANGED)
            reopen_within(task)
        return _told_tasks(made, "Reopened", tasks)


def _move_each(desk: Desk, unit_ids: Sequence[int], stage_of: StageOf, at_the_end: str) -> Several:
    with change(desk, "move") as made:
        connection = plain_connection(made.session)
        low: dict[str, None] = {}
        units = _units(made, unit_ids)
        targets: dict[str, None] = {}
        again = 0
        for unit in units:
            assert unit.id is not None
            made.session.flush()
            stage_id = stage_of(connection, unit.id)
            if stage_id is None:
                raise Refused(f"{unit.tag} {at_the_end}.", NOTHING_CHANGED)
            with _named(unit.tag):
                moved = move_within(made, unit, made.get(Stage, stage_id, "stage"), done_tasks="reopen")
            again += moved.reopened
            low |= dict.fromkeys(moved.low)
            targets[moved.to_stage] = None
        to = f" to {', '.join(targets)}" + (f", {again} tasks to do again" if again else "")
        return _told(made, "Moved", [unit.tag for unit in units], to, low=tuple(low))


@contextmanager
def _named(name: str) -> Iterator[None]:
    """Whatever stops this one stops them all, and is said of it by name."""
    try:
        yield
    except (Refused, NotFound) as error:
        what = error.what if name in error.what else f"{name}: {error.what}"
        raise Refused(what, NOTHING_CHANGED) from error


def _units(made: Change, unit_ids: Sequence[int]) -> list[Unit]:
    return [made.get(Unit, unit_id, "unit") for unit_id in _some(unit_ids)]


def _tasks(made: Change, task_ids: Sequence[int]) -> list[Task]:
    return [made.get(Task, task_id, "task") for task_id in _some(task_ids)]


def _some(ids: Sequence[int]) -> Sequence[int]:
    if not ids:
        raise BadInput("Nothing is marked.", "Mark what is meant first.")
    return tuple(dict.fromkeys(ids))


def _told(
    made: Change, did: str, names: Sequence[str], to: str = "", *, reason: str = "", low: tuple[str, ...] = ()
) -> Several:
    """Say it in the journal; a line about several units is of none alone."""
    named = _some_named(names)
    made.tells(f"{did} {named}{to}", reason=reason)
    return Several(len(names), named, low)


def _told_tasks(
    made: Change, did: str, tasks: Sequence[Task], *, reason: str = "", low: tuple[str, ...] = ()
) -> Several:
    units = dict.fromkeys(task.unit_id for task in tasks)
    only = next(iter(units)) if len(units) == 1 else None
    named = _some_named([task.name for task in tasks])
    tags = _some_named([made.get(Unit, unit_id, "unit").tag for unit_id in units])
    made.tells(f"{did} {named} on {tags}", unit_id=only, reason=reason)
    return Several(len(tasks), named, low)


def _some_named(names: Sequence[str]) -> str:
    more = len(names) - MOST_NAMED
    return ", ".join(names) if more <= 0 else f"{', '.join(names[:MOST_NAMED])} and {more} more"
