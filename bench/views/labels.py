"""What stands on the labels of units, drives, parts and shelves, and on action cards."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bench.desk import Desk
from bench.domain.labels import ACTS, WHO, Card, Label, card_code, part_code
from bench.errors import BadInput, NotFound
from bench.views.binder import Query
from bench.views.particulars import unit_by_tag
from bench.views.parts import PartLine, read_part
from bench.views.shop import facts, people

CARD_WORDS = {
    "START": "start the next task",
    "STOP": "stop my timer",
    "DONE": "my task is done",
    "NEXT": "move the unit on",
    "WHO": "who is working",
}


@dataclass(frozen=True, slots=True)
class _Unit:
    """A unit as its label tells it: never whose it is."""

    tag: str
    model: str


@dataclass(frozen=True, slots=True)
class _Drive:
    """A drive as its label tells it."""

    serial: str
    name: str


_UNIT = Query(
    _Unit, "SELECT tag, TRIM(maker || ' ' || model) AS model FROM unit WHERE id = :unit_id AND removed = 0"
)
_DRIVE = Query(
    _Drive,
    """
SELECT serial, TRIM(maker || ' ' || model) AS name FROM drive
WHERE removed = 0 AND serial <> '' AND serial = :serial COLLATE NOCASE ORDER BY id LIMIT 1
""",
)


def unit_labels(desk: Desk, tags: Sequence[str]) -> tuple[Label, ...]:
    """A label for each tag, in their order. NotFound for a tag that no unit bears."""
    ids = [unit_by_tag(desk, tag) for tag in tags]
    with desk.store.read() as connection:
        shop = facts(connection).name
        units = [_UNIT.the(connection, unit_id=unit_id) for unit_id in ids]
    return tuple(Label(unit.tag, unit.tag, (unit.model, shop)) for unit in units)


def drive_label(desk: Desk, serial: str) -> Label:
    """The label of the drive with this serial number, which is its code. NotFound where there is none."""
    with desk.store.read() as connection:
        drive = _DRIVE.first(connection, serial=serial.strip())
        shop = facts(connection).name
    if drive is None:
        raise NotFound(f"No drive bears the serial number {serial.strip()}.", "`bench drive` lists them.")
    return Label(drive.serial, drive.serial, (drive.name, shop))


def part_label(part: PartLine) -> Label:
    """The label of a part: its code leads to it wherever it is then."""
    number = " ".join(filter(None, (part.maker_number, part.serial)))
    return Label(part_code(part.component_id), part.name, tuple(filter(None, (number, part.supplier))))


def part_label_of(desk: Desk, part_id: int) -> Label:
    """The label of the part of this number. NotFound where there is none."""
    return part_label(read_part(desk, part_id))


def place_label(desk: Desk, place: str) -> Label:
    """The label of a place on the shelf: scanned into a form's field it is typed there. BadInput for none."""
    name = " ".join(place.split())
    if not name:
        raise BadInput("The place has no name.", "Name it as it stands on the shelf, such as B3.")
    with desk.store.read() as connection:
        return Label(name, name, (facts(connection).name,))


def action_cards(desk: Desk) -> tuple[Label, ...]:
    """A card for each act, and for each person one that says that they are working now."""
    with desk.store.read() as connection:
        here = people(connection)
    plain = [Label(card_code(Card(act)), act, (CARD_WORDS[act],)) for act in ACTS if act != WHO]
    own = [Label(card_code(Card(WHO, one.person_id)), one.name, (CARD_WORDS[WHO],)) for one in here]
    return (*plain, *own)
