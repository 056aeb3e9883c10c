"""A scan resolved: the unit, drive, part or consumable that bears the text, or the action card that it is."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from bench.desk import Desk
from bench.domain.labels import WHO, Card, read_card, read_part_code
from bench.domain.tags import EAN_LENGTH, LONGEST_BODY, SHORTEST_BODY, is_ean, read_tag
from bench.domain.text import for_display, quoted
from bench.errors import BadInput
from bench.views.binder import Query
from bench.views.shop import PersonLine, people

UNIT, DRIVE, CONSUMABLE, CARD, UNKNOWN = "unit", "drive", "consumable", "card", "unknown"
PART = "part"


@dataclass(frozen=True, slots=True)
class Found:
    """What a scan means. `kind`: unit, drive, part, consumable, card or unknown; that kind's number is set.

    `unit_id` is also the unit a drive or part is in; `gone`: it left the shop off the shelf. `name`: its
    words. `says`: for what is unknown, what was not known about it. `new_serial`: whether it may be the
    serial number of a unit that is not taken in yet. `act`, `person_id`: of a card.
    """

    text: str
    kind: str
    name: str = ""
    tag: str = ""
    unit_id: int | None = None
    drive_id: int | None = None
    consumable_id: int | None = None
    says: str = ""
    new_serial: bool = False
    act: str = ""
    person_id: int | None = None
    part_id: int | None = None
    gone: bool = False


@dataclass(frozen=True, slots=True)
class _Unit:
    """A unit with this tag or serial number."""

    unit_id: int
    tag: str
    name: str


@dataclass(frozen=True, slots=True)
class _Drive:
    """A drive with this serial number."""

    drive_id: int
    unit_id: int | None
    tag: str
    name: str


@dataclass(frozen=True, slots=True)
class _Consumable:
    """A consumable with this code."""

    consumable_id: int
    name: str


@dataclass(frozen=True, slots=True)
class _Part:
    """Where a part is: its last move."""

    part_id: int
    unit_id: int | None
    tag: str
    name: str
    gone: bool


# In whatever capitals; the one with the tag comes first.
_UNITS = Query(
    _Unit,
    """
SELECT id AS unit_id, tag, TRIM(maker || ' ' || model) AS name FROM unit
WHERE removed = 0 AND (tag = :text OR (serial <> '' AND serial = :text COLLATE NOCASE))
ORDER BY tag <> :text, id
""",
)

_DRIVES = Query(
    _Drive,
    """
SELECT drive.id AS drive_id, drive.unit_id, COALESCE(unit.tag, '') AS tag,
       TRIM(drive.maker || ' ' || drive.model || ' ' || drive.serial) AS name
FROM drive LEFT JOIN unit ON unit.id = drive.unit_id AND unit.removed = 0
WHERE drive.removed = 0 AND drive.serial <> '' AND drive.serial = :text COLLATE NOCASE ORDER BY drive.id
""",
)

_CONSUMABLES = Query(
    _Consumable,
    """
SELECT id AS consumable_id, name FROM consumable
WHERE removed = 0 AND code <> '' AND code = :text COLLATE NOCASE ORDER BY id
""",
)

_PART = Query(
    _Part,
    """
SELECT part.id AS part_id, unit.id AS unit_id, COALESCE(unit.tag, '') AS tag, part.name,
       component.gone <> '' AS gone
FROM part JOIN component ON component.id = part.component_id LEFT JOIN unit ON unit.id = part.to_unit_id
WHERE part.component_id = :component_id AND part.removed = 0 ORDER BY part.id DESC
""",
)


def resolve_scan(desk: Desk, text: str) -> Found:
    """What a scanned text means: a unit's tag or serial number, a drive's serial number, the code of a label.

    What bears it twice over, or not at all, is unknown, and the answer says why.
    """
    code = " ".join(for_display(text).split())
    with desk.store.read() as connection:
        units = _UNITS.all(connection, text=code)
        drives = _DRIVES.all(connection, text=code)
        consumables = _CONSUMABLES.all(connection, text=code)
        part = _PART.first(connection, component_id=read_part_code(code))
        here = people(connection)
    if units and (len(units) == 1 or units[0].tag == code):
        unit = units[0]
        return Found(code, UNIT, unit.name, unit.tag, unit_id=unit.unit_id)
    if units:
        tags = ", ".join(unit.tag for unit in units)
        return Found(code, UNKNOWN, says=f"Several units bear the serial number {quoted(code)}: {tags}.")
    if len(drives) == 1:
        drive = drives[0]
        return Found(code, DRIVE, drive.name, drive.tag, unit_id=drive.unit_id, drive_id=drive.drive_id)
    if consumables:
        return Found(code, CONSUMABLE, consumables[0].name, consumable_id=consumables[0].consumable_id)
    if part is not None:
        return Found(
            *(code, PART, part.name, part.tag), unit_id=part.unit_id, part_id=part.part_id, gone=part.gone
        )
    card = read_card(code)
    if card is not None:
        return _card(code, card, here)
    return Found(code, UNKNOWN, says=_why_unknown(code), new_serial=bool(code) and not is_ean(code))


def _card(code: str, card: Card, here: Iterable[PersonLine]) -> Found:
    """What bears a card's code is no unit, drive or consumable: those were looked for before."""
    if card.act != WHO:
        return Found(code, CARD, card.act, act=card.act)
    for person in here:
        if person.person_id == card.person_id:
            return Found(code, CARD, person.name, act=WHO, person_id=person.person_id)
    return Found(code, UNKNOWN, says="The card names someone who does not work here any more.")


def _why_unknown(code: str) -> str:
    digits = code.isascii() and code.isdigit()
    if len(code) == EAN_LENGTH and is_ean(code):
        return f"No consumable bears the code {code}."
    if digits and SHORTEST_BODY < len(code) <= LONGEST_BODY + 1:
        try:
            read_tag(code)
        except BadInput as error:
            return f"{error} No serial number or code is like it either."
        return f"No unit bears the tag {code}."
    return f"{quoted(code)} is no tag, serial number or code that is known here."
