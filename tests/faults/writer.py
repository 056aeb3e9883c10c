"""A program that writes one change after the other and says of each, once it is kept: for killing."""

from __future__ import annotations

import itertools
import sys
from pathlib import Path

from bench.desk import Desk, SystemClock
from bench.views.unit import read_unit
from bench.work.files import open_or_new
from bench.work.stock import restock
from bench.work.timers import start_task, stop_person
from bench.work.units import add_unit


def write_forever(path: Path) -> None:
    """Add units, start and stop their first task, book deliveries in; a line for each that was confirmed."""
    desk = Desk(open_or_new(path), SystemClock(), person_id=1, via="command")
    print("ready", flush=True)
    for number in itertools.count(1):
        added = add_unit(desk, maker="", model=f"unit {number}", route_id=1)
        print(f"unit {added.tag}", flush=True)
        started = start_task(desk, read_unit(desk, added.unit_id).tasks[0].task_id)
        print(f"start {started.entry_id}", flush=True)
        stopped = stop_person(desk)
        print(f"stop {stopped.entry_id} {stopped.length_us}", flush=True)
        restock(desk, 1, quantity_text=f"{number} ml", price_text="1")
        print(f"restock {number}", flush=True)


if __name__ == "__main__":
    write_forever(Path(sys.argv[1]))
