"""What the file holds in the columns of an import, so that it can be taken into another file."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from bench.desk import Desk
from bench.domain.amounts import Minor, Thousandths
from bench.domain.importing import PARTIES, PARTS, STOCK, UNITS
from bench.domain.money import plain_money
from bench.domain.quantities import plain_number
from bench.views.binder import Query
from bench.views.parts import IS_LAST
from bench.views.shop import facts
from bench.views.standing import IN_QUEUE
from bench.views.stock import ON_HAND


@dataclass(frozen=True, slots=True)
class _Unit:
    """A unit in the queue."""

    tag: str
    maker: str
    model: str
    serial: str
    route: str
    due: str
    price_minor: Minor | None
    note: str


@dataclass(frozen=True, slots=True)
class _Stock:
    """A consumable, what is on hand of it and what that cost."""

    name: str
    unit: str
    pack: Thousandths
    delivery_days: int
    shelf_life_days: int | None
    reorder: Thousandths | None
    hazard: str
    code: str
    on_hand: Thousandths


@dataclass(frozen=True, slots=True)
class _Party:
    """Someone traded with."""

    name: str
    address: str
    contact: str
    identity_seen: str
    private: bool


@dataclass(frozen=True, slots=True)
class _Part:
    """A part on the shelf."""

    name: str
    maker_number: str
    serial: str
    place: str
    cost_minor: Minor
    supplier: str


_UNITS = Query(
    _Unit,
    """
SELECT unit.tag, unit.maker, unit.model, unit.serial, COALESCE(route.name, '') AS route,
       COALESCE(unit.due_on, '') AS due, unit.price_minor, unit.note
FROM {in_queue} LEFT JOIN route ON route.id = unit.route_id AND route.removed = 0 ORDER BY unit.id
""".replace("{in_queue}", IN_QUEUE),
)
_STOCK = Query(
    _Stock,
    """
SELECT name, base_unit AS unit, pack_quantity AS pack, lead_days AS delivery_days, shelf_life_days,
       reorder_quantity AS reorder, hazard, code, {on_hand} AS on_hand
FROM consumable WHERE removed = 0 ORDER BY id
""".replace("{on_hand}", ON_HAND),
)
_PARTIES = Query(
    _Party,
    """
SELECT name, address, contact, identity_seen, private FROM party
WHERE removed = 0 AND erased_us IS NULL ORDER BY id
""",
)
_PARTS = Query(
    _Part,
    """
SELECT component.name, component.maker_number, component.serial, component.place, part.cost_minor,
       part.supplier
FROM part JOIN component ON component.id = part.component_id
WHERE part.removed = 0 AND part.to_unit_id IS NULL AND component.gone = '' AND component.removed = 0
AND part.drive_id IS NULL AND {is_last} ORDER BY part.id
""".replace("{is_last}", IS_LAST),
)


def read_importable(desk: Desk, kind: str) -> tuple[Mapping[str, str], ...]:
    """The rows of a kind by column, as an import takes them: units of the queue, parts of the shelf.

    Stock is told without what it cost: that is in its receipts. Drives are told with their units, not here.
    """
    with desk.store.read() as connection:
        currency = facts(connection).currency
        if kind == UNITS:
            return tuple(_of_unit(one, currency) for one in _UNITS.each(connection))
        if kind == STOCK:
            return tuple(_of_stock(one) for one in _STOCK.each(connection))
        if kind == PARTIES:
            return tuple(_of_party(one) for one in _PARTIES.each(connection))
        assert kind == PARTS
        return tuple(_of_part(one, currency) for one in _PARTS.each(connection))


def _of_unit(one: _Unit, currency: str) -> Mapping[str, str]:
    price = "" if one.price_minor is None else plain_money(one.price_minor, currency)
    return {
        "tag": one.tag,
        "maker": one.maker,
        "model": one.model,
        "serial number": one.serial,
        "route": one.route,
        "due": one.due,
        "price": price,
        "note": one.note,
    }


def _of_stock(one: _Stock) -> Mapping[str, str]:
    return {
        "name": one.name,
        "unit": one.unit,
        "pack": plain_number(one.pack),
        "delivery days": str(one.delivery_days),
        "shelf life days": "" if one.shelf_life_days is None else str(one.shelf_life_days),
        "reorder point": "" if one.reorder is None else plain_number(one.reorder),
        "hazard": one.hazard,
        "code": one.code,
        "on hand": plain_number(one.on_hand),
    }


def _of_party(one: _Party) -> Mapping[str, str]:
    return {
        "name": one.name,
        "address": one.address,
        "contact": one.contact,
        "id seen": one.identity_seen,
        "private": "yes" if one.private else "no",
    }


def _of_part(one: _Part, currency: str) -> Mapping[str, str]:
    return {
        "name": one.name,
        "maker's number": one.maker_number,
        "serial number": one.serial,
        "place": one.place,
        "cost": plain_money(one.cost_minor, currency),
        "supplier": one.supplier,
    }
