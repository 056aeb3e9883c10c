"""Forgotten timers: asked about past the limit, kept, stopped at a typed time, or dropped."""

from __future__ import annotations

import subprocess
import sys

import pytest

from bench.desk import Desk
from bench.errors import BadInput, NotFound, Refused
from bench.views.timers import read_forgotten
from bench.views.unit import read_unit
from bench.work.corrections import correct_entry
from bench.work.forgotten import drop_entry, keep_running, stop_at
from bench.work.shop import add_person, edit_shop
from bench.work.timers import start_task, stop_person
from bench.work.undo import undo
from tests.clocks import MINUTE_US, HandSetClock
from tests.work.time_rows import at, entry_rows, first_task, journal_rows, new_unit


@pytest.fixture
def task_id(desk: Desk) -> int:
    return first_task(desk, new_unit(desk))


def forgotten_ids(desk: Desk) -> list[int]:
    return [timer.entry_id for timer in read_forgotten(desk)]


def test_a_timer_is_asked_about_only_past_the_limit(desk: Desk, clock: HandSetClock, task_id: int) -> None:
    entry_id = start_task(desk, task_id).entry_id  # an estimate of 15 minutes: the floor of two hours counts
    clock.advance(minutes=120)
    assert forgotten_ids(desk) == []
    clock.advance(us=1)
    (timer,) = read_forgotten(desk)
    assert (timer.entry_id, timer.task_id, timer.person, timer.attended) == (entry_id, task_id, "Ada", True)


def test_the_limit_is_a_multiple_of_the_estimate(desk: Desk, clock: HandSetClock) -> None:
    unit_id = new_unit(desk)
    long = next(task for task in read_unit(desk, unit_id).tasks if task.unattended)
    start_task(desk, long.task_id)
    clock.advance(minutes=3 * long.estimate_minutes)
    assert read_forgotten(desk) == ()
    clock.advance(us=1)
    assert [timer.attended for timer in read_forgotten(desk)] == [False]


def test_the_shop_sets_the_limit(desk: Desk, clock: HandSetClock, task_id: int) -> None:
    edit_shop(
        desk,
        name="Shop",
        currency="EUR",
        zone="UTC",
        rate_text="0",
        forgotten_times_text="1",
        forgotten_least_text="20",
    )
    start_task(desk, task_id)
    clock.advance(minutes=20, us=1)
    assert len(read_forgotten(desk)) == 1


def test_keeping_starts_the_limit_anew(desk: Desk, clock: HandSetClock, task_id: int) -> None:
    entry_id = start_task(desk, task_id).entry_id
    clock.advance(minutes=180)
    keep_running(desk, entry_id)
    assert read_forgotten(desk) == ()
    clock.advance(minutes=120)
    assert read_forgotten(desk) == ()
    clock.advance(us=1)
    assert forgotten_ids(desk) == [entry_id]
    assert journal_rows(desk)[-1][:2] == ("keep", 'Kept "look over and note faults" on 10014 running')


def test_others_are_asked_about_too_oldest_first(desk: Desk, clock: HandSetClock, task_id: int) -> None:
    other = desk.as_person(add_person(desk, "Bo"))
    first = start_task(other, task_id).entry_id
    clock.advance(minutes=1)
    second = start_task(desk, task_id).entry_id
    clock.advance(minutes=600)
    assert forgotten_ids(desk) == [first, second]


def test_stopped_at_a_typed_time(desk: Desk, clock: HandSetClock, task_id: int) -> None:
    started = start_task(desk, task_id)
    clock.advance(minutes=22 * 60)
    stopped = stop_at(desk, started.entry_id, "11:30")
    stop_us = at("2026-11-25T11:30+01:00")
    assert entry_rows(desk) == {started.entry_id: (started.at_us, stop_us)}
    assert (stopped.length_us, stopped.task, stopped.clock_note) == (
        stop_us - started.at_us,
        started.task,
        "",
    )
    assert (stopped.entry_id, stopped.unit_id, stopped.tag) == (started.entry_id, started.unit_id, "10014")
    assert journal_rows(desk)[-1][:2] == (
        "stop",
        'Stopped "look over and note faults" on 10014 as of Wed 25 Nov 11:30, after 1 h 30',
    )
    undo(desk)
    assert entry_rows(desk) == {started.entry_id: (started.at_us, None)}


def test_stopped_a_length_after_its_start(desk: Desk, clock: HandSetClock, task_id: int) -> None:
    started = start_task(desk, task_id)
    clock.advance(minutes=22 * 60)
    assert stop_at(desk, started.entry_id, "1h30").length_us == 90 * MINUTE_US


@pytest.mark.parametrize(
    "typed", ["yesterday 18:05", "2026-11-25 09:59", "09:59", "13:01", "+181", "later", ""]
)
def test_an_unusable_time_leaves_it_running(
    desk: Desk, clock: HandSetClock, task_id: int, typed: str
) -> None:
    started = start_task(desk, task_id)
    clock.advance(minutes=180)
    before = journal_rows(desk)
    with pytest.raises(BadInput):
        stop_at(desk, started.entry_id, typed)
    assert entry_rows(desk) == {started.entry_id: (started.at_us, None)}
    assert journal_rows(desk) == before


def test_dropping_leaves_no_entry_and_the_journal_brings_it_back(
    desk: Desk, clock: HandSetClock, task_id: int
) -> None:
    started = start_task(desk, task_id)
    clock.advance(minutes=180)
    correct_entry(desk, started.entry_id, start_text="10:15", stop_text="", reason="late")
    rows = entry_rows(desk)
    drop_entry(desk, started.entry_id)
    assert entry_rows(desk) == {}
    assert journal_rows(desk)[-1][:2] == (
        "drop",
        'Dropped the running timer of "look over and note faults" on 10014',
    )
    undo(desk)
    assert entry_rows(desk) == rows
    assert list(rows.values()) == [(at("2026-11-25T10:15+01:00"), None)]


@pytest.mark.parametrize("what", [keep_running, drop_entry, lambda desk, entry: stop_at(desk, entry, "+1")])
def test_a_timer_that_does_not_run_is_refused(desk: Desk, clock: HandSetClock, task_id: int, what) -> None:
    start_task(desk, task_id)
    clock.advance(minutes=180)
    entry_id = stop_person(desk).entry_id
    rows, journal = entry_rows(desk), journal_rows(desk)
    with pytest.raises(Refused, match="stopped already"):
        what(desk, entry_id)
    with pytest.raises(NotFound):
        what(desk, 99)
    assert (entry_rows(desk), journal_rows(desk)) == (rows, journal)


def test_asking_loads_nothing_that_writes() -> None:
    asks = (
        "import sys; import bench.views.timers; "
        "print(sorted({'sqlmodel', 'sqlalchemy', 'arrow', 'alembic'} & set(sys.modules)))"
    )
    answer = subprocess.run([sys.executable, "-c", asks], capture_output=True, text=True, check=True)
    assert answer.stdout.strip() == "[]"
