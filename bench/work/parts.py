"""Parts: bought for a unit, taken out of one for another or the shelf, swapped. Cost goes along with them.

No part carries more cost than is left on the unit it leaves: the unit's price or share of its lot, with
the parts that came in, less those that went. Nothing is lost or made: what leaves one unit stands on another
or waits on the shelf.
"""

from __future__ import annotations

from bench.desk import Desk
from bench.domain.money import read_money, show_money
from bench.domain.parts import PartMoved, Swapped
from bench.domain.text import clean_line
from bench.domain.typed import TypedFields
from bench.errors import BadInput, Refused
from bench.store.tables import Component, Part, Unit
from bench.work.change import Change, change
from bench.work.components import identify, last_move
from bench.work.known_already import fitted_once, reason_again
from bench.work.lookups import shop_of
from bench.work.names import tells_if_changed
from bench.work.part_rules import at_hand, bears, drive_in, left_on, move_along, two_units


def fit_part(
    desk: Desk,
    unit_id: int,
    *,
    name: str,
    cost_text: str,
    supplier: str = "",
    serial: str = "",
    note: str = "",
    drive_id: int | None = None,
    again: str = "",
) -> PartMoved:
    """Fit a part that was bought for the unit; its cost stands on the unit from now on.

    `drive_id`: a drive on the shelf that goes into the unit with it, as `part_rules.drive_in` takes it.
    KnownAlready where such a part stands in a unit, unless `again` says why it is fitted all the same.
    """
    with change(desk, "fit part") as made:
        at_hand(made, unit_id)
        part = _part(made, name, serial, cost_text, supplier=supplier, note=note)
        part.to_unit_id = unit_id
        fitted_once(made, part, again)
        part.drive_id = drive_in(made, part, drive_id, None)
        identify(made, part)
        move_along(made, part.drive_id, None, unit_id)
        return _moved(made, part, "Fitted", reason_again(again))


def take_part(
    desk: Desk,
    from_unit_id: int,
    *,
    name: str,
    cost_text: str,
    to_unit_id: int | None = None,
    serial: str = "",
    note: str = "",
    drive_id: int | None = None,
    again: str = "",
) -> PartMoved:
    """Take a part out of a unit, for another one or for the shelf; the cost typed goes with it.

    A drive of the unit moves along: the one named, or the one whose serial number was typed; WhichDrive where
    that must be said. Refused where the part would carry more cost than is left on the unit. KnownAlready
    where it is out already, unless `again` says why another one comes out.
    """
    with change(desk, "take part") as made:
        giver = at_hand(made, from_unit_id)
        part = _part(made, name, serial, cost_text, note=note)
        if to_unit_id is not None:
            two_units(giver, at_hand(made, to_unit_id))
        bears(made, giver, part.cost_minor)
        part.from_unit_id, part.to_unit_id = from_unit_id, to_unit_id
        part.drive_id = drive_in(made, part, drive_id, from_unit_id)
        identify(made, part, again=again)
        move_along(made, part.drive_id, from_unit_id, to_unit_id)
        return _moved(made, part, "Took", reason_again(again))


def fit_from_shelf(desk: Desk, part_id: int, unit_id: int, *, drive_id: int | None = None) -> PartMoved:
    """Fit a part that lies on the shelf, with the cost that lies there with it.

    `drive_id`: which drive it is, where its removal does not say it.
    """
    with change(desk, "fit part") as made:
        part = made.get(Part, part_id, "part")
        component = made.get(Component, part.component_id, "part")
        if component.gone:
            raise Refused(f"{part.name} is {component.gone} already.", "Choose a part that is there.")
        last = last_move(made, part.component_id)
        if part.to_unit_id is not None or last is None or last.id != part.id:
            raise Refused(f"{part.name} does not lie on the shelf.", "Take it out of its unit first.")
        unit = at_hand(made, unit_id)
        if part.from_unit_id == unit_id:
            raise Refused(f"{part.name} came out of {unit.tag} itself.", "Undo its removal instead.")
        if part.drive_id is None:
            part.drive_id = drive_in(made, part, drive_id, None)
        part.to_unit_id, part.at_us = unit_id, made.now_us
        move_along(made, part.drive_id, None, unit_id)
        return _moved(made, part, "Fitted")


def swap_parts(
    desk: Desk,
    unit_a_id: int,
    unit_b_id: int,
    *,
    name: str,
    cost_a_text: str,
    cost_b_text: str,
    serial_a: str = "",
    serial_b: str = "",
    drive_a_id: int | None = None,
    drive_b_id: int | None = None,
    note: str = "",
) -> Swapped:
    """Put a part of unit A into unit B and the like part of B into A, each with its cost, in one step."""
    with change(desk, "swap parts") as made:
        a, b = at_hand(made, unit_a_id), at_hand(made, unit_b_id)
        two_units(a, b)
        fields = TypedFields()
        there = fields.read("", _part, made, name, serial_a, cost_a_text, note=note, side="_a")
        back = fields.read("", _part, made, name, serial_b, cost_b_text, note=note, side="_b")
        fields.check()
        bears(made, a, there.cost_minor)
        bears(made, b, back.cost_minor)
        there.from_unit_id, there.to_unit_id = unit_a_id, unit_b_id
        back.from_unit_id, back.to_unit_id = unit_b_id, unit_a_id
        chosen_a = drive_in(made, there, drive_a_id, unit_a_id, field="drive_a_id")
        chosen_b = drive_in(made, back, drive_b_id, unit_b_id, field="drive_b_id")
        there.drive_id, back.drive_id = chosen_a, chosen_b
        for part in (there, back):
            identify(made, part, like_ones=True)
            move_along(made, part.drive_id, part.from_unit_id, part.to_unit_id)
        made.add(there)
        made.add(back)
        currency = shop_of(made.session).currency
        made.tells(
            f"Swapped {there.name} of {a.tag} ({show_money(there.cost_minor, currency)}) and "
            f"{b.tag} ({show_money(back.cost_minor, currency)})",
            unit_id=unit_a_id,
        )
        left_a, left_b = left_on(made, unit_a_id), left_on(made, unit_b_id)
        return Swapped(there.name, a.tag, b.tag, there.cost_minor, back.cost_minor, left_a, left_b, currency)


def edit_part(
    desk: Desk, part_id: int, *, name: str, cost_text: str, serial: str, supplier: str, note: str
) -> None:
    """Set a part's particulars and cost right. Refused where its unit could not bear the cost."""
    with change(desk, "edit part") as made:
        part = made.get(Part, part_id, "part")
        fresh = _part(made, name, serial, cost_text, supplier=supplier, note=note)
        more = fresh.cost_minor - part.cost_minor
        if part.from_unit_id is not None and more > 0:
            bears(made, made.get(Unit, part.from_unit_id, "unit"), more)
        if part.to_unit_id is not None and more < 0:
            bears(made, made.get(Unit, part.to_unit_id, "unit"), -more)
        part.name, part.serial, part.cost_minor = fresh.name, fresh.serial, fresh.cost_minor
        part.supplier, part.note = fresh.supplier, fresh.note
        component = made.get(Component, part.component_id, "part")
        component.name, component.serial = fresh.name, fresh.serial or component.serial
        tells_if_changed(made, f"Edited part {part.name}", part.to_unit_id or part.from_unit_id)


def _part(
    made: Change,
    name: str,
    serial: str,
    cost_text: str,
    *,
    supplier: str = "",
    note: str = "",
    side: str = "",
) -> Part:
    """A part as typed, not stored yet. `side`: which of two that are typed together, as its fields end."""
    fields, currency = TypedFields(), shop_of(made.session).currency
    part = Part(
        name=fields.read("name", clean_line, name, "The part"),
        serial=fields.read(f"serial{side}", clean_line, serial, "The part's serial number", allow_empty=True),
        cost_minor=fields.read(f"cost{side}_text", _cost, cost_text, currency),
        at_us=made.now_us,
        person_id=made.desk.person_id,
        supplier=fields.read("supplier", clean_line, supplier, "The supplier", allow_empty=True),
        note=fields.read("note", clean_line, note, "The note", allow_empty=True),
    )
    fields.check()
    return part


def _cost(text: str, currency: str) -> int:
    if not text.strip():
        raise BadInput("The part's cost is empty.", "Type 0 if it carries none.")
    return read_money(text, currency)


def _moved(made: Change, part: Part, verb: str, reason: str = "") -> PartMoved:
    made.add(part)
    assert part.id is not None
    giver = made.session.get(Unit, part.from_unit_id) if part.from_unit_id is not None else None
    taker = made.session.get(Unit, part.to_unit_id) if part.to_unit_id is not None else None
    currency = shop_of(made.session).currency
    from_tag, to_tag = giver.tag if giver else "", taker.tag if taker else ""
    out = f" out of {from_tag}" if giver else ""
    into = f" into {to_tag}" if taker else " to the shelf"
    made.tells(
        f"{verb} {part.name}{out}{into}, {show_money(part.cost_minor, currency)}",
        unit_id=part.to_unit_id or part.from_unit_id,
        reason=reason,
    )
    left = left_on(made, part.from_unit_id) if part.from_unit_id is not None else None
    return PartMoved(part.id, part.name, part.cost_minor, from_tag, to_tag, left, currency)
