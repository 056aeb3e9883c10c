"""The waiting period: a unit bought lately stays unaltered and unsold until its day."""

from __future__ import annotations

import pytest

from bench.desk import Desk
from bench.errors import Refused
from bench.views.purchase import read_purchase
from bench.views.shop import read_stages
from bench.views.unit import read_unit
from bench.work.moves import move_unit
from bench.work.parts import fit_part, take_part
from bench.work.purchases import edit_purchase
from bench.work.timers import finish_task, skip_task, start_task
from tests.clocks import HandSetClock
from tests.work.taking_back import changes_nothing
from tests.work.trade_steps import CHARGER_LEAD, new_unit, set_trade

DAY_MINUTES = 24 * 60
SENTENCE = r"in its waiting period until 2026-12-05 by the shop's setting\. .* local code comes first"


@pytest.fixture
def unit_id(desk: Desk) -> int:
    """Bought on Saturday 21 November 2026 with a hold of 14 days; it is Wednesday the 25th."""
    set_trade(desk, hold_days_text="14")
    unit_id = new_unit(desk, "100", route_id=CHARGER_LEAD)
    edit_purchase(desk, unit_id, expected_text="", bought_on_text="2026-11-21", invoice="")
    return unit_id


def stage(desk: Desk, name: str) -> int:
    return next(one.stage_id for one in read_stages(desk) if one.name == name)


def test_no_task_is_started_nor_finished_unseen(desk: Desk, unit_id: int) -> None:
    task_id = read_unit(desk, unit_id).tasks[0].task_id
    changes_nothing(desk, lambda: start_task(desk, task_id), Refused, SENTENCE)
    changes_nothing(desk, lambda: finish_task(desk, task_id), Refused, SENTENCE)
    received = stage(desk, "inspected")
    changes_nothing(desk, lambda: move_unit(desk, unit_id, received, open_tasks="done"), Refused, SENTENCE)


def test_it_is_not_opened_sold_or_robbed_of_parts(desk: Desk, unit_id: int) -> None:
    for name in ("opened", "sold"):
        to = stage(desk, name)
        changes_nothing(
            desk, lambda to=to: move_unit(desk, unit_id, to, open_tasks="skip", reason="x"), Refused, SENTENCE
        )
    changes_nothing(desk, lambda: fit_part(desk, unit_id, name="lid", cost_text="5"), Refused, SENTENCE)
    changes_nothing(desk, lambda: take_part(desk, unit_id, name="lid", cost_text="5"), Refused, SENTENCE)


def test_it_may_be_put_elsewhere_and_tasks_left_out(desk: Desk, unit_id: int) -> None:
    skip_task(desk, read_unit(desk, unit_id).tasks[0].task_id, "not needed")
    assert move_unit(desk, unit_id, stage(desk, "inspected")).to_stage == "inspected"


def test_on_its_day_it_is_free(desk: Desk, unit_id: int, clock: HandSetClock) -> None:
    task_id = read_unit(desk, unit_id).tasks[0].task_id
    assert str(read_purchase(desk, unit_id).free_from) == "2026-12-05"
    clock.advance(minutes=9 * DAY_MINUTES)  # Friday the 4th
    with pytest.raises(Refused, match="waiting period"):
        start_task(desk, task_id)
    clock.advance(minutes=DAY_MINUTES)  # Saturday the 5th
    start_task(desk, task_id)
    assert read_purchase(desk, unit_id).free_from is None


def test_a_task_begun_before_can_be_finished(desk: Desk, unit_id: int) -> None:
    set_trade(desk, hold_days_text="0")
    task_id = read_unit(desk, unit_id).tasks[0].task_id
    start_task(desk, task_id)
    set_trade(desk, hold_days_text="14")
    assert finish_task(desk, task_id).task_id == task_id


def test_units_without_a_day_of_purchase_are_free(desk: Desk) -> None:
    set_trade(desk, hold_days_text="14")
    unit_id = new_unit(desk, route_id=CHARGER_LEAD)
    start_task(desk, read_unit(desk, unit_id).tasks[0].task_id)
