"""The shop: its settings, people and stages, and forms left half-filled. Light: the first paint reads it."""

from __future__ import annotations

import json
import sqlite3
from dataclasses import dataclass

from bench.desk import Desk
from bench.domain.text import quoted
from bench.errors import NotFound
from bench.store.engine import Store
from bench.views.binder import Query, value


@dataclass(frozen=True, slots=True)
class ShopFacts:
    """The shop's settings that a screen needs to show anything."""

    name: str
    currency: str
    zone: str
    rate_minor_per_hour: int
    forgotten_times: int
    forgotten_least_minutes: int


@dataclass(frozen=True, slots=True)
class PersonLine:
    """Someone who works at the bench."""

    person_id: int
    name: str


@dataclass(frozen=True, slots=True)
class StageLine:
    """A stage as the shop has it now, and how many units stand there.

    `lists`: units are offered for sale from there on. `sells`: units that leave there are sold.
    """

    stage_id: int
    position: int
    name: str
    lid_off: bool
    final: bool
    units: int
    lists: bool = False
    sells: bool = False


_FACTS = Query(
    ShopFacts,
    "SELECT name, currency, zone, rate_minor_per_hour, forgotten_times, forgotten_least_minutes FROM shop",
)

_PEOPLE = Query(PersonLine, "SELECT id AS person_id, name FROM person WHERE removed = 0 ORDER BY id")

_STAGES = Query(
    StageLine,
    """
SELECT stage.id AS stage_id, stage.position, stage.name, stage.lid_off, stage.final,
       COALESCE(stage_count.units, 0) AS units, stage.lists, stage.sells
FROM stage LEFT JOIN stage_count ON stage_count.stage_id = stage.id WHERE stage.removed = 0
ORDER BY stage.position, stage.id
""",
)

_UNTOUCHED = "SELECT NOT EXISTS (SELECT 1 FROM journal)"

_DEMO = "SELECT via = 'demo' FROM journal WHERE id = 1"

_DRAFT = "SELECT body FROM draft WHERE form = :form"


def read_shop(desk: Desk) -> ShopFacts:
    """The settings as they stand."""
    with desk.store.read() as connection:
        return facts(connection)


def read_people(desk: Desk) -> tuple[PersonLine, ...]:
    """Everyone who works at the bench, in the order in which they came."""
    with desk.store.read() as connection:
        return people(connection)


def person_named(store: Store, name: str) -> int:
    """The number of the person with this name, in whatever capitals; NotFound names those there are."""
    with store.read() as connection:
        there = people(connection)
    for person in there:
        if person.name.casefold() == name.strip().casefold():
            return person.person_id
    known = ", ".join(person.name for person in there)
    raise NotFound(f"Nobody here is named {quoted(name)}.", f"The people are: {known}.")


def read_stages(desk: Desk) -> tuple[StageLine, ...]:
    """The stages as units pass them, and how many units stand at each."""
    with desk.store.read() as connection:
        return stages(connection)


def read_untouched(desk: Desk) -> bool:
    """Whether nobody has done anything in the file yet."""
    with desk.store.read() as connection:
        return bool(value(connection, _UNTOUCHED))


def read_draft(desk: Desk, form: str) -> dict[str, str]:
    """What was typed into a form that was never sent, by field; nothing when there is none."""
    with desk.store.read() as connection:
        body = value(connection, _DRAFT, form=form)
    return {str(field): str(typed) for field, typed in json.loads(body or "{}").items()}


def facts(connection: sqlite3.Connection) -> ShopFacts:
    """The shop's settings, within a snapshot that other reads share."""
    return _FACTS.the(connection)


def is_demo(connection: sqlite3.Connection) -> bool:
    """Whether the file holds the made-up workshop: its journal begins with that."""
    return bool(value(connection, _DEMO))


def people(connection: sqlite3.Connection) -> tuple[PersonLine, ...]:
    """The people at the bench, in the order in which they came."""
    return _PEOPLE.all(connection)


def stages(connection: sqlite3.Connection) -> tuple[StageLine, ...]:
    """The stages, within a snapshot that other reads share."""
    return _STAGES.all(connection)
