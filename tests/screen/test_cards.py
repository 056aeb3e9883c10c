"""Action cards scanned at the bench: each does what its key would, on the unit at hand, through its gates."""

from __future__ import annotations

from bench.dashboard.screens.dialogs.finish import FinishDialog
from bench.dashboard.screens.dialogs.safety_list import SafetyListDialog
from bench.desk import Desk
from bench.domain.labels import DONE, NEXT, START, STOP, WHO, Card, card_code
from bench.views.labels import action_cards
from bench.views.queue import read_queue
from bench.views.scans import CARD, UNKNOWN, resolve_scan
from bench.views.unit import read_unit
from bench.work.shop import add_person
from bench.work.timers import skip_task, start_task
from bench.work.units import add_unit
from tests.screen.scanner import scan
from tests.screen.waiting import first_screen, until
from tests.screen.workshop import LOOK_OVER, new_unit, task


def running(desk: Desk) -> list[int]:
    return [one.task_id for one in read_queue(desk).running()]


async def test_start_and_stop_cards_start_and_stop(desk: Desk) -> None:
    unit_id = new_unit(desk)
    wanted = task(desk, unit_id, LOOK_OVER).task_id
    async with first_screen(desk) as (first, pilot):
        first.bench.ear.hears = True
        await scan(pilot, card_code(Card(START)))
        await until(pilot, lambda: running(desk) == [wanted])
        await scan(pilot, card_code(Card(STOP)))
        await until(pilot, lambda: running(desk) == [])


async def test_a_start_card_goes_round_no_checklist(desk: Desk) -> None:
    unit_id = new_unit(desk)
    for one in read_unit(desk, unit_id).tasks:
        if not one.lid_off and not one.cover_on:
            break
        if not one.lid_off and one.state == "todo":
            skip_task(desk, one.task_id, "not needed")
    inside = next(one for one in read_unit(desk, unit_id).tasks if one.lid_off)
    for one in read_unit(desk, unit_id).tasks:
        if one.number < inside.number and one.state == "todo":
            skip_task(desk, one.task_id, "not needed")
    async with first_screen(desk) as (first, pilot):
        first.bench.ear.hears = True
        await scan(pilot, card_code(Card(START)))
        await until(pilot, lambda: isinstance(pilot.app.screen, SafetyListDialog))
        assert running(desk) == []


async def test_a_done_card_asks_as_its_key_does(desk: Desk) -> None:
    unit_id = new_unit(desk)
    start_task(desk, task(desk, unit_id, LOOK_OVER).task_id)
    async with first_screen(desk) as (first, pilot):
        first.bench.ear.hears = True
        await scan(pilot, card_code(Card(DONE)))
        await until(pilot, lambda: isinstance(pilot.app.screen, FinishDialog))
        assert task(desk, unit_id, LOOK_OVER).state == "todo"
        await scan(pilot, card_code(Card(STOP)))
        await pilot.pause()
        assert isinstance(pilot.app.screen, FinishDialog), "no card works under a question"
        assert len(running(desk)) == 1


async def test_a_next_card_asks_about_open_tasks_as_the_key_does(desk: Desk) -> None:
    unit_id = new_unit(desk)
    stage = read_unit(desk, unit_id).stage_id
    async with first_screen(desk) as (first, pilot):
        first.bench.ear.hears = True
        await scan(pilot, card_code(Card(NEXT)))
        await until(pilot, lambda: pilot.app.screen.is_modal)
        assert read_unit(desk, unit_id).stage_id == stage


async def test_a_persons_card_says_who_is_working(desk: Desk) -> None:
    new_unit(desk)
    other = add_person(desk, "Someone")
    async with first_screen(desk) as (first, pilot):
        first.bench.ear.hears = True
        await scan(pilot, card_code(Card(WHO, other)))
        await until(pilot, lambda: first.desk.person_id == other)


def test_what_bears_a_cards_code_goes_before_the_card(desk: Desk) -> None:
    code = card_code(Card(START))
    assert resolve_scan(desk, code).kind == CARD
    unit_id = add_unit(desk, maker="Maker", model="Odd", serial=code).unit_id
    assert resolve_scan(desk, code).unit_id == unit_id


def test_a_card_of_someone_unknown_says_so(desk: Desk) -> None:
    found = resolve_scan(desk, card_code(Card(WHO, 4711)))
    assert found.kind == UNKNOWN
    assert "does not work here" in found.says


def test_there_is_a_card_for_every_act_and_person(desk: Desk) -> None:
    add_person(desk, "Someone")
    found = [resolve_scan(desk, label.code) for label in action_cards(desk)]
    assert [one.act for one in found] == [START, STOP, DONE, NEXT, WHO, WHO]
    assert [one.name for one in found[-2:]] == [label.title for label in action_cards(desk)[-2:]]
