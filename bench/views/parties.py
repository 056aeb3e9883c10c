"""SQL texts behind the people and firms traded with, and where their data stand."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable

from bench.views.standing import IS_SOLD

# Days of business with each. A unit bought from someone keeps their line of the register open until it is
# sold on; a donor is not sold, so its purchase is the end of it.
_PARTIES = """
WITH source(unit_id, party_id, bought_on, added_us, in_stock) AS (
    SELECT unit.id, COALESCE(purchase.party_id, lot.party_id), COALESCE(purchase.bought_on, lot.bought_on),
           unit.added_us, stage.final = 0 AND purchase.donor = 0 AND NOT {is_sold}
    FROM purchase JOIN unit ON unit.id = purchase.unit_id AND unit.removed = 0
    JOIN stage ON stage.id = unit.stage_id LEFT JOIN lot ON lot.id = purchase.lot_id AND lot.removed = 0
),
business(party_id, day, at_us, bought, sold, in_stock, warranty_until) AS (
    SELECT party_id, bought_on, added_us, 1, 0, in_stock, NULL FROM source
    UNION ALL
    SELECT source.party_id, sale.sold_on, NULL, 0, 0, 0, NULL
    FROM source JOIN sale ON sale.unit_id = source.unit_id AND sale.removed = 0
    UNION ALL
    SELECT sale.party_id, sale.sold_on, NULL, 0, 1, stage.final = 0 AND {is_sold}, sale.warranty_until
    FROM sale JOIN unit ON unit.id = sale.unit_id AND unit.removed = 0 JOIN stage ON stage.id = unit.stage_id
    WHERE sale.removed = 0
    UNION ALL
    SELECT party_id, bought_on, NULL, 0, 0, 0, NULL FROM lot WHERE removed = 0
    UNION ALL
    SELECT unit.owner_id, NULL, MAX(unit.added_us, unit.stage_since_us), 0, 0, stage.final = 0, NULL
    FROM unit JOIN stage ON stage.id = unit.stage_id WHERE unit.owner_id IS NOT NULL AND unit.removed = 0
    UNION ALL
    SELECT party_id, NULL, at_us, 0, 0, 0, NULL FROM offer WHERE removed = 0
    UNION ALL
    SELECT id, NULL, NULL, 0, 0, 0, NULL FROM party
),
-- Summed before the names are joined: party by party, every line of business would be gone through again.
standing(party_id, bought, sold, last_on, last_us, in_stock, warranty_until) AS (
    SELECT party_id, SUM(bought), SUM(sold), MAX(day), MAX(at_us) FILTER (WHERE day IS NULL), MAX(in_stock),
           MAX(warranty_until)
    FROM business GROUP BY party_id
)
SELECT party.id AS party_id, party.name, party.address, party.contact, party.identity_seen, party.private,
       party.erased_us, party.removed, bought, sold, last_on, last_us, in_stock, warranty_until
FROM standing JOIN party ON party.id = standing.party_id
ORDER BY party.name COLLATE NOCASE, party.id
""".replace("{is_sold}", IS_SOLD)

_TEXT_COLUMNS = """
SELECT name FROM pragma_table_xinfo(?) WHERE type = 'TEXT' ORDER BY cid
"""


def parties(connection: sqlite3.Connection) -> list[sqlite3.Row]:
    """Everyone traded with, by name, with the last day of business in each way of telling it."""
    return connection.execute(_PARTIES).fetchall()


def keep_years(connection: sqlite3.Connection) -> int:
    """How many years a private person's data are kept."""
    return int(connection.execute("SELECT keep_private_years FROM trade").fetchone()[0])


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


def _count(connection: sqlite3.Connection, table: str, column: str, words: tuple[str, ...]) -> int:
    # Names come from the file's own list of tables; they are quoted all the same.
    names = {"{table}": table.replace('"', '""'), "{column}": column.replace('"', '""')}
    either = " OR ".join(['instr("{column}", ?)'] * len(words)) or "FALSE"
    text = 'SELECT COUNT(*) FROM "{table}" WHERE {either}'.replace("{either}", either)
    for name, value in names.items():
        text = text.replace(name, value)
    return int(connection.execute(text, words).fetchone()[0])
