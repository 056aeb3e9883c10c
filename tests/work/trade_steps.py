"""Steps that several tests of buying, lots, parts and money share."""

from __future__ import annotations

from bench.desk import Desk
from bench.views.unit import read_unit
from bench.work.outcomes import end_test
from bench.work.shop import edit_shop
from bench.work.timers import finish_task, start_task, stop_person
from bench.work.trade import edit_trade
from bench.work.units import add_unit
from tests.clocks import HandSetClock
from tests.work.looked_into import looked_into

CHARGER_LEAD = 5  # a short route: four tasks, three of them hands-on: 10, 30 and 15 minutes
COUNTER = 1  # the channel of a new file, without fees


def set_trade(desk: Desk, **typed: object) -> None:
    """The trading settings of a new file, but for what is given."""
    settings: dict[str, object] = {
        "margin_scheme": False,
        "margin_tax_text": "20",
        "hold_days_text": "0",
        "keep_private_text": "6",
        "risk_reserve_text": "10",
        "wanted_margin_text": "0",
        "warranty_text": "365",
        "loss_chance_text": "20",
    }
    edit_trade(desk, **{**settings, **typed})  # type: ignore[arg-type]


def set_rate(desk: Desk, rate_text: str) -> None:
    """The shop's hourly rate."""
    edit_shop(
        desk,
        name="Shop",
        currency="EUR",
        zone="Europe/Berlin",
        rate_text=rate_text,
        forgotten_times_text="3",
        forgotten_least_text="120",
    )


def new_unit(desk: Desk, price_text: str = "", *, route_id: int | None = None, due_text: str = "") -> int:
    """A unit of its own, with no drive in it."""
    added = add_unit(
        desk, maker="Maker", model="M", route_id=route_id, price_text=price_text, due_text=due_text
    )
    return looked_into(desk, added.unit_id)


def work_on(desk: Desk, clock: HandSetClock, unit_id: int, minutes: float, *, task: int = 0) -> int:
    """Work on a unit's task for so long; answers the task's number."""
    task_id = read_unit(desk, unit_id).tasks[task].task_id
    start_task(desk, task_id)
    clock.advance(minutes=minutes)
    stop_person(desk)
    return task_id


def finish_all(desk: Desk, unit_id: int) -> None:
    """Mark every open task done, its tests as passed, without taking anything."""
    for task in read_unit(desk, unit_id).tasks:
        if task.state == "todo" and task.test:
            end_test(desk, unit_id, task_id=task.task_id, outcome="passed", uses={})
        elif task.state == "todo":
            finish_task(desk, task.task_id, uses={})


def one_value(desk: Desk, text: str, *values: object) -> object:
    """The one value a SELECT answers."""
    with desk.store.read() as connection:
        return connection.execute(text, values).fetchone()[0]


def last_summary(desk: Desk) -> str:
    """What the newest line of the journal says."""
    return str(one_value(desk, "SELECT summary FROM journal ORDER BY id DESC LIMIT 1"))
