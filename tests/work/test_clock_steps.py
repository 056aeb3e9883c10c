"""A clock that was set is noted in the journal, in words, and nothing else happens."""

from __future__ import annotations

import threading
import time

import pytest

from bench.desk import Desk
from bench.errors import NotFound
from bench.work.change import change
from bench.work.files import open_existing
from bench.work.forgotten import report_clock_step
from bench.work.undo import undo
from tests.clocks import MINUTE_US, HandSetClock
from tests.work.time_rows import journal_rows

LOOK = ": look at the entries of that time"


@pytest.mark.parametrize(
    ("step_us", "says"),
    [
        (62 * MINUTE_US, "The clock jumped forward by 1 h 02"),
        (-60 * MINUTE_US, "The clock was set back by 1 h 00"),
        (-5 * MINUTE_US, "The clock was set back by 5 min"),
        (MINUTE_US - 1, "The clock jumped forward by 60 s"),
        (2_000_001, "The clock jumped forward by 3 s"),
        (-2_000_000, "The clock was set back by 2 s"),
    ],
)
def test_a_step_is_told_in_words(desk: Desk, step_us: int, says: str) -> None:
    report_clock_step(desk, step_us)
    assert journal_rows(desk) == [("clock", says + LOOK, "")]


def test_no_step_is_no_line(desk: Desk) -> None:
    report_clock_step(desk, 0)
    assert journal_rows(desk) == []


def test_it_is_nothing_to_take_back(desk: Desk) -> None:
    report_clock_step(desk, 3_600_000_000)
    with pytest.raises(NotFound):
        undo(desk)


def test_an_act_that_waited_for_the_file_is_of_the_instant_at_which_it_got_it(
    desk: Desk, clock: HandSetClock
) -> None:
    """Else two programs of one person write entries that overlap."""
    other = Desk(open_existing(desk.store.path), clock, 1)
    begins = threading.Event()
    instants: list[int] = []

    def act() -> None:
        begins.set()
        with change(other, "other") as made:
            instants.append(made.now_us)

    waiting = threading.Thread(target=act)
    with change(desk, "first"):
        waiting.start()
        begins.wait()
        time.sleep(0.2)
        clock.advance(minutes=1)
        got_it_us = clock.now_us()
    waiting.join()
    other.store.close()
    assert instants == [got_it_us]
