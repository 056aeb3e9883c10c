"""The tasks of one unit, what each takes, and the stages on its way."""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from dataclasses import dataclass, field, replace

from bench.desk import Desk
from bench.domain.amounts import Instant, Length, Thousandths
from bench.domain.holding import Condition, is_test
from bench.views.binder import Groups, Query
from bench.views.interrupted import interrupted_on
from bench.views.orders import awaited_of
from bench.views.particulars import Particulars
from bench.views.standing import OPENS
from bench.views.stock import ON_HAND
from bench.views.timers import Running, running

MARKS = {"todo": "·", "done": "✓", "skipped": "×"}


@dataclass(frozen=True, slots=True)
class Use:
    """What a task takes of a consumable, in thousandths of its base unit; `on_hand` is what is left."""

    consumable_id: int
    name: str
    base_unit: str
    quantity: Thousandths
    on_hand: Thousandths
    hazard: str = ""


@dataclass(frozen=True, slots=True)
class TaskLine:
    """One task of a unit. `state`: todo, done or skipped. `spent_us`: closed entries of all people.

    `number`: its place among the unit's tasks, by which a command names it.

    `opens`: it takes the cover off. `cover_on`: it needs the cover on. `hazard`: a kind of `domain.safety`.
    `holds`: False for a test that was done before the unit was opened again or came back. `test`: the kind of
    test that it is, empty for none. `fault_id`: the fault it is for. `awaits`: the parts that it waits for.
    `public`: a listing may name it. `left_by`: who left it for another task and has not taken it up again.
    """

    task_id: int
    number: int
    stage_id: int
    stage: str
    position: int
    name: str
    estimate_minutes: int
    unattended: bool
    lid_off: bool
    state: str
    spent_us: Length
    running: tuple[Running, ...] = field(default=(), kw_only=True)
    uses: tuple[Use, ...] = field(default=(), kw_only=True)
    ended_us: Instant | None
    skip_reason: str | None
    opens: bool = False
    cover_on: bool = False
    hazard: str = ""
    holds: bool = True
    test: str = ""
    fault_id: int | None = None
    awaits: tuple[str, ...] = ()
    public: bool = False
    left_by: str = ""


@dataclass(frozen=True, slots=True)
class _Stage:
    """A stage on the unit's way; `here`: it stands there. `tasks`: how many of its tasks belong there."""

    stage_id: int
    lid_off: bool
    here: bool
    tasks: int


_TASKS = Query(
    TaskLine,
    """
SELECT task.id AS task_id, ROW_NUMBER() OVER (ORDER BY stage.position, task.position, task.id) AS number,
       task.stage_id, stage.name AS stage, task.position, task.name,
       task.estimate_minutes, task.unattended, task.lid_off, task.state,
       COALESCE(SUM(entry.stopped_us - entry.started_us), 0) AS spent_us, task.ended_us, task.skip_reason,
       task.lid_off AND {opens} AS opens, NOT task.lid_off AND NOT stage.lid_off AS cover_on, task.hazard,
       task.test, task.fault_id, task.public
FROM task JOIN stage ON stage.id = task.stage_id
LEFT JOIN time_entry AS entry ON entry.task_id = task.id AND entry.stopped_us IS NOT NULL
WHERE task.unit_id = :unit_id AND task.removed = 0
GROUP BY task.id ORDER BY stage.position, task.position, task.id
""".replace("{opens}", OPENS),
)

_USES = Groups(
    Use,
    """
SELECT task_use.task_id, consumable.id AS consumable_id, consumable.name, consumable.base_unit,
       task_use.quantity, {on_hand} AS on_hand, consumable.hazard
FROM task JOIN task_use ON task_use.task_id = task.id
JOIN consumable ON consumable.id = task_use.consumable_id
WHERE task.unit_id = :unit_id AND task.removed = 0 AND consumable.removed = 0 ORDER BY task_use.id
""".replace("{on_hand}", ON_HAND),
)

_WAY = Query(
    _Stage,
    """
SELECT stage.id AS stage_id, stage.lid_off, stage.id = unit.stage_id AS here,
       (SELECT COUNT(*) FROM task WHERE task.unit_id = unit.id AND task.stage_id = stage.id
        AND task.removed = 0) AS tasks
FROM unit CROSS JOIN stage WHERE unit.id = :unit_id AND stage.removed = 0
ORDER BY stage.position, stage.id
""",
)


def next_stage_of(desk: Desk, unit_id: int) -> int | None:
    """The stage that comes next for the unit; None at the last one.

    Cover-off stages are passed over by a unit that has tasks but none there.
    """
    with desk.store.read() as connection:
        return stage_after(connection, unit_id)


def stage_after(connection: sqlite3.Connection, unit_id: int) -> int | None:
    """The same within a transaction that goes on with it."""
    stages = _WAY.all(connection, unit_id=unit_id)
    here = next((at for at, stage in enumerate(stages) if stage.here), -1)
    has_tasks = any(stage.tasks for stage in stages)
    for stage in stages[here + 1 :]:
        if not (stage.lid_off and has_tasks and not stage.tasks):
            return stage.stage_id
    return None


def previous_stage_of(desk: Desk, unit_id: int) -> int | None:
    """The stage before the unit's own; None at the first one."""
    with desk.store.read() as connection:
        return stage_before(connection, unit_id)


def stage_before(connection: sqlite3.Connection, unit_id: int) -> int | None:
    """The same within a transaction that goes on with it."""
    stages = _WAY.all(connection, unit_id=unit_id)
    here = next((at for at, stage in enumerate(stages) if stage.here), 0)
    return stages[here - 1].stage_id if here > 0 else None


def tasks_of(connection: sqlite3.Connection, unit: Particulars) -> tuple[TaskLine, ...]:
    """A unit's tasks in order, within a snapshot that other reads share."""
    after_cover = _stages_after_cover(connection, unit.unit_id)
    timers: defaultdict[int, tuple[Running, ...]] = defaultdict(tuple)
    for timer in running(connection):
        timers[timer.task_id] += (timer,)
    uses = _USES.by_key(connection, unit_id=unit.unit_id)
    parts: defaultdict[int, tuple[str, ...]] = defaultdict(tuple)
    for one in awaited_of(connection, unit.unit_id):
        parts[one.task_id] += (one.what,)
    left = {one.task_id: one.person for one in interrupted_on(connection, unit.unit_id)}
    tasks = []
    for task in _TASKS.each(connection, unit_id=unit.unit_id):
        holds = _holds(task, after_cover, unit.condition)
        timed, taken = timers[task.task_id], uses[task.task_id]
        awaits, left_by = parts[task.task_id], left.get(task.task_id, "")
        plain = holds and not (timed or taken or awaits or left_by)
        told = replace(task, running=timed, uses=taken, holds=holds, awaits=awaits, left_by=left_by)
        tasks.append(task if plain else told)
    return tuple(tasks)


def _holds(task: TaskLine, after_cover: set[int], condition: Condition) -> bool:
    """Whether it need not be done again: all but a test of the closed unit that its condition has ended."""
    if task.state != "done" or task.ended_us is None:
        return True
    after = task.stage_id in after_cover
    test = is_test(unattended=task.unattended or task.test, lid_off=task.lid_off, after_cover=after)
    return not test or condition.holds(task.ended_us)


def _stages_after_cover(connection: sqlite3.Connection, unit_id: int) -> set[int]:
    """The stages after the last one at which the cover is off."""
    way = _WAY.all(connection, unit_id=unit_id)
    last_off = max((at for at, stage in enumerate(way) if stage.lid_off), default=len(way))
    return {stage.stage_id for stage in way[last_off + 1 :]}
