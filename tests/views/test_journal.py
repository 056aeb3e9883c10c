"""The journal read page by page: newest first, by unit, what was taken back marked."""

from __future__ import annotations

import json

import pytest

from bench.desk import Desk
from bench.errors import BadInput, NotFound
from bench.views.journal import read_journal
from bench.work.moves import hold_unit, release_unit
from bench.work.shop import add_person
from bench.work.timers import skip_task, start_task, stop_person
from bench.work.undo import undo
from tests.clocks import HandSetClock
from tests.work.time_rows import at, first_task, new_unit


def test_a_line_says_who_did_what_when_and_why(desk: Desk, clock: HandSetClock) -> None:
    unit_id = new_unit(desk)
    bo = desk.as_person(add_person(desk, "Bo"))
    clock.advance(minutes=5)
    skip_task(bo, first_task(desk, unit_id), "not needed")
    page = read_journal(desk)
    assert page.zone == "Europe/Berlin"
    line = page.lines[0]
    assert (line.person, line.action, line.summary) == (
        "Bo",
        "skip",
        'Skipped "look over and note faults" on 10014',
    )
    assert (line.reason, line.via, line.tag, line.unit_id) == ("not needed", "dashboard", "10014", unit_id)
    assert line.at_us == at("2026-11-25T10:05+01:00")
    assert [change["table"] for change in json.loads(line.changes)] == ["task"]
    assert [one.action for one in page.lines] == ["skip", "add person", "add unit"]
    assert page.lines[1].tag == ""


def test_pages_follow_each_other_without_gap_or_repeat(desk: Desk) -> None:
    unit_id = new_unit(desk)
    for number in range(6):
        hold_unit(desk, unit_id, f"reason {number}")
        release_unit(desk, unit_id)
    whole = [line.journal_id for line in read_journal(desk).lines]
    assert len(whole) == 13
    assert whole == sorted(whole, reverse=True)
    seen: list[int] = []
    before_id = None
    pages = 0
    while True:
        page = read_journal(desk, before_id=before_id, limit=5)
        seen += [line.journal_id for line in page.lines]
        pages += 1
        if not page.more:
            break
        before_id = page.lines[-1].journal_id
    assert (seen, pages) == (whole, 3)
    assert not read_journal(desk, limit=13).more
    assert read_journal(desk, limit=12).more
    assert read_journal(desk, before_id=whole[-1]).lines == ()


def test_of_one_unit_only_its_own_lines(desk: Desk) -> None:
    first, second = new_unit(desk), new_unit(desk)
    hold_unit(desk, second, "x")
    hold_unit(desk, first, "y")
    assert [line.action for line in read_journal(desk, unit_id=second).lines] == ["hold", "add unit"]
    assert {line.unit_id for line in read_journal(desk, unit_id=first).lines} == {first}
    older = read_journal(desk, unit_id=first, before_id=read_journal(desk, unit_id=first).lines[0].journal_id)
    assert [line.action for line in older.lines] == ["add unit"]


def test_a_unit_taken_back_keeps_its_journal(desk: Desk) -> None:
    unit_id = new_unit(desk)
    undo(desk)
    lines = read_journal(desk, unit_id=unit_id).lines
    assert [(line.action, line.undone, line.tag) for line in lines] == [
        ("undo", False, "10014"),
        ("add unit", True, "10014"),
    ]
    assert lines[0].undoes == lines[1].journal_id


def test_what_was_taken_back_is_marked_and_nothing_else(desk: Desk, clock: HandSetClock) -> None:
    unit_id = new_unit(desk)
    start_task(desk, first_task(desk, unit_id))
    clock.advance(minutes=3)
    stop_person(desk)
    undo(desk)
    marks = [(line.action, line.undone, line.undoes is not None) for line in read_journal(desk).lines]
    assert marks == [
        ("undo", False, True),
        ("stop", True, False),
        ("start", False, False),
        ("add unit", False, False),
    ]


@pytest.mark.parametrize("limit", [0, -1, 10_001])
def test_a_page_has_a_sensible_size(desk: Desk, limit: int) -> None:
    with pytest.raises(BadInput, match=f"A page of {limit} lines"):
        read_journal(desk, limit=limit)


def test_a_unit_that_never_was(desk: Desk) -> None:
    with pytest.raises(NotFound):
        read_journal(desk, unit_id=7)
    assert read_journal(desk).lines == ()
