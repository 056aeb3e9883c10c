"""A unit's tasks as a table: on a screen with what each takes, on paper with its number and its stage."""

from __future__ import annotations

from bench.domain.durations import spent_of
from bench.domain.localtime import day_and_time
from bench.views.columns import Column, Table
from bench.views.kinds import COUNT, SAID, TEXT, Context, Kind, Said
from bench.views.tables.routes import takes_words
from bench.views.tasks import MARKS, TaskLine
from bench.views.timers import HANDS_ON, chief, ticking

RUNS = "runs"


def task_mark(task: TaskLine) -> Said:
    """How it stands, in one sign."""
    if task.running:
        return Said(HANDS_ON, time_look(task))
    if not task.holds:
        return Said("!", "alert")
    return Said(MARKS[task.state], "good" if task.state == "done" else "muted")


def time_look(task: TaskLine) -> str:
    """What runs stands out, hands-on apart from what runs by itself."""
    entry = chief(task.running)
    if entry is None:
        return "muted"
    return "running" if entry.attended else "waiting"


def _time(task: TaskLine, context: Context) -> str:
    """The time that it runs, where it is told by a clock; else what it took of its estimate."""
    entry = chief(task.running)
    if entry is not None:
        return ticking(entry, context.now_us) if context.now_us else RUNS
    if not task.holds:
        return "do again"
    return "skipped" if task.state == "skipped" else spent_of(task.spent_us, task.estimate_minutes)


def _marked_name(task: TaskLine) -> str:
    told = (("cover off", task.lid_off), ("machine time", task.unattended), ("test", bool(task.test)))
    marks = [mark for mark, there in told if there and task.state == "todo"]
    marks += [task.skip_reason] if task.skip_reason else []
    marks += [f"waits for {', '.join(task.awaits)}"] if task.awaits else []
    return f"{task.name} ({', '.join(marks)})" if marks else task.name


def _name_look(task: TaskLine) -> str:
    return "" if task.state == "todo" or task.running else "muted"


def _timed(task: TaskLine, context: Context) -> str:
    timers = [f"{one.person} since {day_and_time(one.started_us, context.zone)}" for one in task.running]
    return "; ".join([*timers, *([task.skip_reason] if task.skip_reason else [])])


_MARK: Column[TaskLine] = Column("", task_mark, SAID, 1)
_TOOK: Column[TaskLine] = Column(
    "Time", lambda task: task, Kind(_time, width=11, order=lambda task: task.spent_us), look=time_look
)
_TIMED = Kind(_timed, right=False)

TASKS = Table[TaskLine](
    "tasks",
    "Tasks",
    (
        _MARK,
        Column("Task", _marked_name, width=20, grow=3, look=_name_look),
        Column("Consumables", lambda task: takes_words(task.uses), TEXT, 16, 2, from_width=86, look="muted"),
        _TOOK,
    ),
    key="task_id",
)
ON_PAPER = Table[TaskLine](
    "tasks",
    "Tasks",
    (
        Column("", "number", COUNT, 2),
        _MARK,
        Column("", "name", width=20, grow=1),
        Column("Stage", "stage"),
        _TOOK,
        Column("", lambda task: task if task.running or task.skip_reason else None, _TIMED, beneath=True),
    ),
    key="task_id",
    empty="No tasks.",
)
