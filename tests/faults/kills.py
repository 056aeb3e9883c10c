"""Kill a program that writes, again and again, at instants left to chance, and look at the file each time.

`python -m tests.faults.kills FILE KILLS SEED` prints what was seen as JSON. It forks, so that a kill costs a
few hundredths of a second, and is a program of its own, since what forks must have no threads.
"""

from __future__ import annotations

import json
import os
import random
import signal
import sqlite3
import sys
import time
from pathlib import Path

from bench.desk import Desk, SystemClock
from bench.work.check import check_newest
from bench.work.files import open_existing
from bench.work.stock import restock
from tests.faults.random_acts import RandomActs
from tests.faults.shops import make_shop, wrong_in

MOST_ACTS = 6
LONGEST_SECONDS = 0.03  # of the act that the kill falls into, and a little beyond


def kill_often(path: Path, kills: int, seed: int) -> dict[str, object]:
    """Make a shop at `path`, kill its writer so often; answers counts and all that was wrong."""
    units = make_shop(path)
    chance = random.Random(seed)
    wrong: list[str] = []
    confirmed = lost = 0
    for number in range(kills):
        last = _killed(path, units, chance)
        confirmed += last is not None
        lost += last is not None and last > _newest_line(path)
        wrong += _wrong_now(path)
        if wrong or lost:
            wrong.append(f"after kill {number + 1}")
            break
    wrong += wrong_in(path)
    return {
        "kills": kills,
        "with_confirmed_work": confirmed,
        "lines": _newest_line(path),
        "lost": lost,
        "wrong": wrong,
    }


def _killed(path: Path, units: list[int], chance: random.Random) -> int | None:
    """Let a writer do some acts and kill it in one of the next; answers the last line that it confirmed."""
    seed, acts, wait = chance.randrange(2**31), chance.randrange(MOST_ACTS), chance.random() * LONGEST_SECONDS
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reading)
        _write_forever(path, units, seed, writing)
    os.close(writing)
    with os.fdopen(reading, "rb") as told:
        told.readline()  # ready
        lines = [told.readline() for _ in range(acts)]
        time.sleep(wait)
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        lines += told.read().splitlines()
    whole = [int(line) for line in lines if line.strip().isdigit()]
    return whole[-1] if whole else None


def _write_forever(path: Path, units: list[int], seed: int, writing: int) -> None:
    desk = Desk(open_existing(path), SystemClock(), 1 + seed % 4, "command")
    acts = RandomActs(desk, seed, units)
    restock(desk, 1, quantity_text="1", price_text="1")  # so that what a first write loads is loaded
    os.write(writing, b"ready\n")
    while True:
        acts.act()
        os.write(writing, f"{_newest_line(path)}\n".encode())


def _newest_line(path: Path) -> int:
    connection = sqlite3.connect(path)
    try:
        return int(connection.execute("SELECT MAX(id) FROM journal").fetchone()[0])
    finally:
        connection.close()


def _wrong_now(path: Path) -> list[str]:
    store = open_existing(path)
    try:
        return [one.sentence() for one in check_newest(store)]
    finally:
        store.close()


if __name__ == "__main__":
    print(json.dumps(kill_often(Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3]))))
