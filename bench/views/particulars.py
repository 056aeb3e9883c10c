"""A unit's own row, with the names of what it refers to: what every read of one unit begins with."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from datetime import date

from bench.desk import Desk
from bench.domain.amounts import Instant, Minor
from bench.domain.holding import Condition, condition_of
from bench.domain.tags import read_tag
from bench.domain.typed import read_field
from bench.errors import NotFound
from bench.views.binder import Query, value
from bench.views.standing import WORKED_INSIDE


@dataclass(frozen=True, slots=True)
class UnitKept:
    """What is kept of a unit itself. Money in minor units of the shop's currency.

    `owner`: whose it is, where it was brought in for repair; empty for the shop's own.
    """

    unit_id: int
    tag: str
    maker: str
    model: str
    serial: str
    note: str
    route_id: int | None
    route: str
    stage_id: int
    stage: str
    stage_since_us: Instant
    added_us: Instant
    due_on: date | None
    price_minor: Minor | None
    held: str | None
    held_us: Instant | None
    currency: str
    zone: str
    owner: str
    owner_contact: str

    @property
    def name(self) -> str:
        """Maker and model in one line."""
        return f"{self.maker} {self.model}".strip()


@dataclass(frozen=True, slots=True)
class Particulars(UnitKept):
    """The same with its cover. `lid_off`: the cover is off; `worked_inside`: work inside has begun.

    `opened_us`, `back_us`: when the cover last came off, and when it last came back from outside the shop.
    """

    lid_off: bool
    opened_us: Instant | None
    back_us: Instant | None
    cell_finding: str | None
    screws_out: int | None
    worked_inside: bool

    @property
    def condition(self) -> Condition:
        """The condition it is in, for which findings hold."""
        return condition_of(self.opened_us, self.back_us)


_UNIT = Query(
    Particulars,
    """
SELECT unit.id AS unit_id, unit.tag, unit.maker, unit.model, unit.serial, unit.note, unit.route_id,
       COALESCE(route.name, '') AS route, unit.stage_id, stage.name AS stage, unit.stage_since_us,
       unit.added_us, unit.due_on, unit.price_minor, unit.held_reason AS held, unit.held_us,
       shop.currency, shop.zone, COALESCE(owner.name, '') AS owner,
       COALESCE(owner.contact, '') AS owner_contact, unit.lid_off, unit.opened_us, unit.back_us,
       unit.cell_finding, unit.screws_out, {worked_inside} AS worked_inside
FROM unit JOIN stage ON stage.id = unit.stage_id LEFT JOIN route ON route.id = unit.route_id
LEFT JOIN party AS owner ON owner.id = unit.owner_id CROSS JOIN shop
WHERE unit.id = :unit_id AND unit.removed = 0
""".replace("{worked_inside}", WORKED_INSIDE),
)

_OF_TAG = "SELECT id FROM unit WHERE tag = :tag AND removed = 0"
_OF_TASK = "SELECT unit_id FROM task WHERE id = :task_id AND removed = 0"


def particulars(connection: sqlite3.Connection, unit_id: int) -> Particulars:
    """The unit with that number. NotFound when there is no such unit."""
    unit = _UNIT.first(connection, unit_id=unit_id)
    if unit is None:
        raise no_such_unit(unit_id)
    return unit


def no_such_unit(unit_id: int) -> NotFound:
    """What is raised where no unit has that number."""
    return NotFound(f"There is no unit with number {unit_id}.", "It may have been undone.")


def unit_by_tag(desk: Desk, tag_text: str) -> int:
    """The number of the unit whose tag was typed or scanned.

    BadInput for a wrong check digit, NotFound for a tag that no unit bears.
    """
    tag = read_field("tag_text", read_tag, tag_text)
    with desk.store.read() as connection:
        unit_id: int | None = value(connection, _OF_TAG, tag=tag)
    if unit_id is None:
        raise NotFound(
            f"No unit bears the tag {tag}.", "Look at the sticker, or add the unit.", field="tag_text"
        )
    return unit_id


def unit_of_task(desk: Desk, task_id: int) -> int:
    """The number of the unit a task belongs to. NotFound when there is no such task."""
    with desk.store.read() as connection:
        unit_id: int | None = value(connection, _OF_TASK, task_id=task_id)
    if unit_id is None:
        raise NotFound(
            f"There is no task with number {task_id}.", "Look it up again; it may have been removed."
        )
    return unit_id
