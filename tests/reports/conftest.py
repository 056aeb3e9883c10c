"""A workshop whose people, units and reasons have names that upset careless documents."""

from __future__ import annotations

import pytest

from bench.desk import Desk
from bench.work.corrections import correct_entry
from bench.work.moves import hold_unit
from bench.work.shop import add_person, edit_shop
from bench.work.stock import count_stock, restock
from bench.work.timers import finish_task, start_task, stop_person
from bench.work.units import add_unit
from tests.clocks import HandSetClock
from tests.work.time_rows import first_task

SHOP = '=Shop, "Über" [/] [bold]x[/bold] 修理'
BO = "+Bo; 'B', [red]"
REASON = '-2+3 waits for "a part", then'


@pytest.fixture
def busy(desk: Desk, clock: HandSetClock) -> Desk:
    """Two people, two units, four entries over midnight and two days, one running, stock moved and short."""
    edit_shop(
        desk,
        name=SHOP,
        currency="EUR",
        zone="Europe/Berlin",
        rate_text="30",
        forgotten_times_text="3",
        forgotten_least_text="120",
    )
    bo = desk.as_person(add_person(desk, BO))
    unit_id = add_unit(
        desk,
        maker="@Invented",
        model="[/] One",
        route_id=1,
        serial='=HYPERLINK("x")',
        note="first line\n=second line [b]",
        due_text="2026-11-24",
        price_text="120.50",
    ).unit_id
    other_id = add_unit(bo, maker="", model="Two", route_id=1).unit_id
    task_id = first_task(desk, unit_id)
    entry_id = start_task(desk, task_id).entry_id
    clock.advance(minutes=33, us=123_457)
    start_task(desk, first_task(desk, unit_id, skip=1))
    clock.advance(minutes=47)
    stop_person(desk)
    correct_entry(desk, entry_id, start_text="09:55", stop_text="", reason=REASON)
    finish_task(desk, task_id)
    start_task(bo, first_task(bo, unit_id, unattended=True))
    start_task(bo, first_task(bo, other_id))
    clock.advance(minutes=20 * 60)
    stop_person(bo)
    hold_unit(desk, other_id, REASON)
    restock(desk, 1, packs_text="2", price_text="23.99", supplier="=Supplier", expires_text="2026-12-24")
    count_stock(desk, 1, quantity_text="1500", reason="@spilt")
    clock.advance(minutes=1)
    return desk
