"""Rows of moves against the journal, which tells of every move too; the forecast against the same journal."""

from __future__ import annotations

import pytest

from bench.desk import Desk
from bench.domain.forecast import DAY_US, dates_met
from bench.domain.passage import Move, Standing, law_over, passages, spells
from bench.domain.statistics_of_work import spread
from bench.views import forecast
from bench.views.forecast import LAW_DAYS, LOOK_BACK_DAYS, read_forecast
from bench.work.check import check_record
from bench.work.comebacks import take_return
from bench.work.moves import move_unit
from bench.work.selling import sell_unit
from bench.work.undo import redo, undo
from tests.clocks import HandSetClock
from tests.work.sale_steps import BUYER, stage
from tests.work.told_moves import TOLD, asked, rows_are_what_the_journal_tells
from tests.work.trade_steps import new_unit

_UNITS = """
SELECT unit.id, unit.stage_id, unit.stage_since_us, unit.added_us, COALESCE(purchase.donor, 0)
FROM unit LEFT JOIN purchase ON purchase.unit_id = unit.id WHERE unit.removed = 0
"""


@pytest.fixture(params=[0, 3, 40], ids=lambda days: f"{days} days on")
def demo(request: pytest.FixtureRequest, demo_desk: Desk, clock: HandSetClock) -> Desk:
    """The demo as it is made, and looked at so many days later."""
    clock.advance(minutes=request.param * 24 * 60)
    return demo_desk


def test_the_demos_rows_are_what_its_journal_tells(demo: Desk) -> None:
    assert rows_are_what_the_journal_tells(demo) == 495


def test_the_demos_forecast_is_that_of_its_journal(demo: Desk) -> None:
    now_us = demo.clock.now_us()
    moves = [Move(*row[:5]) for row in asked(demo, TOLD) if row[4] >= now_us - LOOK_BACK_DAYS * DAY_US]
    units = [(Standing(*row[:4]), row[4]) for row in asked(demo, _UNITS)]
    final = {row[0] for row in asked(demo, "SELECT id FROM stage WHERE final = 1")}
    view = read_forecast(demo)
    for wait in view.stages:
        told = spread(
            [one.to_since_us - one.from_since_us for one in moves if one.from_stage_id == wait.stage_id]
        )
        assert told is not None
        assert (wait.stays, wait.median_us, wait.p80_us) == (told.count, told.median_us, told.p80_us)
    passed = passages([unit for unit, donor in units if not donor], moves, final)
    assert view.met == dates_met(passed)
    assert max(line.rests_on for line in view.lines) <= len(passed) > 20
    times = spells([unit for unit, _ in units], moves, final)
    since_us = max(now_us - LAW_DAYS * DAY_US, min(one.came_us for one in times))
    assert view.law == law_over(times, since_us, now_us)


def test_undone_moves_do_not_count_and_redone_ones_do(desk: Desk, clock: HandSetClock) -> None:
    unit_id, other_id = new_unit(desk), new_unit(desk, "100")
    for name in ("inspected", "closed", "listed", "closed"):
        clock.advance(minutes=60)
        move_unit(desk, unit_id, stage(desk, name))
    assert rows_are_what_the_journal_tells(desk) == 4
    undo(desk)
    undo(desk)
    assert rows_are_what_the_journal_tells(desk) == 2
    redo(desk)
    assert rows_are_what_the_journal_tells(desk) == 3
    clock.advance(minutes=60)
    sell_unit(desk, other_id, price_text="200", channel_id=1, **BUYER)
    clock.advance(minutes=60)
    take_return(desk, other_id, reason="loud", refund_text="", stage_id=stage(desk, "graded"))
    assert rows_are_what_the_journal_tells(desk) == 5
    undo(desk)
    assert rows_are_what_the_journal_tells(desk) == 4
    with desk.store.read() as connection:
        assert check_record(connection).agrees


def test_a_row_changed_past_the_program_is_found_by_the_check(desk: Desk, clock: HandSetClock) -> None:
    unit_id = new_unit(desk)
    clock.advance(minutes=60)
    move_unit(desk, unit_id, stage(desk, "inspected"))
    clock.advance(minutes=60)
    move_unit(desk, unit_id, stage(desk, "closed"))
    with desk.store.write() as session:
        connection = session.connection()
        for name in ("stage_move_stays", "unit_moves_by_a_row", "stage_move_undone"):
            connection.exec_driver_sql(f"DROP TRIGGER {name}")
        connection.exec_driver_sql("UPDATE stage_move SET at_us = at_us + 1 WHERE id = 1")
        connection.exec_driver_sql("UPDATE unit SET stage_since_us = stage_since_us + 1")
    with desk.store.read() as connection:
        found = check_record(connection)
    assert [one.table for one in found.differences] == ["stage_move", "unit"]
    assert found.sums == (
        "unit 1: does not stand where its last move led",
        "stage_move 2: does not begin where the one before it led",
    )


def test_a_stay_that_a_clock_set_back_bent_is_left_out(desk: Desk, clock: HandSetClock) -> None:
    for minutes in (90, -90):
        unit_id = new_unit(desk)
        clock.set_wall(clock.now_us() + minutes * 60_000_000)
        move_unit(desk, unit_id, stage(desk, "inspected"))
    received = read_forecast(desk).stages[0]
    assert (received.stays, received.median_us) == (1, 90 * 60_000_000)


def test_the_newest_are_gone_by(desk: Desk, clock: HandSetClock, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(forecast, "MOST", 3)
    for hours in (1, 2, 3, 4, 5):
        unit_id = new_unit(desk, "100")
        clock.advance(minutes=60 * hours)
        sell_unit(desk, unit_id, price_text="200", channel_id=1, **BUYER)
    new_unit(desk)
    view = read_forecast(desk)
    assert (view.stages[0].stays, view.stages[0].median_us) == (3, 4 * 3_600_000_000)
    assert (view.newest, view.lines[0].rests_on) == (3, 3)
