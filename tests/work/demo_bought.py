"""What the demo's shop buys, takes in, wipes and fits, each act by the use case that does it."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, timedelta

from bench.desk import Desk
from bench.domain.lots import LotUnit
from bench.domain.money import money_or
from bench.domain.offers import OfferTyped
from bench.domain.party import PartyTyped
from bench.domain.quantities import read_quantity, show_quantity
from bench.domain.tags import tag_from_number
from bench.domain.weeks import local_day
from bench.store.demo_data import Demo, DemoMovement, DemoUnit
from bench.store.demo_trade import DemoDrive, DemoOffer, DemoPart
from bench.views.binder import value
from bench.views.stock import read_stock
from bench.views.unit import read_unit
from bench.work.buying import buy_offer, leave_offer, save_offer
from bench.work.drives import add_drive
from bench.work.lots import buy_lot
from bench.work.parts import fit_part, take_part
from bench.work.purchases import edit_purchase
from bench.work.shop import add_person, edit_shop
from bench.work.stock import count_stock, restock
from bench.work.trade import add_channel, edit_trade
from bench.work.units import add_unit, edit_unit
from bench.work.waivers import no_drive_in_it
from bench.work.wipes import record_wipe, verify_wipe
from tests.clocks import HandSetClock


@dataclass
class Bought:
    """The acts, on a file that begins as any new shop does; what came of them so far, by the demo's names."""

    desk: Desk
    clock: HandSetClock
    demo: Demo
    now_us: int
    drives: dict[str, int] = field(default_factory=dict)
    wipes: dict[str, int] = field(default_factory=dict)
    offers: dict[int, int] = field(default_factory=dict)
    unit_ids: dict[int, int] = field(default_factory=dict)
    people: dict[str, int] = field(default_factory=dict)

    def _named(self, text: str, **asked: object) -> int:
        with self.desk.store.read() as connection:
            found = value(connection, text, **asked)
        assert isinstance(found, int), (text, asked)
        return found

    def _number(self, table: str, name: str) -> int:
        return self._named(f"SELECT id FROM {table} WHERE name = :name AND removed = 0", name=name)

    def _task(self, number: int, name: str) -> int:
        return self._named(
            "SELECT id FROM task WHERE unit_id = :unit AND name = :name AND removed = 0",
            unit=self.unit_ids[number],
            name=name,
        )

    def settings(self) -> None:
        demo, told = self.demo, self.demo.trade.settings
        self.people[demo.people[0].name] = 1
        for one in demo.people[1:]:
            self.people[one.name] = add_person(self.desk, one.name)
        edit_shop(
            self.desk,
            name=demo.name,
            currency=demo.currency,
            zone=demo.zone,
            rate_text=demo.rate,
            forgotten_times_text="3",
            forgotten_least_text="120",
        )
        edit_trade(
            self.desk,
            margin_scheme=told["margin_scheme"],
            margin_tax_text=told["margin_tax"],
            hold_days_text=told["hold_days"],
            keep_private_text=told["keep_private"],
            risk_reserve_text=told["risk_reserve"],
            wanted_margin_text=told["wanted_margin"],
            warranty_text=told["warranty_days"],
        )
        for row in demo.trade.channels:
            add_channel(self.desk, row["name"], share_text=row["share"], fixed_text=row["fixed"])

    def today(self) -> date:
        return local_day(self.now_us, self.demo.zone)

    def bring_in(self, desk: Desk, unit: DemoUnit) -> None:
        trade = self.demo.trade
        purchase, owner = trade.purchases.get(unit.number), trade.owners.get(unit.number)
        if unit.number in self.unit_ids:  # it came with the first one of its lot
            return
        if purchase is not None and purchase.lot:
            self._buy_lot(desk, purchase.lot)
        elif unit.number in self.offers:
            bought = buy_offer(
                desk,
                self.offers[unit.number],
                price_text=unit.price,
                tag_text=tag_from_number(unit.number),
                due_text=self._due(unit),
            )
            self.unit_ids[unit.number] = bought.unit_id
        else:
            added = add_unit(
                desk,
                maker=unit.maker,
                model=unit.model,
                serial=unit.serial,
                route_id=self._number("route", unit.route),
                note=unit.note,
                due_text=self._due(unit),
                price_text=unit.price,
                tag_text=tag_from_number(unit.number),
                owner=self._party(owner[0]) if owner else None,
            )
            self.unit_ids[unit.number] = added.unit_id
            if purchase is not None:
                edit_purchase(
                    desk,
                    added.unit_id,
                    expected_text=purchase.expected,
                    bought_on_text=local_day(self.clock.now_us(), self.demo.zone).isoformat(),
                    invoice=purchase.invoice,
                    seller=self._party(purchase.seller),
                )
        if unit.number not in {drive.came_with for drive in trade.drives}:
            no_drive_in_it(desk, self.unit_ids[unit.number])

    def _buy_lot(self, desk: Desk, name: str) -> None:
        lot = next(one for one in self.demo.trade.lots if one["name"] == name)
        units = {one.number: one for one in self.demo.units}
        bought = {number: one for number, one in self.demo.trade.purchases.items() if one.lot == name}
        whole = buy_lot(
            desk,
            name=name,
            price_text=lot["price"],
            freight_text=lot["freight"],
            note=lot["note"],
            seller=self._party(lot["seller"]),
            units=[
                LotUnit(
                    units[number].maker,
                    units[number].model,
                    units[number].serial,
                    self._number("route", units[number].route),
                    one.expected,
                    units[number].note,
                    tag_from_number(number),
                    donor=one.donor == "yes",
                )
                for number, one in bought.items()
            ],
        )
        self.unit_ids |= dict(zip(bought, (share.unit_id for share in whole.shares), strict=True))
        for number in bought:
            due_text, kept = self._due(units[number]), read_unit(desk, self.unit_ids[number])
            if due_text:
                edit_unit(
                    desk,
                    kept.unit_id,
                    maker=kept.maker,
                    model=kept.model,
                    serial=kept.serial,
                    note=kept.note,
                    due_text=due_text,
                    price_text=money_or(kept.price_minor, kept.currency),
                    tag_text="",
                )

    def _party(self, name: str) -> PartyTyped:
        one = next(one for one in self.demo.trade.parties if one.name == name)
        return PartyTyped(one.name, one.address, one.contact, one.identity_seen, private=one.private == "yes")

    def _due(self, unit: DemoUnit) -> str:
        if unit.due_in_days is None:
            return ""
        return (self.today() + timedelta(days=unit.due_in_days)).isoformat()

    def look_at(self, desk: Desk, one: DemoOffer) -> None:
        unit = next((unit for unit in self.demo.units if unit.number == one.unit), None)
        typed = OfferTyped(
            model=unit.model if unit else one.model,
            expected_text=one.expected,
            maker=unit.maker if unit else one.maker,
            serial=unit.serial if unit else one.serial,
            note=one.note,
            route_id=self._number("route", one.route),
            channel_id=self._number("channel", one.channel),
            asking_text=one.asking,
            parts_text=one.parts,
            premium_text=one.premium,
            freight_text=one.freight,
            shipping_text=one.shipping,
            seller=self._party(one.seller),
            findings=one.findings,
        )
        self.offers[one.unit or -one.hours_ago] = save_offer(desk, typed)

    def decline(self, desk: Desk, one: DemoOffer) -> None:
        leave_offer(desk, self.offers[-one.hours_ago], one.reason)

    def stock(self, desk: Desk, one: DemoMovement) -> None:
        level = next(line for line in read_stock(desk).lines if line.name == one.consumable)
        if one.kind == "receipt":
            expires = None if one.expires_in_days is None else timedelta(days=one.expires_in_days)
            restock(
                desk,
                level.consumable_id,
                quantity_text=one.quantity,
                price_text=one.price,
                supplier=one.supplier,
                expires_text="" if expires is None else (self.today() + expires).isoformat(),
            )
        else:
            less = read_quantity(one.quantity.removeprefix("-"), level.base_unit)
            left = level.on_hand + (-less if one.quantity.startswith("-") else less)
            counted = show_quantity(left, level.base_unit)
            count_stock(desk, level.consumable_id, quantity_text=counted, reason=one.reason)

    def drive(self, desk: Desk, one: DemoDrive) -> None:
        self.drives[one.serial] = add_drive(
            desk,
            self.unit_ids[one.came_with] if one.came_with else None,
            maker=one.maker,
            model=one.model,
            serial=one.serial,
            media_type=one.media_type,
            media_number=one.media_number,
            size_text=f"{one.gb} GB" if one.gb else "",
        )

    def wipe(self, desk: Desk, one: DemoDrive) -> None:
        way = self.demo.trade.ways[one.way]
        self.wipes[one.serial] = record_wipe(
            desk, self.drives[one.serial], method=way["method"], technique=way["technique"]
        ).wipe_id

    def verify(self, desk: Desk, one: DemoDrive) -> None:
        verify_wipe(desk, self.wipes[one.serial], result=one.result, verification=one.verification)

    def part(self, desk: Desk, one: DemoPart) -> None:
        drive_id = self.drives[one.drive] if one.drive else None
        to_unit_id = self.unit_ids[one.to_unit] if one.to_unit else None
        told = {"name": one.name, "cost_text": one.cost, "serial": one.serial, "note": one.note}
        if one.from_unit is None:
            assert to_unit_id is not None
            fit_part(desk, to_unit_id, supplier=one.supplier, drive_id=drive_id, **told)
        else:
            from_id = self.unit_ids[one.from_unit]
            take_part(desk, from_id, to_unit_id=to_unit_id, drive_id=drive_id, **told)
