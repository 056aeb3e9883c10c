"""A key on the queue: as quick with a hundred thousand units in the file as with ten."""

from __future__ import annotations

import statistics
import time
from pathlib import Path

from textual.pilot import Pilot

from bench.dashboard.app import BenchApp
from bench.dashboard.widgets.queue_list import QueueList
from bench.desk import Desk
from tests.benchmarks.big_files import file_with
from tests.benchmarks.measuring import Ratio

KEYS = 120


async def test_a_key_on_the_queue(tmp_path: Path) -> None:
    seconds = {}
    for units in (10, 100_000):
        with file_with(tmp_path / f"{units}.bench", units=units) as desk:
            seconds[units] = await median_of_a_key(desk)
    Ratio("a key on the queue, 100,000 units", seconds[100_000], seconds[10]).must_be_below(3)


async def median_of_a_key(desk: Desk) -> float:
    """Processor time from a key until all that follows from it has been handled: waiting does not count."""
    app = BenchApp(desk)
    async with app.run_test(size=(120, 36)) as pilot:
        await queue_is_read(pilot)
        queue = app.screen.query_one(QueueList)
        taken = []
        for number in range(KEYS):
            before = queue.cursor
            start = time.process_time()
            await pilot.press("up" if number % 2 else "down")
            taken.append(time.process_time() - start)
            assert queue.cursor != before
    return statistics.median(taken)


async def queue_is_read(pilot: Pilot[int]) -> None:
    """Wait until the screen shows what the file holds."""
    for _ in range(3):
        await pilot.app.workers.wait_for_complete()
        await pilot.pause()
