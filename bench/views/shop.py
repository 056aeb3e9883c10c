"""SQL texts behind the shop's settings, its people and stages, and half-filled forms."""

from __future__ import annotations

import json
import sqlite3

from bench.domain.people import PersonLine
from bench.domain.queue import ShopFacts
from bench.domain.stages import StageLine

_FACTS = """
SELECT name, currency, zone, rate_minor_per_hour, forgotten_times, forgotten_least_minutes FROM shop
"""

_PEOPLE = "SELECT id, name FROM person WHERE removed = 0 ORDER BY id"

_STAGES = """
SELECT stage.id, stage.position, stage.name, stage.lid_off, stage.final, stage.lists, stage.sells,
       (SELECT COUNT(*) FROM unit WHERE unit.stage_id = stage.id AND unit.removed = 0)
FROM stage WHERE stage.removed = 0 ORDER BY stage.position, stage.id
"""


def facts(connection: sqlite3.Connection) -> ShopFacts:
    """The shop's settings."""
    return ShopFacts(*connection.execute(_FACTS).fetchone())


def people(connection: sqlite3.Connection) -> tuple[PersonLine, ...]:
    """The people at the bench, in the order in which they came."""
    return tuple(PersonLine(*row) for row in connection.execute(_PEOPLE))


def stages(connection: sqlite3.Connection) -> tuple[StageLine, ...]:
    """The stages as units pass them, and how many units stand at each."""
    return tuple(
        StageLine(stage_id, position, name, bool(lid_off), bool(final), units, bool(lists), bool(sells))
        for stage_id, position, name, lid_off, final, lists, sells, units in connection.execute(_STAGES)
    )


def draft(connection: sqlite3.Connection, form: str) -> dict[str, str]:
    """What was typed into a form that was never sent; nothing when there is no such draft."""
    row = connection.execute("SELECT body FROM draft WHERE form = ?", (form,)).fetchone()
    return {str(field): str(typed) for field, typed in json.loads(row[0]).items()} if row else {}
