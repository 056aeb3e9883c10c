"""What is found in a file after kills and races, and a small shop to begin with."""

from __future__ import annotations

from pathlib import Path

from bench.desk import Clock, Desk, SystemClock
from bench.store.engine import Store
from bench.work.check import check_file
from bench.work.files import open_existing, open_or_new
from bench.work.shop import add_person
from bench.work.stock import restock
from bench.work.units import add_unit

PEOPLE = ("Ada", "Bo", "Cy", "Di")


def make_shop(path: Path, clock: Clock | None = None) -> list[int]:
    """A file with four people, some stock and six units that came by that clock; answers their numbers."""
    store = open_or_new(path, person=PEOPLE[0], zone="Europe/Berlin")
    desk = Desk(store, clock or SystemClock(), 1, "command")
    for name in PEOPLE[1:]:
        add_person(desk, name)
    restock(desk, 1, quantity_text="500", price_text="50")
    routes = (5, 5, 1, 1, None, None)
    units = [add_unit(desk, maker="", model="M", route_id=one, price_text="100").unit_id for one in routes]
    store.close()
    return units


def wrong_in(path: Path) -> list[str]:
    """Everything that is not as it must be in a file, in sentences; none where all is well."""
    store = open_existing(path)
    try:
        found = check_file(store)
        said = (
            [] if (found.integrity, found.references) == ("ok", "ok") else [found.integrity, found.references]
        )
        said += [one.sentence() for one in found.record.differences]
        return [*said, *found.record.sums, *found.record.rules, *_numbers_used_twice(store)]
    finally:
        store.close()


_ADDED_TWICE = """
SELECT json_extract(change.value, '$.table') || ' ' || json_extract(change.value, '$.id') AS named
FROM journal AS line, json_each(line.changes) AS change
WHERE json_extract(change.value, '$.before') IS NULL AND line.takes_back_id IS NULL
GROUP BY named HAVING COUNT(*) > 1
"""


def _numbers_used_twice(store: Store) -> list[str]:
    with store.read() as connection:
        return [f"{row['named']} was given twice" for row in connection.execute(_ADDED_TWICE)]
