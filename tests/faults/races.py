"""Four programs change the same few units as fast as they can; then the file is looked over.

`python -m tests.faults.races FILE ACTS SEED` prints what was seen as JSON; ACTS is of each program. It forks,
and is a program of its own, since what forks must have no threads.
"""

from __future__ import annotations

import json
import os
import sys
from collections import Counter
from pathlib import Path

from bench.desk import Desk, SystemClock
from bench.work.files import open_existing
from tests.faults.random_acts import RandomActs
from tests.faults.shops import PEOPLE, make_shop, wrong_in


def race(path: Path, acts: int, seed: int) -> dict[str, object]:
    """Make a shop at `path`, let each of four programs do so many acts; answers counts and what is wrong."""
    units = make_shop(path)
    runners = [_runner(path, units, acts, seed * 10 + number, number + 1) for number in range(len(PEOPLE))]
    did: Counter[str] = Counter()
    crashed = 0
    for child, told in runners:
        with os.fdopen(told, "r") as lines:
            did.update(line.strip() for line in lines)
        crashed += os.waitpid(child, 0)[1] != 0
    done = sum(count for name, count in did.items() if " " not in name)
    return {
        "acts": sum(did.values()),
        "done": done,
        "undone": did["undoing"],
        "redone": did["redoing"],
        "refused": sum(did.values()) - done,
        "kinds_done": len([name for name in did if " " not in name]),
        "busy": sum(count for name, count in did.items() if name.endswith("StoreError")),
        "crashed": crashed,
        "wrong": wrong_in(path),
    }


def _runner(path: Path, units: list[int], acts: int, seed: int, person_id: int) -> tuple[int, int]:
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reading)
        runner = RandomActs(Desk(open_existing(path), SystemClock(), person_id, "command"), seed, units)
        with os.fdopen(writing, "w") as tells:
            for _ in range(acts):
                print(runner.act(), file=tells, flush=True)
        os._exit(0)
    os.close(writing)
    return child, reading


if __name__ == "__main__":
    print(json.dumps(race(Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3]))))
