"""The forecast from moves between stages: percentiles by hand, the jam, Little's law over the same past."""

from __future__ import annotations

import itertools

import pytest

from bench.desk import Desk
from bench.domain.forecast_sheet import Forecast, ForecastLine, doubt, met_words
from bench.domain.safety import CLOSING, OPENING
from bench.views.forecast import read_forecast
from bench.views.shop import read_stages
from bench.views.unit import read_unit
from bench.work.lots import make_donor
from bench.work.moves import hold_unit, move_unit
from bench.work.safety import go_on_without, report_cell
from bench.work.timers import skip_task
from bench.work.undo import undo
from tests.clocks import HandSetClock
from tests.work.sale_steps import stage
from tests.work.trade_steps import CHARGER_LEAD, new_unit

HOUR_US = 3_600_000_000


def pass_all(desk: Desk, clock: HandSetClock, times: int) -> int:
    """A unit that stays n x `times` hours at the n-th stage, and then leaves."""
    unit_id = new_unit(desk)
    stages = read_stages(desk)
    for hours, (here, there) in enumerate(itertools.pairwise(stages), start=1):
        clock.advance(minutes=60 * hours * times)
        if here.lid_off and not there.lid_off:
            go_on_without(desk, unit_id, CLOSING, "an empty case")
        if there.lid_off and not here.lid_off:
            go_on_without(desk, unit_id, OPENING, "an empty case")
        move_unit(desk, unit_id, there.stage_id)
    return unit_id


@pytest.fixture
def past(desk: Desk, clock: HandSetClock) -> Desk:
    """Five units one after the other: at the n-th of nine stages they stay n, 2n, 3n, 4n and 5n hours."""
    for times in (1, 2, 3, 4, 5):
        pass_all(desk, clock, times)
    return desk


def line(view: Forecast, unit_id: int) -> ForecastLine:
    return next(one for one in view.lines if one.unit_id == unit_id)


def hours(view: Forecast, *instants: int | None) -> list[float]:
    return [(at - view.read_us) / HOUR_US for at in instants if at is not None]


def test_done_by_whole_ways_of_the_shops_own_past(past: Desk, clock: HandSetClock) -> None:
    # Whole ways of 45 x 1 ... 5 h, 36 x 1 ... 5 to the last stage. An hour has been stood: the unit that
    # moved on after one hour no longer counts. Of 2, 3, 4, 5 the 50 % place is 3.5, the 80 % one 5, the 95 %
    # one the longest (Hyndman-Fan 6, places 2.5, 4 and 4.75 of 4).
    unit_id = new_unit(past)
    clock.advance(minutes=60)
    view = read_forecast(past)
    one = line(view, unit_id)
    assert hours(view, one.left_50_us, one.left_most_us, one.left_nearly_all_us) == pytest.approx(
        [3.5 * 45 - 1, 5 * 45 - 1, 5 * 45 - 1], abs=1e-6
    )
    assert hours(view, one.ready_50_us, one.ready_most_us, one.ready_nearly_all_us) == pytest.approx(
        [3.5 * 36 - 1, 5 * 36 - 1, 5 * 36 - 1], abs=1e-6
    )
    assert (one.rests_on, one.missing, one.stage, one.tag) == (
        4,
        (),
        "received",
        read_unit(past, unit_id).tag,
    )


def test_what_stood_longer_than_all_before_gets_no_date(past: Desk, clock: HandSetClock) -> None:
    unit_id = new_unit(past)
    clock.advance(minutes=60 * 5)
    one = line(read_forecast(past), unit_id)
    assert (one.left_50_us, one.ready_50_us, one.missing, one.rests_on) == (None, None, (), 0)
    assert "longer than every unit before it" in doubt(one)


def test_held_units_donors_and_bad_cells_get_no_date(past: Desk) -> None:
    held, bad, donor, free = (new_unit(past) for _ in range(4))
    hold_unit(past, held, "waits for a key")
    report_cell(past, bad, "swollen")
    make_donor(past, donor)
    assert [one.unit_id for one in read_forecast(past).lines] == [free]


def test_how_often_dates_were_met_is_told(past: Desk, clock: HandSetClock) -> None:
    assert "cannot be told yet" in met_words(read_forecast(past).met)
    pass_all(past, clock, 3)
    met = read_forecast(past).met
    assert (met.given, met.met_50, met.met_80) == (1, 1, 1)
    assert "the 50 % date was met by 1 of 1 (100 %)" in met_words(met)


def test_lid_off_stages_without_a_task_are_passed_over(past: Desk) -> None:
    # No task at opened, cleaned and refitted (3, 4, 5): 45 - 12 = 33 hours times 3
    view = read_forecast(past)
    assert view.lines == ()
    unit_id = new_unit(past, route_id=CHARGER_LEAD)
    view = read_forecast(past)
    assert hours(view, line(view, unit_id).left_50_us) == pytest.approx([99], abs=1e-6)


def test_where_units_stand_longest_is_the_bottleneck(past: Desk, clock: HandSetClock) -> None:
    unit_id = new_unit(past)
    move_unit(past, unit_id, stage(past, "graded"))
    clock.advance(minutes=90)
    view = read_forecast(past)
    assert [one.stage for one in view.stages] == [
        *("received", "inspected", "opened", "cleaned", "refitted"),
        *("closed", "tested", "graded", "listed"),
    ]
    assert view.bottleneck == "Units stay longest at listed: 50 % of 5 stays took 1 d 3 h or less."
    graded = view.stages[7]
    assert (graded.stays, graded.standing, graded.longest_us) == (5, 1, 90 * 60_000_000)
    assert (graded.median_us, graded.p80_us) == (24 * HOUR_US, round(33.6 * HOUR_US))
    assert view.stages[8].longest_us is None


def test_a_unit_that_waits_for_its_buyer_is_ready(past: Desk, clock: HandSetClock) -> None:
    unit_id = new_unit(past)
    since_us = clock.now_us()
    move_unit(past, unit_id, stage(past, "listed"))
    clock.advance(minutes=60)
    one = line(read_forecast(past), unit_id)
    assert one.ready_50_us == one.ready_nearly_all_us == since_us
    assert one.left_50_us == since_us + 27 * HOUR_US


def test_one_unit_at_a_time_is_one_unit_in_the_queue(past: Desk) -> None:
    # 45 h x (1 + 2 + 3 + 4 + 5) = 675 h without a break: 1 unit stands, 5 came, each stayed 135 h on average
    view = read_forecast(past)
    assert view.law is not None
    assert view.law.arrivals_a_day == pytest.approx(5 * 24 / 675)
    assert view.law.days_in_queue == pytest.approx(135 / 24)
    assert view.law.expected_in_queue == pytest.approx(1)
    assert view.law.in_queue == pytest.approx(1, rel=0.02)
    assert "holds" in view.law_words


def test_what_was_taken_back_never_happened(past: Desk, clock: HandSetClock) -> None:
    before = read_forecast(past).stages
    unit_id = new_unit(past)
    clock.advance(minutes=5000)
    move_unit(past, unit_id, stage(past, "inspected"))
    clock.advance(minutes=5000)
    undo(past)
    after = read_forecast(past).stages
    assert [(one.stage, one.stays, one.median_us) for one in after] == [
        (one.stage, one.stays, one.median_us) for one in before
    ]
    assert after[0].longest_us == 10_000 * 60_000_000


def test_without_a_past_no_date_is_given(desk: Desk, clock: HandSetClock) -> None:
    unit_id = new_unit(desk, route_id=CHARGER_LEAD)
    skip_task(desk, read_unit(desk, unit_id).tasks[0].task_id, "seen")
    clock.advance(minutes=30)
    move_unit(desk, unit_id, stage(desk, "inspected"))
    view = read_forecast(desk)
    one = line(view, unit_id)
    assert (one.left_50_us, one.ready_most_us, one.rests_on) == (None, None, 0)
    assert one.missing == ("inspected", "closed", "tested", "graded", "listed")
    assert view.law is None
    assert "cannot be checked yet" in view.law_words
    assert (
        view.bottleneck
        == "Units stay longest at received: 50 % of 1 stay took 30 min or less, few to go by: 5 are wanted."
    )
    assert view.days == 365


def test_an_empty_file(desk: Desk) -> None:
    view = read_forecast(desk)
    assert (view.lines, view.law, len(view.stages)) == ((), None, 9)
    assert "cannot be told" in view.bottleneck
