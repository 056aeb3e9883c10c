"""Parts: those that came into a unit or left it, and those on the shelf."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass, replace

from bench.desk import Desk
from bench.domain.amounts import Instant, Minor
from bench.domain.money import read_money
from bench.domain.parts import suggest_cost
from bench.errors import NotFound
from bench.views.binder import Query
from bench.views.ledger import cost_left_minor
from bench.views.particulars import no_such_unit
from bench.views.shop import facts


@dataclass(frozen=True, slots=True)
class PartLine:
    """A move of a part. No `from_unit_id`: bought. No `to_unit_id`: on the shelf. `cost_minor` went along.

    `component_id`: which part it is. `last`: there the part still is; `gone`: how it left the shop then.
    """

    part_id: int
    at_us: Instant
    name: str
    serial: str
    from_unit_id: int | None
    from_tag: str
    to_unit_id: int | None
    to_tag: str
    cost_minor: Minor
    person: str
    supplier: str
    note: str
    drive_id: int | None
    component_id: int
    maker_number: str
    place: str
    gone: str
    last: bool


@dataclass(frozen=True, slots=True)
class UnitParts:
    """Every part that came into a unit or left it, oldest first; `in_it`: those that are in it now.

    `left_minor`: the cost still on the unit, its price and parts in less parts out; consumables apart.
    """

    unit_id: int
    tag: str
    model: str
    donor: bool
    price_minor: Minor | None
    expected_minor: Minor | None
    currency: str
    zone: str
    left_minor: Minor = 0
    lines: tuple[PartLine, ...] = ()
    in_it: tuple[PartLine, ...] = ()

    @property
    def price_known(self) -> bool:
        """Whether its price was typed; the cost left is at least as much where not."""
        return self.price_minor is not None


@dataclass(frozen=True, slots=True)
class Shelf:
    """Parts taken out and kept, oldest first; their cost waits with them."""

    lines: tuple[PartLine, ...]
    currency: str
    zone: str

    @property
    def cost_minor(self) -> Minor:
        """The cost that lies on the shelf."""
        return sum(line.cost_minor for line in self.lines)


# Whether no later move of the same part stands: there it is.
IS_LAST = """NOT EXISTS (SELECT 1 FROM part AS later WHERE later.component_id = part.component_id
    AND later.removed = 0 AND later.id > part.id)"""

_LINE = """
SELECT part.id AS part_id, part.at_us, part.name, part.serial, part.from_unit_id,
       COALESCE(giver.tag, '') AS from_tag, part.to_unit_id, COALESCE(taker.tag, '') AS to_tag,
       part.cost_minor, person.name AS person, part.supplier, part.note, part.drive_id, part.component_id,
       component.maker_number, component.place, component.gone, {is_last} AS last
FROM part JOIN component ON component.id = part.component_id JOIN person ON person.id = part.person_id
LEFT JOIN unit AS giver ON giver.id = part.from_unit_id LEFT JOIN unit AS taker ON taker.id = part.to_unit_id
WHERE part.removed = 0 AND {which} ORDER BY part.at_us, part.id
""".replace("{is_last}", IS_LAST)
_OF_UNIT = Query(
    PartLine,
    _LINE.replace(
        "{which}",
        """part.id IN (SELECT id FROM part WHERE from_unit_id = :unit_id
    UNION SELECT id FROM part WHERE to_unit_id = :unit_id)""",
    ),
)
_ONE = Query(PartLine, _LINE.replace("{which}", "part.id = :part_id"))
_SHELF = Query(PartLine, _LINE.replace("{which}", "part.to_unit_id IS NULL AND component.gone = ''"))

_UNIT = Query(
    UnitParts,
    """
SELECT unit.id AS unit_id, unit.tag, TRIM(unit.maker || ' ' || unit.model) AS model,
       COALESCE(purchase.donor, 0) AS donor, unit.price_minor, purchase.expected_minor,
       shop.currency, shop.zone
FROM unit CROSS JOIN shop LEFT JOIN purchase ON purchase.unit_id = unit.id
WHERE unit.id = :unit_id AND unit.removed = 0
""",
)


def read_parts(desk: Desk, unit_id: int) -> UnitParts:
    """Every part that came into a unit or left it, and the cost still on the unit."""
    with desk.store.read() as connection:
        lines = of_unit(connection, unit_id)
        now = tuple(one for one in lines if one.last and one.to_unit_id == unit_id)
        return replace(_unit(connection, unit_id), lines=lines, in_it=now)


def read_shelf(desk: Desk) -> Shelf:
    """The parts taken out and kept."""
    with desk.store.read() as connection:
        shop = facts(connection)
        return Shelf(_SHELF.all(connection), shop.currency, shop.zone)


def read_part(desk: Desk, part_id: int) -> PartLine:
    """The part of this number, as it came or went then. NotFound where there is none."""
    with desk.store.read() as connection:
        part = _ONE.first(connection, part_id=part_id)
    if part is None:
        raise NotFound(f"No part has the number {part_id}.", "`bench part TAG` and `bench shelf` list them.")
    return part


def read_part_cost(desk: Desk, from_unit_id: int, worth_text: str) -> int:
    """The cost to suggest for a part worth so much, in minor units: its share of what is left on the unit."""
    with desk.store.read() as connection:
        unit = _unit(connection, from_unit_id)
    worth = read_money(worth_text, unit.currency)
    return suggest_cost(unit.left_minor, unit.expected_minor, worth)


def of_unit(connection: sqlite3.Connection, unit_id: int) -> tuple[PartLine, ...]:
    """Every part that came into a unit or left it, oldest first."""
    return _OF_UNIT.all(connection, unit_id=unit_id)


def _unit(connection: sqlite3.Connection, unit_id: int) -> UnitParts:
    """The unit with the cost still on it. NotFound when there is no such unit."""
    unit = _UNIT.first(connection, unit_id=unit_id)
    if unit is None:
        raise no_such_unit(unit_id)
    return replace(unit, left_minor=cost_left_minor(connection, unit_id))
