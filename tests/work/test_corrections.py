"""Corrections: old values are kept, nothing overlaps, a reason is typed; all of it can be taken back."""

from __future__ import annotations

import pytest

from bench.desk import Desk
from bench.errors import BadInput, BatteryFirst, NotFound, Refused
from bench.views.entries import read_entry
from bench.work.corrections import add_entry, correct_entry, remove_entry
from bench.work.shop import add_person
from bench.work.timers import finish_task, start_task, stop_person
from bench.work.undo import undo
from tests.clocks import HandSetClock
from tests.work.time_rows import at, entry_rows, first_task, journal_rows, new_unit, record

BERLIN_10 = at("2026-11-25T10:00+01:00")  # the instant at which every test's clock stands first


@pytest.fixture
def unit_id(desk: Desk) -> int:
    return new_unit(desk)


@pytest.fixture
def task_id(desk: Desk, unit_id: int) -> int:
    return first_task(desk, unit_id)


@pytest.fixture
def entry_id(desk: Desk, clock: HandSetClock, task_id: int) -> int:
    """10:00:00 to 10:42:07.5, with the clock standing at 12:00:07.5 after it."""
    entry_id = start_task(desk, task_id).entry_id
    clock.advance(minutes=42, us=7_500_000)
    stop_person(desk)
    clock.advance(minutes=78)
    return entry_id


def nothing_changes(desk: Desk) -> tuple[object, object]:
    with desk.store.read() as connection:
        kept = connection.execute("SELECT COUNT(*) FROM correction").fetchone()[0]
    return entry_rows(desk), (journal_rows(desk), kept)


def test_old_values_are_kept_with_who_when_and_why(desk: Desk, entry_id: int) -> None:
    answer = correct_entry(desk, entry_id, start_text="09:50", stop_text="10:30", reason="  began early ")
    start_us, stop_us = at("2026-11-25T09:50+01:00"), at("2026-11-25T10:30+01:00")
    old_stop_us = at("2026-11-25T10:42:07+01:00") + 500_000
    assert (answer.old_started_us, answer.old_stopped_us) == (BERLIN_10, old_stop_us)
    assert (answer.new_started_us, answer.new_stopped_us) == (start_us, stop_us)
    assert (answer.entry_id, answer.tag, answer.task) == (entry_id, "10014", "look over and note faults")
    assert entry_rows(desk) == {entry_id: (start_us, stop_us)}
    (line,) = read_entry(desk, entry_id)[1]
    assert (line.person, line.at_us, line.reason) == ("Ada", desk.clock.now_us(), "began early")
    assert (line.old_started_us, line.old_stopped_us) == (BERLIN_10, old_stop_us)
    assert (line.new_started_us, line.new_stopped_us) == (start_us, stop_us)
    assert journal_rows(desk)[-1] == (
        "correct",
        (
            'Corrected "look over and note faults" on 10014 to Wed 25 Nov 09:50 to 10:30; '
            "it was Wed 25 Nov 10:00 to 10:42"
        ),
        "began early",
    )


def test_corrections_add_up_oldest_first(desk: Desk, entry_id: int) -> None:
    bo = desk.as_person(add_person(desk, "Bo"))
    correct_entry(desk, entry_id, start_text="", stop_text="10:30", reason="one")
    correct_entry(bo, entry_id, start_text="", stop_text="10:31", reason="two")
    lines = read_entry(desk, entry_id)[1]
    assert [(line.person, line.reason) for line in lines] == [("Ada", "one"), ("Bo", "two")]
    assert lines[0].new_stopped_us == lines[1].old_stopped_us


def test_an_end_left_empty_or_typed_to_its_own_minute_keeps_its_microseconds(
    desk: Desk, entry_id: int
) -> None:
    stop_us = entry_rows(desk)[entry_id][1]
    answer = correct_entry(desk, entry_id, start_text="09:50", stop_text="10:42", reason="x")
    assert answer.new_stopped_us == stop_us
    answer = correct_entry(desk, entry_id, start_text="", stop_text="+45", reason="x")
    assert (answer.new_started_us, answer.new_stopped_us) == (
        at("2026-11-25T09:50+01:00"),
        at("2026-11-25T10:35+01:00"),
    )


def test_a_start_in_the_minute_in_which_the_previous_entry_stopped_leaves_no_sliver(
    desk: Desk, clock: HandSetClock, entry_id: int, task_id: int
) -> None:
    """What the screen shows as 10:42 is 10:42:07.5: typing 10:42 must not overlap by seven seconds."""
    later = start_task(desk, task_id).entry_id
    answer = correct_entry(desk, later, start_text="10:42", stop_text="", reason="forgot to start")
    assert answer.new_started_us == entry_rows(desk)[entry_id][1]
    assert answer.new_stopped_us is None


def test_a_time_of_day_means_the_entry_s_own_day(desk: Desk, clock: HandSetClock, entry_id: int) -> None:
    clock.advance(minutes=6 * 24 * 60)
    answer = correct_entry(desk, entry_id, start_text="09:30", stop_text="10:10", reason="x")
    assert (answer.new_started_us, answer.new_stopped_us) == (
        at("2026-11-25T09:30+01:00"),
        at("2026-11-25T10:10+01:00"),
    )


def test_over_midnight_both_days_are_told(desk: Desk, clock: HandSetClock, entry_id: int) -> None:
    clock.advance(minutes=24 * 60)
    correct_entry(desk, entry_id, start_text="23:30", stop_text="00:10", reason="night work")
    assert "Wed 25 Nov 23:30 to Thu 26 Nov 00:10" in journal_rows(desk)[-1][1]


def test_a_running_entry_s_start_can_be_corrected(desk: Desk, clock: HandSetClock, task_id: int) -> None:
    entry_id = start_task(desk, task_id).entry_id
    clock.advance(minutes=30)
    answer = correct_entry(desk, entry_id, start_text="09:40", stop_text="", reason="forgot to start")
    assert (answer.old_stopped_us, answer.new_stopped_us) == (None, None)
    assert entry_rows(desk) == {entry_id: (at("2026-11-25T09:40+01:00"), None)}
    assert journal_rows(desk)[-1][1].endswith("it was Wed 25 Nov 10:00 and running")
    answer = correct_entry(desk, entry_id, start_text="", stop_text="10:20", reason="and to stop")
    assert answer.new_stopped_us == at("2026-11-25T10:20+01:00")


def test_an_overlap_is_refused_naming_the_other_task_and_its_times(
    desk: Desk, clock: HandSetClock, entry_id: int, unit_id: int
) -> None:
    start_task(desk, first_task(desk, unit_id, skip=1))
    clock.advance(minutes=15)
    stop_person(desk)
    before = nothing_changes(desk)
    with pytest.raises(Refused) as caught:
        correct_entry(desk, entry_id, start_text="", stop_text="12:10", reason="x")
    assert caught.value.what == (
        'Wed 25 Nov 10:00 to 12:10 overlaps "readings after, and grade" on 10014, Wed 25 Nov 12:00 to 12:15.'
    )
    with pytest.raises(Refused, match="overlaps"):
        correct_entry(desk, entry_id, start_text="", stop_text="12:15:05", reason="x")
    assert nothing_changes(desk) == before


def test_an_overlap_with_what_runs_says_so(
    desk: Desk, clock: HandSetClock, entry_id: int, task_id: int
) -> None:
    start_task(desk, task_id)
    clock.advance(minutes=5)
    with pytest.raises(Refused, match=r"on 10014, Wed 25 Nov 12:00 and running\."):
        correct_entry(desk, entry_id, start_text="", stop_text="12:01", reason="x")


def test_a_running_start_is_not_put_before_an_earlier_entry_s_stop(
    desk: Desk, entry_id: int, task_id: int
) -> None:
    running = start_task(desk, task_id).entry_id
    with pytest.raises(Refused, match="Wed 25 Nov 10:41 and running overlaps"):
        correct_entry(desk, running, start_text="10:41", stop_text="", reason="x")
    with pytest.raises(Refused, match="Wed 25 Nov 09:00 and running overlaps"):
        correct_entry(desk, running, start_text="09:00", stop_text="", reason="x")


def test_neighbours_may_touch(desk: Desk, clock: HandSetClock, task_id: int) -> None:
    clock.advance(minutes=600)
    record(desk, task_id, at("2026-11-25T10:00+01:00"), at("2026-11-25T11:00+01:00"))
    record(desk, task_id, at("2026-11-25T12:00+01:00"), at("2026-11-25T13:00+01:00"))
    middle = add_entry(desk, task_id, start_text="11:10", stop_text="11:20", reason="x")
    correct_entry(desk, middle, start_text="11:00", stop_text="12:00", reason="x")
    assert entry_rows(desk)[middle] == (at("2026-11-25T11:00+01:00"), at("2026-11-25T12:00+01:00"))


def test_another_person_and_an_unattended_task_do_not_stand_in_the_way(
    desk: Desk, clock: HandSetClock, entry_id: int, unit_id: int
) -> None:
    bo = desk.as_person(add_person(desk, "Bo"))
    wipe = first_task(desk, unit_id, unattended=True)
    hands_on = first_task(desk, unit_id)
    add_entry(desk, wipe, start_text="10:05", stop_text="10:40", reason="x")
    add_entry(desk, wipe, start_text="10:05", stop_text="10:40", reason="a second drive")
    add_entry(bo, hands_on, start_text="10:05", stop_text="10:40", reason="x")
    assert len(entry_rows(desk)) == 4
    unattended = max(entry_rows(desk)) - 1
    correct_entry(desk, unattended, start_text="10:06", stop_text="", reason="x")
    assert entry_rows(desk)[unattended][0] == at("2026-11-25T10:06+01:00")


@pytest.mark.parametrize(
    ("start", "stop", "reason", "says"),
    [
        ("", "", "x", "times it has already"),
        ("10:00", "10:42", "x", "times it has already"),
        ("09:50", "", "  ", "The reason is empty"),
        ("09:50", "", "two\nlines", "one line"),
        ("12:01", "", "x", "future"),
        ("", "13:00", "x", "future"),
        ("11:00", "", "x", "stop lies before the start"),
        ("never", "", "x", "not a time"),
        ("", "never", "x", "not a time"),
        ("+5", "", "x", "no start to count from"),
    ],
)
def test_what_cannot_be_used_changes_nothing(
    desk: Desk, entry_id: int, start: str, stop: str, reason: str, says: str
) -> None:
    before = nothing_changes(desk)
    with pytest.raises(BadInput, match=says):
        correct_entry(desk, entry_id, start_text=start, stop_text=stop, reason=reason)
    assert nothing_changes(desk) == before


def test_a_correction_can_be_taken_back(desk: Desk, entry_id: int) -> None:
    rows = entry_rows(desk)
    correct_entry(desk, entry_id, start_text="09:50", stop_text="", reason="x")
    with pytest.raises(BadInput, match="The reason"):
        undo(desk)
    undo(desk, reason="the clock was right")
    assert entry_rows(desk) == rows
    assert read_entry(desk, entry_id)[1] == ()


def test_an_added_entry_is_the_person_s_own_and_says_why(desk: Desk, entry_id: int, task_id: int) -> None:
    added = add_entry(desk, task_id, start_text="yesterday 16:00", stop_text="1h15", reason="timer forgotten")
    assert entry_rows(desk)[added] == (at("2026-11-24T16:00+01:00"), at("2026-11-24T17:15+01:00"))
    assert journal_rows(desk)[-1] == (
        "add entry",
        'Added Tue 24 Nov 16:00 to 17:15 to "look over and note faults" on 10014',
        "timer forgotten",
    )
    with desk.store.read() as connection:
        row = connection.execute("SELECT * FROM time_entry WHERE id = ?", (added,)).fetchone()
    assert (row["person_id"], row["attended"], row["kept_us"]) == (1, 1, None)
    undo(desk, reason="was not worked")
    assert added not in entry_rows(desk)


def test_added_right_after_another_it_leaves_no_sliver(desk: Desk, entry_id: int, task_id: int) -> None:
    added = add_entry(desk, task_id, start_text="10:42", stop_text="11:00", reason="x")
    assert entry_rows(desk)[added][0] == entry_rows(desk)[entry_id][1]


@pytest.mark.parametrize(
    ("start", "stop", "error", "says"),
    [
        ("10:30", "10:50", Refused, 'overlaps "look over'),
        ("09:00", "11:50", Refused, 'overlaps "look over'),
        ("11:00", "", BadInput, "The stop is empty"),
        ("", "11:00", BadInput, "not a time"),
        ("11:00", "12:30", BadInput, "future"),
    ],
)
def test_an_entry_that_cannot_be_is_not_added(
    desk: Desk, entry_id: int, task_id: int, start: str, stop: str, error: type[Exception], says: str
) -> None:
    before = nothing_changes(desk)
    with pytest.raises(error, match=says):
        add_entry(desk, task_id, start_text=start, stop_text=stop, reason="x")
    with pytest.raises(BadInput, match="The reason is empty"):
        add_entry(desk, task_id, start_text="11:00", stop_text="11:10", reason="")
    with pytest.raises(NotFound):
        add_entry(desk, 999, start_text="11:00", stop_text="11:10", reason="x")
    assert nothing_changes(desk) == before


def test_battery_first_holds_for_added_time_too(desk: Desk, clock: HandSetClock, unit_id: int) -> None:
    clock.advance(minutes=120)
    opened = first_task(desk, unit_id, lid_off=True)
    with pytest.raises(BatteryFirst):
        add_entry(desk, opened, start_text="10:10", stop_text="10:20", reason="x")
    # Where work was timed already, its time is completed without asking again.
    record(desk, opened, BERLIN_10, BERLIN_10 + 60_000_000)
    assert add_entry(desk, opened, start_text="10:10", stop_text="10:20", reason="x") > 0


def test_time_can_be_added_to_a_finished_task(desk: Desk, entry_id: int, task_id: int) -> None:
    finish_task(desk, task_id)
    added = add_entry(desk, task_id, start_text="11:00", stop_text="11:10", reason="x")
    assert entry_rows(desk)[added] == (at("2026-11-25T11:00+01:00"), at("2026-11-25T11:10+01:00"))


def test_a_removed_entry_and_its_corrections_come_back_when_taken_back(desk: Desk, entry_id: int) -> None:
    correct_entry(desk, entry_id, start_text="09:50", stop_text="", reason="one")
    correct_entry(desk, entry_id, start_text="09:55", stop_text="", reason="two")
    rows, lines = entry_rows(desk), read_entry(desk, entry_id)[1]
    remove_entry(desk, entry_id, "was not worked")
    assert entry_rows(desk) == {}
    assert journal_rows(desk)[-1] == (
        "remove entry",
        'Removed Wed 25 Nov 09:55 to 10:42 from "look over and note faults" on 10014',
        "was not worked",
    )
    with pytest.raises(NotFound):
        read_entry(desk, entry_id)[1]
    undo(desk)
    assert entry_rows(desk) == rows
    assert read_entry(desk, entry_id)[1] == lines


def test_removing_wants_a_reason_and_an_entry(desk: Desk, entry_id: int) -> None:
    before = nothing_changes(desk)
    with pytest.raises(BadInput, match="The reason is empty"):
        remove_entry(desk, entry_id, " ")
    with pytest.raises(NotFound):
        remove_entry(desk, 99, "x")
    with pytest.raises(NotFound):
        correct_entry(desk, 99, start_text="", stop_text="", reason="x")
    assert nothing_changes(desk) == before


def test_taking_back_a_removal_never_makes_an_overlap(desk: Desk, entry_id: int, task_id: int) -> None:
    remove_entry(desk, entry_id, "x")
    record(desk, task_id, BERLIN_10, BERLIN_10 + 60_000_000)
    before = nothing_changes(desk)
    with pytest.raises(Refused, match='overlaps "look over'):
        undo(desk)
    assert nothing_changes(desk) == before
