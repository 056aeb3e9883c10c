"""Units come in and are corrected."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeVar

from sqlmodel import col, select

from bench.desk import Desk
from bench.domain.dates import read_day
from bench.domain.money import read_money
from bench.domain.party import PartyTyped
from bench.domain.tags import number_of, read_tag, tag_from_number
from bench.domain.text import clean_line, clean_note, quoted
from bench.domain.typed import TypedFields
from bench.domain.wipe import serial_key
from bench.errors import BadInput, Refused
from bench.store.tables import Lot, Purchase, Route, RouteTask, RouteUse, Shop, Task, TaskUse, Unit
from bench.work.change import Change, change
from bench.work.known_already import reason_again, taken_in_once
from bench.work.lookups import shop_of, stages_in_order, today
from bench.work.part_rules import covers_parts_out
from bench.work.parties import no_price_of_an_owners, owner_within, party_within

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class UnitAdded:
    """A new unit, its tag and how many tasks its route gave it."""

    unit_id: int
    tag: str
    tasks: int


def add_unit(
    desk: Desk,
    *,
    maker: str,
    model: str,
    serial: str = "",
    route_id: int | None = None,
    note: str = "",
    due_text: str = "",
    price_text: str = "",
    tag_text: str = "",
    owner: PartyTyped | None = None,
    again: str = "",
) -> UnitAdded:
    """Put a unit into the queue at the first stage with its route's tasks.

    `owner`: whose it is, where it was brought in for repair and not bought; then it has no price.
    An empty `tag_text` takes the next free number. BadInput for what cannot be read or a tag in use;
    KnownAlready for another unit's serial number, unless `again` says why it is taken in all the same.
    """
    with change(desk, "add unit") as made:
        added = add_within(
            made,
            maker=maker,
            model=model,
            serial=serial,
            route_id=route_id,
            note=note,
            due_text=due_text,
            price_text=price_text,
            tag_text=tag_text,
            again=again,
        )
        unit = made.get(Unit, added.unit_id, "unit")
        unit.owner_id = party_within(made, owner)
        no_price_of_an_owners(unit)
        words = f"Added {unit.tag} {unit.maker} {unit.model}".rstrip()
        made.tells(words, unit_id=unit.id, reason=reason_again(again))
        return added


def add_within(
    made: Change,
    *,
    maker: str,
    model: str,
    serial: str = "",
    route_id: int | None = None,
    note: str = "",
    due_text: str = "",
    price_text: str = "",
    tag_text: str = "",
    again: str = "",
) -> UnitAdded:
    """The same inside a transaction that does more, such as buying a lot."""
    if route_id is not None:
        _once(made, f"route {route_id}", lambda: made.get(Route, route_id, "route"))
    fields = TypedFields()
    tag = fields.read("tag_text", _free_tag, made, tag_text)
    unit = Unit(
        tag=tag,
        model="",
        route_id=route_id,
        stage_id=_first_stage(made),
        stage_since_us=made.now_us,
        added_us=made.now_us,
    )
    _fill(made, unit, fields, maker, model, serial, note, due_text, price_text)
    taken_in_once(made, unit, again)
    made.add(unit)
    assert unit.id is not None
    return UnitAdded(unit.id, unit.tag, _give_tasks(made, unit.id, route_id))


def edit_unit(
    desk: Desk,
    unit_id: int,
    *,
    maker: str,
    model: str,
    serial: str,
    note: str,
    due_text: str,
    price_text: str,
    tag_text: str,
    owner: PartyTyped | None = None,
    again: str = "",
) -> None:
    """Set a unit's particulars right; what is typed replaces what was. `again`: as for a new unit.

    `owner`: as `owners.set_owner` takes it; None leaves it.
    """
    with change(desk, "edit unit") as made:
        unit = made.get(Unit, unit_id, "unit")
        paid, serial_before = unit.price_minor, serial_key(unit.serial)
        fields = TypedFields()
        tag = fields.read("tag_text", _own_or_free_tag, made, unit, tag_text)
        _fill(made, unit, fields, maker, model, serial, note, due_text, price_text)
        unit.tag = tag
        owner_within(made, unit, owner)
        no_price_of_an_owners(unit)
        if serial_key(unit.serial) != serial_before:
            taken_in_once(made, unit, again)
        if unit.price_minor != paid:
            _not_a_share(made, unit)
            covers_parts_out(made, unit)
        made.tells(f"Edited {unit.tag}", unit_id=unit_id, reason=reason_again(again))


def _fill(
    made: Change,
    unit: Unit,
    fields: TypedFields,
    maker: str,
    model: str,
    serial: str,
    note: str,
    due_text: str,
    price_text: str,
) -> None:
    shop, now = shop_of(made.session), today(made)
    unit.maker = fields.read("maker", clean_line, maker, "The maker", allow_empty=True)
    unit.model = fields.read("model", clean_line, model, "The model")
    unit.serial = fields.read("serial", clean_line, serial, "The serial number", allow_empty=True)
    unit.note = fields.read("note", clean_note, note, "The note")
    due_on = fields.read("due_text", read_day, due_text, now, "The due date")
    unit.due_on = due_on.isoformat() if due_on else None
    price = price_text.strip()
    unit.price_minor = fields.read("price_text", read_money, price, shop.currency) if price else None
    fields.check()


def _not_a_share(made: Change, unit: Unit) -> None:
    statement = (
        select(Lot.name).join(Purchase, col(Purchase.lot_id) == Lot.id).where(Purchase.unit_id == unit.id)
    )
    lot = made.session.exec(statement).first()
    if lot is not None:
        raise Refused(
            f"The price of unit {unit.tag} is its share of the lot {quoted(lot)}.",
            "Leave it as it is; share the lot again if it is wrong.",
        )


def _own_or_free_tag(made: Change, unit: Unit, tag_text: str) -> str:
    if not tag_text.strip() or read_tag(tag_text) == unit.tag:
        return unit.tag
    return _free_tag(made, tag_text)


def _free_tag(made: Change, tag_text: str) -> str:
    shop = shop_of(made.session)
    if not tag_text.strip():
        return _next_tag(made, shop)
    tag = read_tag(tag_text)
    if _in_use(made, tag):
        raise BadInput(
            f"Tag {tag} is on another unit already.", "Take another sticker, or leave the tag empty."
        )
    if number_of(tag) == shop.next_tag_number:
        shop.next_tag_number += 1
    return tag


def _next_tag(made: Change, shop: Shop) -> str:
    while True:
        tag = tag_from_number(shop.next_tag_number)
        shop.next_tag_number += 1
        if not _in_use(made, tag):
            return tag


def _in_use(made: Change, tag: str) -> bool:
    statement = select(Unit.id).where(Unit.tag == tag, Unit.removed == 0)
    return made.session.exec(statement).first() is not None


def _first_stage(made: Change) -> int:
    return _once(made, "first stage", lambda: stages_in_order(made.session)[0].id or 0)


def _give_tasks(made: Change, unit_id: int, route_id: int | None) -> int:
    steps, uses = _once(made, f"pattern of route {route_id}", lambda: _pattern(made, route_id))
    tasks = {
        step.id: Task(
            unit_id=unit_id,
            stage_id=step.stage_id,
            position=step.position,
            name=step.name,
            estimate_minutes=step.estimate_minutes,
            unattended=step.unattended,
            lid_off=step.lid_off,
            opens=step.opens,
            hazard=step.hazard,
            test=step.test,
            public=step.public,
            route_task_id=step.id,
        )
        for step in steps
    }
    made.session.add_all(tasks.values())
    made.session.flush()
    for use in uses:
        task_id = tasks[use.route_task_id].id
        assert task_id is not None
        made.session.add(TaskUse(task_id=task_id, consumable_id=use.consumable_id, quantity=use.quantity))
    return len(tasks)


def _pattern(made: Change, route_id: int | None) -> tuple[list[RouteTask], list[RouteUse]]:
    statement = (
        select(RouteTask)
        .where(RouteTask.route_id == route_id, RouteTask.removed == 0)
        .order_by(col(RouteTask.position), col(RouteTask.id))
    )
    steps = list(made.session.exec(statement))
    step_ids = [step.id for step in steps]
    uses = select(RouteUse).where(col(RouteUse.route_task_id).in_(step_ids)).order_by(col(RouteUse.id))
    return steps, list(made.session.exec(uses))


def _once(made: Change, what: str, read: Callable[[], T]) -> T:
    """What every unit of a large lot needs alike, read once a transaction: others wait for the file."""
    if what not in made.session.info:
        made.session.info[what] = read()
    found: T = made.session.info[what]
    return found
