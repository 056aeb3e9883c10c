"""The people and firms traded with, from when a private person's data may go, and where their data stand."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date

from bench.desk import Desk
from bench.domain.amounts import Instant
from bench.domain.party import erase_from
from bench.domain.weeks import local_day
from bench.store.standing import IS_SOLD
from bench.views.binder import ALL, Query, shared
from bench.views.shop import facts, read_shop
from bench.views.trade import settings


@dataclass(frozen=True, slots=True)
class PartyKept:
    """Someone traded with. `bought`, `sold`: units bought from and sold to them.

    `last_on`: the last day of business with them, also of a unit bought from them being sold on.
    `in_stock`: a unit bought from them is still in the queue.
    """

    party_id: int
    name: str
    address: str
    contact: str
    identity_seen: str
    private: bool
    erased_us: Instant | None
    bought: int
    sold: int
    last_on: date | None
    in_stock: bool


@dataclass(frozen=True, slots=True)
class PartyLine(PartyKept):
    """The same, and from which day their data may go, `erase_on`.

    None for firms, for those erased already, and while a unit of theirs is in stock.
    """

    erase_on: date | None


@dataclass(frozen=True, slots=True)
class _Party(PartyKept):
    """Someone traded with, with the last business that has an instant, and when warranties end."""

    last_us: Instant | None
    warranty_until: date | None


# Days of business with each. A unit bought from someone keeps their line of the register open until it is
# sold on; a donor is not sold, so its purchase is the end of it.
_PARTIES = Query(
    _Party,
    """
WITH wanted AS MATERIALIZED (
    SELECT id FROM party WHERE removed = 0 OR erased_us IS NULL ORDER BY name COLLATE NOCASE, id LIMIT :most
),
bought(party_id, unit_id, bought_on, donor) AS (
    SELECT wanted.id, purchase.unit_id, COALESCE(purchase.bought_on, lot.bought_on), purchase.donor
    FROM wanted CROSS JOIN purchase ON purchase.party_id = wanted.id
    LEFT JOIN lot ON lot.id = purchase.lot_id AND lot.removed = 0
    UNION ALL
    SELECT wanted.id, purchase.unit_id, COALESCE(purchase.bought_on, lot.bought_on), purchase.donor
    FROM wanted CROSS JOIN lot ON lot.party_id = wanted.id AND lot.removed = 0
    CROSS JOIN purchase ON purchase.lot_id = lot.id AND purchase.party_id IS NULL
),
source(unit_id, party_id, bought_on, added_us, in_stock) AS MATERIALIZED (
    SELECT unit.id, bought.party_id, bought.bought_on, unit.added_us,
           stage.final = 0 AND bought.donor = 0 AND NOT {is_sold}
    FROM bought CROSS JOIN unit ON unit.id = bought.unit_id AND unit.removed = 0
    JOIN stage ON stage.id = unit.stage_id
),
business(party_id, day, at_us, bought, sold, in_stock, warranty_until) AS (
    SELECT party_id, bought_on, added_us, 1, 0, in_stock, NULL FROM source
    UNION ALL
    SELECT source.party_id, sale.sold_on, NULL, 0, 0, 0, NULL
    FROM source CROSS JOIN sale ON sale.unit_id = source.unit_id AND sale.removed = 0
    UNION ALL
    SELECT sale.party_id, sale.sold_on, NULL, 0, 1, stage.final = 0 AND {is_sold}, sale.warranty_until
    FROM wanted CROSS JOIN sale ON sale.party_id = wanted.id AND sale.removed = 0
    CROSS JOIN unit ON unit.id = sale.unit_id AND unit.removed = 0 JOIN stage ON stage.id = unit.stage_id
    UNION ALL
    SELECT party_id, bought_on, NULL, 0, 0, 0, NULL
    FROM wanted CROSS JOIN lot ON lot.party_id = wanted.id WHERE removed = 0
    UNION ALL
    SELECT unit.owner_id, NULL, MAX(unit.added_us, unit.stage_since_us), 0, 0, stage.final = 0, NULL
    FROM wanted CROSS JOIN unit ON unit.owner_id = wanted.id AND unit.removed = 0
    JOIN stage ON stage.id = unit.stage_id
    UNION ALL
    SELECT unit.owner_id, repair_job.collected_on, NULL, 0, 0, 0,
           date(repair_job.collected_on, '+' || COALESCE(repair_job.warranty_days, 0) || ' days')
    FROM wanted CROSS JOIN unit ON unit.owner_id = wanted.id AND unit.removed = 0
    CROSS JOIN repair_job ON repair_job.unit_id = unit.id
    WHERE repair_job.removed = 0 AND repair_job.collected_on IS NOT NULL
    UNION ALL
    SELECT party_id, NULL, at_us, 0, 0, 0, NULL
    FROM wanted CROSS JOIN offer ON offer.party_id = wanted.id WHERE removed = 0
    UNION ALL
    SELECT id, NULL, NULL, 0, 0, 0, NULL FROM wanted
),
-- Summed before the names are joined: party by party, every line of business would be gone through again.
standing(party_id, bought, sold, last_on, last_us, in_stock, warranty_until) AS (
    SELECT party_id, SUM(bought), SUM(sold), MAX(day), MAX(at_us) FILTER (WHERE day IS NULL), MAX(in_stock),
           MAX(warranty_until)
    FROM business GROUP BY party_id
)
SELECT party.id AS party_id, party.name, party.address, party.contact, party.identity_seen, party.private,
       party.erased_us, bought, sold, last_on, last_us, in_stock, warranty_until
FROM standing CROSS JOIN party ON party.id = standing.party_id
ORDER BY party.name COLLATE NOCASE, party.id
""".replace("{is_sold}", IS_SOLD),
)

_TEXT_COLUMNS = """
SELECT name FROM pragma_table_xinfo(?) WHERE type = 'TEXT' ORDER BY cid
"""


def read_parties(desk: Desk, *, most: int | None = None) -> tuple[PartyLine, ...]:
    """Everyone traded with, or the first so many, by name; and from when private people's data may go."""
    with desk.store.read() as connection:
        zone, years = facts(connection).zone, settings(connection).keep_private_years
        today = local_day(desk.clock.now_us(), zone)
        parties = _PARTIES.each(connection, most=ALL if most is None else most)
        return tuple(_line(party, zone, years, today) for party in parties)


def due_for_erasing(desk: Desk) -> tuple[PartyLine, ...]:
    """Private people whose data the shop need not keep any longer, the longest due first."""
    today = local_day(desk.clock.now_us(), read_shop(desk).zone)
    due = [line for line in read_parties(desk) if line.erase_on is not None and line.erase_on <= today]
    return tuple(sorted(due, key=lambda line: (line.erase_on, line.party_id)))


def where_words_stand(
    connection: sqlite3.Connection, tables: Iterable[str], words: Iterable[str]
) -> tuple[str, ...]:
    """Each column in which one of the words occurs, with how often, such as unit note (2)."""
    sought = tuple(words)
    found = []
    for table in tables:
        for (column,) in connection.execute(_TEXT_COLUMNS, (table,)):
            rows = _count(connection, table, column, sought)
            if rows:
                found.append(f"{table.replace('_', ' ')} {column.replace('_', ' ')} ({rows})")
    return tuple(found)


def _line(party: _Party, zone: str, years: int, today: date) -> PartyLine:
    days = [party.last_on] if party.last_on is not None else []
    if party.last_us is not None:
        days.append(local_day(party.last_us, zone))
    last_on = max(days, default=None)
    stays = not party.private or party.erased_us is not None or party.in_stock
    return PartyLine(
        **shared(PartyKept, replace(party, last_on=last_on)),
        erase_on=None if stays else erase_from(last_on, years, party.warranty_until, today),
    )


def _count(connection: sqlite3.Connection, table: str, column: str, words: tuple[str, ...]) -> int:
    # Names come from the file's own list of tables; they are quoted all the same.
    names = {"{table}": table.replace('"', '""'), "{column}": column.replace('"', '""')}
    either = " OR ".join(['instr("{column}", ?)'] * len(words)) or "FALSE"
    text = 'SELECT COUNT(*) FROM "{table}" WHERE {either}'.replace("{either}", either)
    for name, value in names.items():
        text = text.replace(name, value)
    return int(connection.execute(text, words).fetchone()[0])
