"""Orders and the shelf of parts on the screen: ordered, wrong, sent back, refunded; sold, scrapped."""

from __future__ import annotations

import pytest
from rich.cells import cell_len

from bench.dashboard.presenters.top_line import top_line
from bench.dashboard.screens.dialogs.order_forms import (
    complain_form,
    edit_order_form,
    order_consumable_form,
    order_instead_form,
    order_part_form,
    place_part_form,
    refund_form,
    sell_part_form,
    take_in_form,
    wait_form,
)
from bench.dashboard.screens.dialogs.questions import ReasonDialog
from bench.dashboard.screens.orders import OrdersScreen
from bench.dashboard.screens.parts import PartsScreen
from bench.dashboard.screens.parts_shelf import PartsShelfScreen
from bench.dashboard.screens.unit import UnitScreen
from bench.desk import Desk
from bench.views.orders import read_order, read_orders
from bench.views.parts import read_parts, read_shelf
from bench.views.queue import read_queue
from bench.views.unit import read_unit
from bench.work.arrivals import take_in
from bench.work.faults import add_fault
from bench.work.orders import order_part
from bench.work.parts import fit_from_shelf, take_part
from bench.work.timers import start_task
from bench.work.units import add_unit
from tests.screen.host import Host, opened, runs, settled, texts, typed, until
from tests.screen.undoing import undo_newest

SIZES = [(80, 24), (120, 36), (200, 50)]


@pytest.fixture
def unit_id(desk: Desk) -> int:
    return add_unit(desk, maker="Maker", model="One", price_text="100", tag_text="10014", route_id=1).unit_id


def ordered(desk: Desk, unit_id: int | None, what: str = "fan [i]small[/i]") -> int:
    told = order_part(
        desk, unit_id, what=what, price_text="20", supplier="Odd [b]Parts[/b]", due_text="today"
    )
    return told.order_id


def put(app: Host, **values: str) -> None:
    for name, value in values.items():
        app.screen.field(name).put(value)  # type: ignore[attr-defined]


@pytest.mark.parametrize("size", SIZES)
async def test_orders_stand_there_with_their_suppliers(
    desk: Desk, unit_id: int, size: tuple[int, int]
) -> None:
    ordered(desk, unit_id)
    async with opened(desk, OrdersScreen(), size) as (app, pilot):
        assert "fan [i]small[/i]" in texts(app.screen)
        assert "parts: 1 due today" in texts(app.screen.query_one("#head"))
        await pilot.press("tab")
        await until(pilot, lambda: "Odd [b]Parts[/b]" in texts(app.screen))
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])


async def test_a_part_is_ordered_and_a_task_waits_for_it(desk: Desk, unit_id: int) -> None:
    task = read_unit(desk, unit_id).tasks[0]
    fault_id = add_fault(desk, unit_id, symptom="fan [b]loud[/b]").fault_id
    async with opened(desk, OrdersScreen(unit_id, "10014"), (120, 36)) as (app, pilot):
        await pilot.press("n")
        await until(pilot, lambda: runs(app.screen, order_part_form))
        await settled(pilot)
        put(app, what="fan", price_text="20", due_text="+2", task=str(task.task_id), fault_id=str(fault_id))
        await pilot.press("ctrl+s")
        await until(pilot, lambda: len(read_orders(desk).lines) == 1)
    [line] = read_orders(desk).lines
    assert (line.tag, line.state, line.tasks) == ("10014", "ordered", (task.name,))
    assert (line.fault_id, line.fault) == (fault_id, "fan [b]loud[/b]")
    async with opened(desk, OrdersScreen(unit_id, "10014"), (120, 36)) as (app, pilot):
        assert f"10014 f{fault_id}" in texts(app.screen)
    async with opened(desk, UnitScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("s")
        await until(pilot, lambda: isinstance(app.screen, ReasonDialog))
        await typed(pilot, "the bearing first")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: bool(read_unit(desk, unit_id).tasks[0].running))


async def test_a_wrong_part_goes_back_and_is_refunded(desk: Desk, unit_id: int) -> None:
    number = ordered(desk, unit_id)
    async with opened(desk, OrdersScreen(), (120, 36)) as (app, pilot):
        await pilot.press("a")
        await until(pilot, lambda: runs(app.screen, take_in_form))
        await settled(pilot)
        put(app, found="wrong", note="another lead")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: read_order(desk, number).state == "wrong")
        await until(pilot, lambda: isinstance(app.screen, OrdersScreen))
        await pilot.press("o")
        await until(pilot, lambda: runs(app.screen, order_instead_form))
        await settled(pilot)
        await pilot.press("escape")
        await until(pilot, lambda: isinstance(app.screen, OrdersScreen))
        await pilot.press("b")
        await until(pilot, lambda: read_order(desk, number).state == "sent back")
        await settled(pilot)
        await pilot.press("r")
        await until(pilot, lambda: runs(app.screen, refund_form))
        await settled(pilot)
        await pilot.press("ctrl+s")
        await until(pilot, lambda: read_order(desk, number).state == "refunded")
        assert read_order(desk, number).refund_minor == 2_000
        await until(pilot, lambda: read_orders(desk).lines == ())
        await pilot.press("s")
        await until(pilot, lambda: "refunded" in texts(app.screen))
        for panel, heading in (("#rows", "Came back"), ("#suppliers", "Refunded")):
            shown = texts(app.screen.query_one(panel))
            assert heading in shown, panel
            assert "20.00" in shown, panel
        await undo_newest(pilot)
        await until(pilot, lambda: read_order(desk, number).state == "sent back")


async def test_what_is_known_of_an_order_is_said_and_it_is_cancelled(desk: Desk, unit_id: int) -> None:
    number = ordered(desk, None, "lid")
    async with opened(desk, OrdersScreen(), (120, 36)) as (app, pilot):
        await pilot.press("enter")
        await until(pilot, lambda: runs(app.screen, edit_order_form))
        await settled(pilot)
        put(app, price_text="21", due_text="+4")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: read_order(desk, number).price_minor == 2_100)
        await until(pilot, lambda: isinstance(app.screen, OrdersScreen))
        await pilot.press("w")
        await until(pilot, lambda: runs(app.screen, complain_form))
        await settled(pilot)
        await pilot.press("ctrl+s")
        await settled(pilot)
        assert runs(app.screen, complain_form), "it is not here yet: what was typed stays"
        assert read_order(desk, number).state == "ordered"
        await pilot.press("escape")
        await until(pilot, lambda: isinstance(app.screen, OrdersScreen))
        await pilot.press("c")
        await until(pilot, lambda: runs(app.screen, order_consumable_form))
        await settled(pilot)
        await pilot.press("escape")
        await until(pilot, lambda: isinstance(app.screen, OrdersScreen))
        await pilot.press("x")
        await until(pilot, lambda: isinstance(app.screen, ReasonDialog))
        await typed(pilot, "not needed")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: read_order(desk, number).state == "cancelled")


async def test_parts_leave_from_the_shelf(desk: Desk, unit_id: int) -> None:
    for name, cost in (("screen", "30"), ("lid", "5")):
        take_part(desk, unit_id, name=name, cost_text=cost)
    async with opened(desk, PartsShelfScreen(), (120, 36)) as (app, pilot):
        assert "cost on the shelf: 35.00 EUR" in texts(app.screen.query_one("#head"))
        await pilot.press("enter")
        await until(pilot, lambda: runs(app.screen, place_part_form))
        await settled(pilot)
        put(app, place="rack [2]")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "rack [2]" in texts(app.screen))
        await pilot.press("s")
        await until(pilot, lambda: runs(app.screen, sell_part_form))
        await settled(pilot)
        put(app, price_text="42")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: len(read_shelf(desk).lines) == 1)
        await until(pilot, lambda: isinstance(app.screen, PartsShelfScreen))
        await settled(pilot)
        await pilot.press("x")
        await until(pilot, lambda: isinstance(app.screen, ReasonDialog))
        await typed(pilot, "cracked")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: read_shelf(desk).lines == ())


async def test_what_is_in_a_unit_and_what_went_through_it_are_two_lists(desk: Desk, unit_id: int) -> None:
    for number in (ordered(desk, unit_id, "fan"), ordered(desk, unit_id, "lid")):
        take_in(desk, number)
        fit_from_shelf(desk, read_shelf(desk).lines[0].part_id, unit_id)
    take_part(desk, unit_id, name="fan", cost_text="20")
    assert [line.name for line in read_parts(desk, unit_id).in_it] == ["lid"]
    async with opened(desk, PartsScreen(unit_id), (120, 36)) as (app, pilot):
        assert "fan" in texts(app.screen.query_one("#rows"))
        now = texts(app.screen.query_one("#in_it"))
        assert "lid" in now
        assert "fan" not in now
        await pilot.press("o")
        await until(pilot, lambda: isinstance(app.screen, OrdersScreen))
        await until(pilot, lambda: "Orders for 10014" in texts(app.screen))


@pytest.mark.parametrize("width", [80, 120, 200])
def test_the_top_line_tells_what_is_due_and_keeps_the_own_timer(desk: Desk, unit_id: int, width: int) -> None:
    task = read_unit(desk, unit_id).tasks[0]
    start_task(desk, task.task_id)
    ordered(desk, unit_id)
    order_part(desk, None, what="lid", due_text="today")
    view = read_queue(desk)
    line = "".join(part.text for part in top_line(view, desk.clock.now_us(), desk.person_id, width))
    assert ("2 parts due" if width < 100 else "parts: 2 due today") in line
    assert "10014" in line
    assert cell_len(line) <= width


async def test_a_task_waits_by_key_and_goes_on_again(desk: Desk, unit_id: int) -> None:
    ordered(desk, unit_id, "fan")
    task = read_unit(desk, unit_id).tasks[0]
    async with opened(desk, OrdersScreen(), (120, 36)) as (app, pilot):
        for goes_on, awaits in (("", ("fan",)), ("yes", ())):
            await pilot.press("t")
            await until(pilot, lambda: runs(app.screen, wait_form))
            await settled(pilot)
            put(app, task=str(task.task_id), goes_on=goes_on)
            await pilot.press("ctrl+s")
            await until(pilot, lambda told=awaits: read_unit(desk, unit_id).tasks[0].awaits == told)
            await until(pilot, lambda: isinstance(app.screen, OrdersScreen))
            await settled(pilot)
