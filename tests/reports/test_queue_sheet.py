"""The queue as text and JSON: people, stages, units, and every flag in words."""

from __future__ import annotations

import json
from dataclasses import replace

from bench.desk import Desk
from bench.domain.ways_out import WAYS
from bench.reports import SHAPES
from bench.reports.queue_sheet import queue_json, queue_text
from bench.views.queue import QueueView, read_queue
from bench.work.moves import move_unit
from bench.work.timers import start_task
from tests.clocks import HandSetClock
from tests.reports.reading import companions_agree, is_plain, same
from tests.work.looked_into import looked_into_if_need_be
from tests.work.time_rows import first_task


def test_the_json_read_back_is_the_queue(busy: Desk) -> None:
    view = read_queue(busy)
    facts = json.loads(queue_json(view))
    same(view, facts)
    assert (facts["document"], facts["shape"]) == ("queue", SHAPES["queue"])
    assert companions_agree(facts) > 20
    assert set(facts["stages"][0]["rows"][0]) == {
        *("unit_id", "tag", "model", "stage_id", "next_task_id", "next_task", "next_machine_time"),
        *("spent_us", "spent_minutes", "estimate_minutes", "running", "on_hold", "due_on", "overdue"),
        *("battery_alarm", "cell_finding", "short_of", "awaits", "left", "ran_out"),
    }


def test_the_text_tells_people_and_units(busy: Desk) -> None:
    text = queue_text(read_queue(busy))
    is_plain(text)
    assert "Ada: nothing runs; today 0 min" in text
    assert (
        "+Bo; 'B', [red]: \"wipe the drive, keep the record\" on 10014 for 20 h 01 (machine\n"
        "  time); today 7 h 20"
    ) in text
    assert "received (2)" in text
    assert "2026-11-24\n    overdue\n" in text
    assert '    on hold: -2+3 waits for "a part", then' in text
    assert "1 h 25  2 h 40" in text
    assert "closed" not in text


def test_what_ticks_counts_in_the_text_since_midnight(busy: Desk, clock: HandSetClock) -> None:
    clock.advance(minutes=16 * 60)  # 23:21 by the shop's clock
    start_task(busy, first_task(busy, 1, skip=1))
    clock.advance(minutes=69)
    text = queue_text(read_queue(busy))
    assert 'Ada: "readings after, and grade" on 10014 for 1 h 09; today 30 min' in text
    assert "2 h 34  2 h 40" in text  # 85 minutes and these 69


def flagged(view: QueueView, **flags: object) -> str:
    """The text of a queue in which one unit bears the flags."""
    stage = next(stage for stage in view.stages if stage.rows)
    row = replace(stage.rows[0], **flags)
    return queue_text(replace(view, stages=(replace(stage, count=1, rows=(row,)),)))


def test_every_flag_is_said_in_words(busy: Desk) -> None:
    view = read_queue(busy)
    assert "    BATTERY CONNECTED, COVER OFF" in flagged(view, battery_alarm=True)
    assert "    STOP, a swollen cell" in flagged(view, cell_finding="swollen", overdue=False)
    assert "    short of paste, [/] wipes" in flagged(
        view, short_of=("paste", "[/] wipes"), overdue=False, held=None
    )
    quiet = flagged(view, overdue=False, held=None, due_on=None)
    assert "\n    " not in quiet
    is_plain(quiet)
    long = flagged(view, held="x" * 90 + " and more words", overdue=True, battery_alarm=True)
    is_plain(long)
    assert "and more words" in long


def test_units_that_left_are_counted_and_an_empty_queue_says_so(busy: Desk, desk: Desk) -> None:
    view = read_queue(desk)
    assert "The queue is empty." in queue_text(replace(view, stages=()))
    final = view.stages[-1]
    looked_into_if_need_be(busy, 1)
    move_unit(busy, 1, final.stage_id, open_tasks="skip", reason="x")
    text = queue_text(read_queue(busy))
    assert "sold (1)" in text
    assert "10014" not in text.split("sold (1)")[1]


def test_the_last_heading_tells_the_ways_out_apart(busy: Desk) -> None:
    view = read_queue(busy)
    final = replace(view.stages[-1], count=3, ways=(("sold", 1), ("scrapped", 2)))
    text = queue_text(replace(view, stages=(final,)))
    assert "sold (3: sold 1, scrapped 2)" in text
    long = replace(final, ways=tuple((way, 12_345) for way in WAYS))
    is_plain(queue_text(replace(view, stages=(long,))))
    facts = json.loads(queue_json(replace(view, stages=(final,))))
    assert facts["stages"][0]["ways"] == [["sold", 1], ["scrapped", 2]]


def test_stages_with_the_lid_off_say_so(busy: Desk) -> None:
    view = read_queue(busy)
    stage = next(stage for stage in view.stages if stage.rows)
    assert "received (2), cover off" in queue_text(replace(view, stages=(replace(stage, lid_off=True),)))
