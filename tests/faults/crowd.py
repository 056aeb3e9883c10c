"""One of several programs that work on the same file at once: for contention.

Each is told the file, a person, and how often to go round. Every round adds a unit, starts a task on one of
the shared units, finishes a shared task that takes isopropyl, and stops. It prints what was confirmed and
the kind of each refusal.
"""

from __future__ import annotations

import random
import sys
from pathlib import Path

from bench.desk import Desk, SystemClock
from bench.errors import BenchError
from bench.work.files import open_or_new
from bench.work.timers import finish_task, start_task, stop_person
from bench.work.units import add_unit


def work(path: Path, person_id: int, rounds: int, seed: int, task_ids: list[int]) -> None:
    """Go round so often, in an order of its own."""
    desk = Desk(open_or_new(path), SystemClock(), person_id, "command")
    chance = random.Random(seed)
    for task_id in chance.sample(task_ids, len(task_ids))[:rounds]:
        _say("added", lambda: add_unit(desk, maker="", model="one of many").tag)
        _say("started", lambda task_id=task_id: start_task(desk, task_id).entry_id)
        _say("finished", lambda task_id=task_id: finish_task(desk, task_id).task_id)
        _say("started", lambda: start_task(desk, chance.choice(task_ids)).entry_id)
        _say("stopped", lambda: stop_person(desk).entry_id)


def _say(what: str, do: object) -> None:
    try:
        print(what, do(), flush=True)  # type: ignore[operator]
    except BenchError as error:
        print(type(error).__name__, error, flush=True)


if __name__ == "__main__":
    work(Path(sys.argv[1]), *(int(part) for part in sys.argv[2:5]), [int(part) for part in sys.argv[5:]])
