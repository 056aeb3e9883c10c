"""The electricity of machine time: what is set, and the estimate of a month, which is in no sum."""

from __future__ import annotations

from bench.desk import Desk
from bench.errors import BadInput
from bench.views.machine_power import read_task_watts
from bench.views.months import read_month
from bench.work.machine_power import set_power, set_task_watts
from bench.work.timers import start_task
from bench.work.units import add_unit
from tests.clocks import HandSetClock
from tests.work.taking_back import changes_nothing, is_taken_back


def unattended(desk: Desk) -> tuple[int, str]:
    add_unit(desk, maker="Maker", model="Model", route_id=1)
    with desk.store.write() as session:
        session.connection().exec_driver_sql("UPDATE task SET lid_off = 0")
    with desk.store.read() as connection:
        row = connection.execute("SELECT id, name FROM task WHERE unattended = 1 LIMIT 1").fetchone()
    return int(row[0]), str(row[1])


def test_a_months_machine_time_is_estimated_and_enters_no_sum(desk: Desk, clock: HandSetClock) -> None:
    task_id, name = unattended(desk)
    start_task(desk, task_id)
    clock.advance(minutes=120)
    assert read_month(desk).power is None
    is_taken_back(desk, lambda: set_power(desk, watts_text="40", kwh_price_text="0.3214"))
    month = read_month(desk)
    assert month.power is not None
    assert (month.power.kwh, month.power.cost_minor) == (80, 3)
    assert (month.result_minor, month.general_minor) == (0, 0)
    is_taken_back(desk, lambda: set_task_watts(desk, name, "100"))
    month = read_month(desk)
    assert month.power is not None
    assert (month.power.kwh, month.power.cost_minor) == (200, 6)
    assert [(one.name, one.watts) for one in read_task_watts(desk)] == [(name, 100)]
    set_task_watts(desk, name, "")
    assert read_task_watts(desk) == ()


def test_a_price_that_cannot_be_read_changes_nothing(desk: Desk) -> None:
    changes_nothing(
        desk, lambda: set_power(desk, watts_text="40", kwh_price_text="cheap"), BadInput, "no price of a kWh"
    )
    changes_nothing(
        desk, lambda: set_power(desk, watts_text="9000", kwh_price_text=""), BadInput, "cannot be"
    )
