"""Which part it is: every move names one identity, in one place, which leaves the shop from the shelf."""

from __future__ import annotations

from sqlmodel import col, select

from bench.desk import Desk
from bench.domain.money import read_money, show_money
from bench.domain.orders import SCRAPPED_PART, SOLD_PART, PartGone
from bench.domain.text import clean_line
from bench.domain.typed import TypedFields, read_field
from bench.domain.wipe import serial_key
from bench.errors import KnownAlready, Refused
from bench.store.tables import Component, Drive, Part, Unit
from bench.work.change import Change, change
from bench.work.drives import name_of
from bench.work.known_already import reason_again
from bench.work.lookups import shop_of
from bench.work.names import tells_if_changed
from bench.work.wanting import is_wiped


def identify(made: Change, part: Part, *, again: str = "", like_ones: bool = False) -> None:
    """Say which part a move is of: one that came into the unit it leaves, else one that is new to the file.

    KnownAlready where the unit's own part of that name is out already and no reason was typed. `like_ones`:
    such parts may be there twice, so that only a serial number tells. Refused where a drive that was bought
    lies on the shelf as a part.
    """
    found = _of_drive(made, part) if part.drive_id is not None else _came_into(made, part)
    if found is not None and part.from_unit_id is None:
        raise Refused(
            f"{part.name} lies on the shelf as part {found.id}.", "Fit it from the shelf, with its cost."
        )
    if found is None and part.from_unit_id is not None and part.drive_id is None:
        _not_out_already(made, part, again, like_ones=like_ones)
    if found is None:
        component = made.add(Component(name=part.name, serial=part.serial))
        assert component.id is not None
        part.component_id = component.id
        return
    part.component_id = found.component_id
    component = made.get(Component, found.component_id, "part")
    if part.serial and not component.serial:
        component.serial = part.serial


def onto_shelf(
    made: Change,
    *,
    name: str,
    cost_minor: int,
    maker_number: str = "",
    serial: str = "",
    place: str = "",
    supplier: str = "",
    fault_id: int | None = None,
) -> Component:
    """A part that comes onto the shelf from outside, with its cost, within a transaction that does more."""
    component = made.add(Component(name=name, maker_number=maker_number, serial=serial, place=place))
    assert component.id is not None
    made.add(
        Part(
            name=name,
            serial=serial,
            component_id=component.id,
            cost_minor=cost_minor,
            at_us=made.now_us,
            person_id=made.desk.person_id,
            supplier=supplier,
            fault_id=fault_id,
        )
    )
    return component


def last_move(made: Change, component_id: int) -> Part | None:
    """The last move of a part that stands: where it led, the part is."""
    statement = select(Part).where(Part.component_id == component_id, Part.removed == 0)
    return made.session.exec(statement.order_by(col(Part.id).desc())).first()


def on_the_shelf(made: Change, component_id: int) -> tuple[Component, Part]:
    """The part with its last move, if it lies on the shelf; Refused where it does not."""
    component = made.get(Component, component_id, "part")
    last = last_move(made, component_id)
    if component.gone:
        raise Refused(f"{component.name} is {component.gone} already.", "Undo that first.")
    if last is None or last.to_unit_id is not None:
        where = ""
        if last is not None and last.to_unit_id is not None:
            where = f": it is in {made.get(Unit, last.to_unit_id, 'unit').tag}"
        raise Refused(f"{component.name} does not lie on the shelf{where}.", "Take it out of its unit first.")
    return component, last


def goes(made: Change, component: Component, way: str, *, note: str = "", bears: int | None = None) -> None:
    """Let a part that lies on the shelf leave the shop, within a transaction that does more."""
    component.gone, component.gone_us = way, made.now_us
    component.note, component.bears_unit_id = note, bears
    last = last_move(made, component.id or 0)
    if last is not None and last.drive_id is not None:
        drive = made.get(Drive, last.drive_id, "drive")
        if way != SCRAPPED_PART and not is_wiped(made.session, drive):
            raise Refused(
                f"The drive {name_of(drive)} has no passed wipe record: it does not leave the shop so.",
                "Wipe it and verify that first.",
            )
        drive.removed = 1


def sell_part(desk: Desk, component_id: int, *, price_text: str, note: str = "") -> PartGone:
    """Sell a part off the shelf; what it brought and what it cost stand in the month."""
    with change(desk, "sell part") as made:
        component, last = on_the_shelf(made, component_id)
        currency, fields = shop_of(made.session).currency, TypedFields()
        price = fields.read("price_text", read_money, price_text, currency)
        said = fields.read("note", clean_line, note, "The note", allow_empty=True)
        fields.check()
        goes(made, component, SOLD_PART, note=said)
        component.price_minor = price
        made.tells(f"Sold {component.name} off the shelf for {show_money(price, currency)}")
        return PartGone(component_id, component.name, SOLD_PART, last.cost_minor, price, currency)


def scrap_part(desk: Desk, component_id: int, reason: str) -> PartGone:
    """Throw a part on the shelf away, with the reason why; its cost is lost and stands in the month."""
    with change(desk, "scrap part") as made:
        component, last = on_the_shelf(made, component_id)
        why = read_field("reason", clean_line, reason, "The reason")
        goes(made, component, SCRAPPED_PART, note=why)
        currency = shop_of(made.session).currency
        made.tells(f"Scrapped {component.name}, {show_money(last.cost_minor, currency)}", reason=why)
        return PartGone(component_id, component.name, SCRAPPED_PART, last.cost_minor, 0, currency)


def place_part(desk: Desk, component_id: int, *, place: str, maker_number: str | None = None) -> None:
    """Say where on the shelf a part lies, and, where it is given, the maker's number of it."""
    with change(desk, "place part") as made:
        component, _ = on_the_shelf(made, component_id)
        fields = TypedFields()
        where = fields.read("place", clean_line, place, "The place", allow_empty=True)
        number = component.maker_number
        if maker_number is not None:
            number = fields.read(
                "maker_number", clean_line, maker_number, "The maker's number", allow_empty=True
            )
        fields.check()
        component.place, component.maker_number = where, number
        tells_if_changed(made, f"{component.name} lies at {where or 'no place told'}")


def _of_drive(made: Change, part: Part) -> Part | None:
    """The last move of that drive as a part, whichever way it went, if it led to where the part leaves."""
    statement = select(Part).where(Part.drive_id == part.drive_id).order_by(col(Part.id).desc())
    with made.session.no_autoflush:
        rows = [one for one in made.session.exec(statement) if one is not part]
    for one in rows:
        last = last_move(made, one.component_id)
        if last is None:
            continue
        if last.to_unit_id == part.from_unit_id and not made.get(Component, one.component_id, "part").gone:
            return last
    return None


def _came_into(made: Change, part: Part) -> Part | None:
    """The move that brought into the unit what leaves it now; None for a part of its own, or a bought one."""
    if part.from_unit_id is None:
        return None
    with made.session.no_autoflush:
        rows = made.session.exec(
            select(Part)
            .where(Part.to_unit_id == part.from_unit_id, Part.removed == 0)
            .order_by(col(Part.id).desc())
        ).all()
    for one in rows:
        if one is not part and one.drive_id is None and _alike(one, part) and _is_last(made, one):
            return one
    return None


def _alike(one: Part, other: Part) -> bool:
    if serial_key(one.serial) and serial_key(other.serial):
        return serial_key(one.serial) == serial_key(other.serial)
    return one.name.casefold() == other.name.casefold()


def _is_last(made: Change, one: Part) -> bool:
    last = last_move(made, one.component_id)
    return last is not None and last.id == one.id


def _is_first(made: Change, one: Part) -> bool:
    moves = select(Part.id).where(Part.component_id == one.component_id, Part.removed == 0)
    return made.session.exec(moves.order_by(col(Part.id))).first() == one.id


def _not_out_already(made: Change, part: Part, again: str, *, like_ones: bool) -> None:
    """Pass, or raise KnownAlready where the unit's own part is out already: no part comes out twice."""
    if reason_again(again) or (like_ones and not part.serial):
        return
    with made.session.no_autoflush:
        rows = made.session.exec(
            select(Part).where(Part.from_unit_id == part.from_unit_id, Part.removed == 0)
        ).all()
        own = (one for one in rows if one is not part and one.drive_id is None and _is_first(made, one))
        out = next((one for one in own if _alike(one, part)), None)
    if out is None or part.from_unit_id is None:
        return
    unit = made.get(Unit, part.from_unit_id, "unit")
    raise KnownAlready(
        f"{out.name} of unit {unit.tag} is out already.",
        "Look at the part again, or type why another one comes out.",
    )
