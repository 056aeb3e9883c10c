"""A computer's clock that was wrong: entries keep the length the steady clock measured, nobody is barred."""

from __future__ import annotations

import sqlite3
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import pytest

from bench.desk import Desk, SystemClock
from bench.errors import Refused
from bench.views.unit import read_unit
from bench.work.corrections import correct_entry
from bench.work.timers import start_task, stop_entry, stop_person
from tests.clocks import MINUTE_US, HandSetClock
from tests.screen.workshop import new_unit

YEAR_US = 365 * 24 * 60 * MINUTE_US


@pytest.fixture
def tasks(desk: Desk) -> list[int]:
    """Two hands-on tasks with the lid on."""
    lines = read_unit(desk, new_unit(desk)).tasks
    return [line.task_id for line in lines if not line.unattended and not line.lid_off][:2]


def spans(desk: Desk) -> list[tuple[int, int | None]]:
    with desk.store.read() as connection:
        rows = connection.execute("SELECT started_us, stopped_us FROM time_entry ORDER BY id").fetchall()
    return [(row[0], row[1]) for row in rows]


@pytest.mark.parametrize("step_us", [-90 * MINUTE_US, -YEAR_US, 60 * MINUTE_US, YEAR_US])
def test_an_entry_keeps_the_length_that_the_steady_clock_measured(
    desk: Desk, clock: HandSetClock, tasks: list[int], step_us: int
) -> None:
    started = start_task(desk, tasks[0])
    clock.advance(minutes=25)
    clock.set_wall(clock.wall_us + step_us)
    clock.advance(minutes=15)
    stopped = stop_entry(desk, started.entry_id)
    assert stopped.length_us == 40 * MINUTE_US
    assert "steady clock" in stopped.clock_note
    assert spans(desk) == [(started.at_us, started.at_us + 40 * MINUTE_US)]


def test_a_clock_that_was_a_year_ahead_keeps_nobody_from_starting(
    desk: Desk, clock: HandSetClock, tasks: list[int]
) -> None:
    """One entry was finished while it was ahead, one was still running when it was corrected."""
    right_us = clock.wall_us
    clock.set_wall(right_us + YEAR_US)
    start_task(desk, tasks[0])
    clock.advance(minutes=10)
    stop_person(desk)
    start_task(desk, tasks[1])
    clock.advance(minutes=10)
    clock.set_wall(right_us + 20 * MINUTE_US)
    started = start_task(desk, tasks[0])
    assert started.at_us == clock.now_us()
    clock.advance(minutes=30)
    assert stop_person(desk).length_us == 30 * MINUTE_US
    ahead = right_us + YEAR_US
    assert spans(desk) == [
        (ahead, ahead + 10 * MINUTE_US),
        (ahead + 10 * MINUTE_US, ahead + 20 * MINUTE_US),
        (started.at_us, started.at_us + 30 * MINUTE_US),
    ]


def test_an_entry_that_would_reach_into_the_next_is_put_behind_it(
    desk: Desk, clock: HandSetClock, tasks: list[int]
) -> None:
    first = start_task(desk, tasks[0])
    clock.advance(minutes=30)
    stop_person(desk)
    clock.set_wall(first.at_us - 60 * MINUTE_US)
    early = start_task(desk, tasks[1])
    clock.advance(minutes=10)
    clock.set_wall(first.at_us + 200 * MINUTE_US)
    clock.advance(minutes=60)
    assert stop_person(desk).length_us == 70 * MINUTE_US
    assert early.at_us == first.at_us - 60 * MINUTE_US
    behind_us = first.at_us + 30 * MINUTE_US
    assert spans(desk)[1] == (behind_us, behind_us + 70 * MINUTE_US)


def test_after_the_machine_was_off_the_wall_clock_is_all_there_is(
    desk: Desk, clock: HandSetClock, tasks: list[int]
) -> None:
    started = start_task(desk, tasks[0])
    clock.start_anew()
    clock.set_wall(started.at_us + 45 * MINUTE_US)
    stopped = stop_entry(desk, started.entry_id)
    assert (stopped.length_us, stopped.clock_note) == (45 * MINUTE_US, "")


def test_a_start_that_was_corrected_counts_from_where_it_was_typed(
    desk: Desk, clock: HandSetClock, tasks: list[int]
) -> None:
    clock.advance(minutes=60)
    started = start_task(desk, tasks[0])
    correct_entry(desk, started.entry_id, start_text="9:30", stop_text="", reason="began earlier")
    clock.advance(minutes=10)
    stopped = stop_entry(desk, started.entry_id)
    assert stopped.clock_note == ""
    assert stopped.length_us > 10 * MINUTE_US


def test_one_who_is_in_the_middle_of_a_recorded_entry_corrects_it_first(
    desk: Desk, clock: HandSetClock, tasks: list[int]
) -> None:
    start_task(desk, tasks[0])
    stopped_us = clock.advance(minutes=30)
    stop_person(desk)
    clock.set_wall(stopped_us - 20 * MINUTE_US)
    with pytest.raises(Refused, match="20 min after what the clock shows"):
        start_task(desk, tasks[1])


def test_a_start_by_a_clock_a_moment_back_can_be_stopped(
    desk: Desk, clock: HandSetClock, tasks: list[int]
) -> None:
    """The first entry has no length then, and lies ahead of the second: it is in nobody's way."""
    first = start_task(desk, tasks[0])
    clock.set_wall(clock.wall_us - 5)
    second = start_task(desk, tasks[1])
    assert second.at_us == first.at_us - 5
    clock.advance(minutes=10)
    assert stop_entry(desk, second.entry_id).length_us == 10 * MINUTE_US
    assert spans(desk) == [
        (first.at_us, first.at_us),
        (second.at_us, second.at_us + 10 * MINUTE_US),
    ]


def test_a_timer_that_reaches_into_an_entry_ahead_stops_behind_it(
    desk: Desk, clock: HandSetClock, tasks: list[int]
) -> None:
    """The clock was ten minutes ahead for one entry: the next one began before it and ends after it."""
    right_us = clock.wall_us
    clock.advance(minutes=10)
    start_task(desk, tasks[0])
    clock.advance(minutes=2)
    ahead = stop_person(desk)
    clock.set_wall(right_us)
    started = start_task(desk, tasks[1])
    clock.advance(minutes=15)
    stopped = stop_entry(desk, started.entry_id)
    assert (ahead.length_us, stopped.length_us) == (2 * MINUTE_US, 15 * MINUTE_US)
    assert "ahead" in stopped.clock_note
    assert spans(desk)[1] == (right_us + 12 * MINUTE_US, right_us + 27 * MINUTE_US)


def test_what_waits_for_another_program_takes_its_time_afterwards(desk: Desk, tasks: list[int]) -> None:
    """Else an entry would begin before the one that the other program has written meanwhile."""
    by_the_clock = replace(desk, clock=SystemClock())
    other = sqlite3.connect(desk.store.path, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    with ThreadPoolExecutor(1) as pool:
        waiting = pool.submit(start_task, by_the_clock, tasks[0])
        with pytest.raises(TimeoutError):
            waiting.result(0.3)
        released_us = SystemClock().now_us()
        other.execute("COMMIT")
        other.close()
        assert waiting.result().at_us >= released_us
