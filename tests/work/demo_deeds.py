"""What is done to the demo's units at the bench until they leave, and when one comes back."""

from __future__ import annotations

from bench.desk import Desk
from bench.domain.party import PartyTyped
from bench.domain.safety import BEFORE_THE_COVER, CLOSING, CLOSING_ITEMS, OPENING, WITH_THE_COVER_OFF
from bench.domain.ways_out import HANDED_BACK, SCRAPPED
from bench.store.demo_data import DemoUnit
from bench.views.binder import pairs, value
from bench.views.tasks import next_stage_of
from bench.work.comebacks import take_return
from bench.work.demo.story import Happening
from bench.work.leaving import leave_unit
from bench.work.moves import hold_unit, move_unit
from bench.work.safety import tick, untick
from bench.work.selling import sell_unit
from bench.work.tasks import add_task
from bench.work.timers import finish_task, skip_task, start_task, stop_entry
from bench.work.waivers import list_without
from tests.work.demo_orders import Ordered

OPENS, CHECKS, CLOSES = (
    "cover off, disconnect the battery",
    "check gasket, shields, antenna leads",
    "reconnect the battery, cover on",
)
CHECKED = ("gasket", "antennas")


class Deeds(Ordered):
    """The acts at the bench."""

    def start(self, desk: Desk, unit: DemoUnit, one: Happening) -> None:
        assert one.task is not None
        unit_id = self.unit_ids[unit.number]
        if one.task.name == OPENS and not self._ticked(unit_id):
            tick(desk, unit_id, OPENING, list(BEFORE_THE_COVER))
        start_task(desk, self._task(unit.number, one.task.name))

    def _ticked(self, unit_id: int) -> bool:
        with self.desk.store.read() as connection:
            return bool(
                value(connection, "SELECT COUNT(*) FROM safety_check WHERE unit_id = :id", id=unit_id)
            )

    def stop(self, desk: Desk, one: Happening) -> None:
        assert one.task is not None
        text = "SELECT id FROM time_entry WHERE task_id = :task AND stopped_us IS NULL"
        stop_entry(desk, self._named(text, task=self._task(one.unit, one.task.name)))

    def finish(self, desk: Desk, unit: DemoUnit, one: Happening) -> None:
        assert one.task is not None
        unit_id, name = self.unit_ids[unit.number], one.task.name
        if name == OPENS:
            screws = None if unit.battery_left_connected else unit.screws
            tick(desk, unit_id, OPENING, list(WITH_THE_COVER_OFF), screws=screws)
        if one.task.test:
            self.pass_test(desk, unit, name)
        else:
            finish_task(desk, self._task(unit.number, name))
        if name == OPENS and unit.battery_left_connected:  # no other act leads there
            untick(desk, unit_id, OPENING, *WITH_THE_COVER_OFF)
        if name == CHECKS:
            tick(desk, unit_id, CLOSING, CHECKED)
        if name == CLOSES:
            back, note = self.demo.screws_back.get(unit.number, (unit.screws, ""))
            items = [item for item in CLOSING_ITEMS if item not in CHECKED]
            tick(desk, unit_id, CLOSING, items, screws=back, note=note)

    def skip(self, desk: Desk, one: Happening) -> None:
        assert one.task is not None
        skip_task(desk, self._task(one.unit, one.task.name), one.note)

    def onward(self, desk: Desk, unit: DemoUnit) -> None:
        """On to the next stage while nothing is left to do here, as far as the unit has come."""
        unit_id, sold = self.unit_ids[unit.number], unit.number in self.demo.trade.sales
        text = """
SELECT CASE WHEN stage.final OR EXISTS (SELECT 1 FROM task WHERE task.unit_id = unit.id
    AND task.stage_id = stage.id AND task.state = 'todo' AND task.removed = 0) THEN '' ELSE stage.name END
FROM unit JOIN stage ON stage.id = unit.stage_id WHERE unit.id = :id
"""
        goes_to = "sold" if sold else unit.stage
        while True:
            with self.desk.store.read() as connection:
                here = value(connection, text, id=unit_id)
                finals = pairs(connection, "SELECT id, final FROM stage")
            target = next_stage_of(desk, unit_id)
            if not here or here == goes_to or target is None or unit.number in self.demo.trade.scrapped:
                return
            if not finals[target]:
                move_unit(desk, unit_id, target)
            elif sold:
                self._sell(desk, unit.number)
            else:
                self.leave(desk, unit)

    def _sell(self, desk: Desk, number: int) -> None:
        one = self.demo.trade.sales[number]
        buyer = self._party(one.buyer) if one.buyer else PartyTyped("")
        sell_unit(
            desk,
            self.unit_ids[number],
            price_text=one.price,
            channel_id=self._number("channel", one.channel),
            buyer_name=buyer.name,
            buyer_address=buyer.address,
            buyer_contact=buyer.contact,
            private=buyer.private,
            shipping_text=one.shipping,
            note=one.note,
        )

    def leave(self, desk: Desk, unit: DemoUnit) -> None:
        unit_id, scrap = self.unit_ids[unit.number], self.demo.trade.scrapped.get(unit.number)
        if scrap is not None:
            leave_unit(desk, unit_id, way=SCRAPPED, reason=scrap["reason"], proceeds_text=scrap["proceeds"])
        else:
            price = self.demo.trade.owners[unit.number][1]
            leave_unit(desk, unit_id, way=HANDED_BACK, reason="repaired", price_text=price)

    def take_back(self, desk: Desk, unit: DemoUnit) -> None:
        back, stage_id = self.demo.trade.comebacks[unit.number], self._number("stage", unit.stage)
        take_return(
            desk,
            self.unit_ids[unit.number],
            reason=back["reason"],
            refund_text=back["refund"],
            stage_id=stage_id,
            fee_back_text=back["fee_back"],
            postage_text=back["postage"],
        )
        for task in self.demo.trade.extra_tasks[unit.number]:
            add_task(
                desk,
                self.unit_ids[unit.number],
                name=task.name,
                stage_id=self._number("stage", task.stage),
                estimate_text=str(task.estimate_minutes),
                unattended=task.unattended,
                lid_off=task.lid_off,
            )

    def stop_work(self, desk: Desk, unit: DemoUnit) -> None:
        hold_unit(desk, self.unit_ids[unit.number], unit.held)

    def let_be_listed(self, desk: Desk, number: int, reason: str) -> None:
        list_without(desk, self.unit_ids[number], reason)
