"""Say what a unit would fetch as it is, or in parts, and the time that takes."""

from __future__ import annotations

from sqlmodel import select

from bench.desk import Desk
from bench.domain.durations import read_minutes
from bench.domain.money import read_money
from bench.domain.text import clean_line
from bench.domain.three_ways import AS_IS, PART_OUT, TITLES
from bench.domain.typed import TypedFields
from bench.errors import BadInput
from bench.store.tables import Unit, WayEstimate
from bench.work.change import change
from bench.work.lookups import shop_of
from bench.work.names import tells_if_changed
from bench.work.standing import not_an_owners


def set_way_estimate(
    desk: Desk, unit_id: int, way: str, *, price_text: str, minutes_text: str, note: str = ""
) -> None:
    """Set what one way is expected to fetch, and the hands-on time it takes; empty for not known.

    BadInput for another way than selling as is or parting out, Refused for an owner's machine.
    """
    if way not in (AS_IS, PART_OUT):
        raise BadInput(f"{way} is no way to be estimated.", f"Choose {AS_IS} or {PART_OUT}.", field="way")
    with change(desk, "way estimate") as made:
        unit = made.get(Unit, unit_id, "unit")
        not_an_owners(unit)
        price, minutes, fields = price_text.strip(), minutes_text.strip(), TypedFields()
        currency = shop_of(made.session).currency
        price_minor = fields.read("price_text", read_money, price, currency) if price else None
        takes = fields.read("minutes_text", read_minutes, minutes) if minutes else None
        why = fields.read("note", clean_line, note, "The note", allow_empty=True)
        fields.check()
        statement = select(WayEstimate).where(
            WayEstimate.unit_id == unit_id, WayEstimate.way == way, WayEstimate.removed == 0
        )
        estimate = made.session.exec(statement).first()
        nothing = price_minor is None and takes is None and not why
        if estimate is None and not nothing:
            estimate = made.add(WayEstimate(unit_id=unit_id, way=way))
        if estimate is not None:
            estimate.price_minor, estimate.minutes, estimate.note = price_minor, takes, why
            estimate.removed = int(nothing)
        tells_if_changed(made, f"Set the proceeds of {unit.tag}: {TITLES[way].lower()}", unit_id)
