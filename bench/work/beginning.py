"""The beginning of a shop: its name, money and clock, its people, and what lies on the shelf, in one act."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager

from bench.desk import Desk
from bench.domain.text import clean_line
from bench.domain.typed import TypedFields
from bench.domain.weeks import zone_named
from bench.errors import BadInput
from bench.store.tables import Person
from bench.work.change import change, together
from bench.work.lookups import shop_of
from bench.work.names import free_name, tells_if_changed
from bench.work.shop import add_person, check_currency
from bench.work.stock import count_stock

ON_THE_SHELF = "on the shelf at the beginning"


def begin_shop(
    desk: Desk, *, name: str, currency: str, zone: str, you: str, others: str, amounts: Mapping[int, str]
) -> None:
    """Set the shop up as typed: all of it, or nothing.

    `you`: the name of whoever acts. `others`: names with commas between. `amounts`: by the number of a
    consumable what lies there of it; nothing typed leaves its level.
    """
    fields = TypedFields()
    with together(desk) as joint:
        with _told_of(fields, "you"):
            _name_yourself(joint, you)
        for other in filter(None, map(str.strip, others.split(","))):
            with _told_of(fields, "others"):
                add_person(joint, other)
        for consumable_id, amount in amounts.items():
            if amount.strip():
                with _told_of(fields, f"amount_{consumable_id}"):
                    count_stock(joint, consumable_id, quantity_text=amount, reason=ON_THE_SHELF)
        _set_shop(joint, fields, name=name, currency=currency, zone=zone)
        fields.check()


@contextmanager
def _told_of(fields: TypedFields, field: str) -> Iterator[None]:
    """What a use case finds wrong, kept as this field's: its own forms name their fields otherwise."""
    try:
        yield
    except BadInput as error:
        for fault in error.faults:
            fields.wrong(fault.of_field(field))


def _set_shop(desk: Desk, fields: TypedFields, *, name: str, currency: str, zone: str) -> None:
    with change(desk, "settings") as made:
        shop, code = shop_of(made.session), currency.strip().upper()
        fields.read("currency", check_currency, made, shop, code)
        shop_name = fields.read("name", clean_line, name, "The shop's name")
        place = fields.read("zone", zone_named, zone.strip())
        fields.check()
        shop.name, shop.currency, shop.zone = shop_name, code, place.key
        made.tells(f"Set up {shop_name}")


def _name_yourself(desk: Desk, name: str) -> None:
    with change(desk, "rename person") as made:
        person = made.get(Person, desk.person_id, "person")
        before, person.name = person.name, free_name(made, Person, name, "person", desk.person_id)
        tells_if_changed(made, f"Renamed {before} to {person.name}")
