"""Reads and acts at the bench on a hundred times the demo's history, each against itself on the demo's."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from functools import partial
from pathlib import Path
from statistics import median

import pytest

from bench.desk import Desk
from bench.views.faults import read_faults, read_unit_faults
from bench.views.forecast import read_forecast
from bench.views.months import read_month
from bench.views.next_up import read_ranking
from bench.views.parties import read_parties
from bench.views.queue import read_queue
from bench.views.register import read_register
from bench.views.shop import read_stages
from bench.views.stock import read_history, read_stock
from bench.views.timers import read_forgotten
from bench.views.unit import read_unit
from bench.views.week import read_week
from bench.work.faults import add_fault
from bench.work.moves import hold_unit, release_unit
from bench.work.outcomes import end_test
from bench.work.stock import count_stock, restock
from bench.work.timers import finish_task, start_task, stop_person
from bench.work.undo import redo, undo
from bench.work.units import add_unit
from tests.benchmarks.grown_demo import grown_demo
from tests.benchmarks.measuring import Ratio, compare
from tests.clocks import HandSetClock

ROUNDS = 7
Sizes = tuple[Desk, Desk]

# How many times as long each may take. A week and a month hold so many more jobs; whole documents of the
# history are linear in it.
READS: dict[str, tuple[Callable[[Desk], object], float]] = {
    "the queue": (read_queue, 4),
    "the stock": (read_stock, 4),
    "a consumable": (lambda desk: read_history(desk, 1), 12),
    "forgotten timers": (read_forgotten, 3),
    "what next": (read_ranking, 4),
    "a unit": (lambda desk: read_unit(desk, 1), 3),
    "its faults": (lambda desk: read_unit_faults(desk, 3), 3),
    "the open faults": (read_faults, 3),
    "the stages": (read_stages, 40),
    "the week": (read_week, 20),
    "the month": (read_month, 60),
    "the forecast": (read_forecast, 4),
    "the people": (read_parties, 1000),
    "the register": (read_register, 1000),
}


@pytest.fixture(scope="module")
def sizes(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Sizes]:
    folder: Path = tmp_path_factory.mktemp("grown")
    with ExitStack() as stack:
        grown = stack.enter_context(grown_demo(folder / "grown.bench"))
        small = stack.enter_context(grown_demo(folder / "small.bench", copies=0))
        with grown.store.read() as connection:
            for table in ("unit", "time_entry", "movement", "journal"):
                print(table, connection.execute(f"SELECT COUNT(*) FROM {table}").fetchone()[0])
        yield grown, small


@pytest.mark.parametrize("name", READS)
def test_read(sizes: Sizes, name: str) -> None:
    (grown, small), (read, most) = sizes, READS[name]
    compare(f"{name}, 100x", lambda: read(grown), lambda: read(small), rounds=ROUNDS).must_be_below(most)


def test_acts(sizes: Sizes) -> None:
    grown, small = (_acts(desk) for desk in sizes)
    for name, seconds in grown.items():
        Ratio(f"{name}, 100x", median(seconds), median(small[name])).must_be_below(6)


def _acts(desk: Desk) -> dict[str, list[float]]:
    """How long each act takes, in seconds, round by round; the first round does not count."""
    took: dict[str, list[float]] = {}
    clock = desk.clock
    assert isinstance(clock, HandSetClock)

    def do(name: str, act: Callable[[], object]) -> None:
        clock.advance(minutes=1)
        began = time.perf_counter()
        act()
        took.setdefault(name, []).append(time.perf_counter() - began)

    for _ in range(ROUNDS + 1):
        unit_id = add_unit(desk, maker="Maker", model="One", route_id=1).unit_id
        task_id = read_unit(desk, unit_id).tasks[0].task_id
        do("start", lambda task_id=task_id: start_task(desk, task_id))  # type: ignore[misc]
        do("stop", lambda: stop_person(desk))
        start_task(desk, task_id)
        do("finish", lambda task_id=task_id: finish_task(desk, task_id))  # type: ignore[misc]
        do("fault", partial(add_fault, desk, unit_id, symptom="fan rattles"))
        do("test", partial(end_test, desk, unit_id, kind="soak", outcome="failed"))
        do("restock", lambda: restock(desk, 1, packs_text="1", price_text="9"))
        do("undo", lambda: undo(desk))
        do("redo", lambda: redo(desk))
        do("count", lambda: count_stock(desk, 1, quantity_text="300", reason="looked"))
        do("hold", lambda unit_id=unit_id: hold_unit(desk, unit_id, "a part"))  # type: ignore[misc]
        do("release", lambda unit_id=unit_id: release_unit(desk, unit_id))  # type: ignore[misc]
    return {name: seconds[1:] for name, seconds in took.items()}
