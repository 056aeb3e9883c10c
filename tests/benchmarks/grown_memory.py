"""What a large shop remembers of each copied unit besides: photographs, a fault, tests, a part, its order.

Each takes its numbers from its unit's, far above those that were copied.
"""

from __future__ import annotations

import sqlite3

from bench.domain.forecast import DAY_US

OF_COPIES = 1_000_000  # units with a higher number are copies
NUMBERS = 1_000  # numbers kept for each such unit
RETURNS_ONE_IN = 20
# What has to be there, so that what is measured is a large shop's.
AT_LEAST = {"fault": 20_000, "test_run": 50_000, "part": 30_000, "photograph": 50_000}

PHOTOGRAPHS = f"""
INSERT INTO photograph (id, unit_id, folder, name, sha256, size_bytes, kind, kept_us, person_id, shown,
                        removed)
SELECT unit.id * {NUMBERS} + each.value, unit.id, unit.tag, each.value || '.jpg',
       printf('%064x', unit.id * {NUMBERS} + each.value), 2000000, 'jpeg', unit.added_us, 1, each.value = 1, 0
FROM unit, json_each('[1, 2, 3]') AS each WHERE unit.id > {OF_COPIES}
"""
CAPTIONS = f"""
INSERT INTO photograph_caption (photograph_id, caption, removed)
SELECT id, 'The lid, photograph ' || id, 0 FROM photograph WHERE id > {OF_COPIES}
"""
FAULTS = f"""
INSERT INTO fault (id, unit_id, symptom, place, found_us, person_id, origin, suspected, cause, state, done,
                   closed_us, closed_by_id, removed)
SELECT id * {NUMBERS}, id, 'fan rattles at step ' || (id % 7), 'fan', added_us + {DAY_US}, 1, 'before', '',
       'worn', 'cured', 'fan replaced', added_us + 2 * {DAY_US}, 1, 0
FROM unit WHERE id > {OF_COPIES}
"""
SHOWS_IT = f"""
UPDATE photograph SET fault_id = unit_id * {NUMBERS}
WHERE id = unit_id * {NUMBERS} + 2 AND unit_id > {OF_COPIES}
"""
TESTS = f"""
INSERT INTO test_run (id, unit_id, kind, outcome, ran_us, figures, note, at_us, person_id, removed)
SELECT unit.id * {NUMBERS} + each.key, unit.id, each.value, 'passed', 600000000, '{{}}', '',
       unit.added_us + 2 * {DAY_US}, 1, 0
FROM unit, json_each('["keyboard", "ports"]') AS each WHERE unit.id > {OF_COPIES}
"""
COMPONENTS = f"""
INSERT INTO component (id, name, maker_number, serial, place, gone, note, price_minor, removed)
SELECT id * {NUMBERS}, 'fan', '', '', '', '', '', 0, 0 FROM unit WHERE id > {OF_COPIES}
"""
PARTS = f"""
INSERT INTO part (id, name, serial, to_unit_id, cost_minor, at_us, person_id, supplier, note, component_id,
                  fault_id, removed)
SELECT id * {NUMBERS}, 'fan', '', id, 500, added_us + {DAY_US}, 1, 'Supplier ' || (id % 9), '',
       id * {NUMBERS}, id * {NUMBERS}, 0
FROM unit WHERE id > {OF_COPIES}
"""
ORDERS = f"""
INSERT INTO parts_order (id, what, maker_number, unit_id, supplier, price_minor, freight_minor, state,
                         wanted_us, ordered_on, due_on, arrived_on, found, owed_minor, refund_minor,
                         component_id, note, removed)
SELECT id * {NUMBERS}, 'fan', '', id, 'Supplier ' || (id % 9), 500, 0, 'arrived', added_us,
       date(added_us / 1000000, 'unixepoch'), date(added_us / 1000000, 'unixepoch', '3 days'),
       date(added_us / 1000000, 'unixepoch', (2 + id % 3) || ' days'), '', 0, 0, id * {NUMBERS}, '', 0
FROM unit WHERE id > {OF_COPIES}
"""
# Refunds of a part of the price: the sale stands.
RETURNS = f"""
INSERT INTO comeback (id, sale_id, at_us, person_id, reason, refund_minor, removed, undoes, fee_back_minor,
                      postage_minor)
SELECT id, id, sold_us + 2 * {DAY_US}, 1, 'fan rattles', 2000, 0, 0, 0, 900
FROM sale WHERE id > {OF_COPIES} AND (id / {OF_COPIES} + id % {OF_COPIES}) % {RETURNS_ONE_IN} = 0
"""
ALL = (PHOTOGRAPHS, CAPTIONS, FAULTS, SHOWS_IT, TESTS, COMPONENTS, PARTS, ORDERS, RETURNS)


def remember(connection: sqlite3.Connection) -> None:
    """Add all of it. No photograph has a file; none is missed."""
    for text in ALL:
        connection.execute(text)


def require_large(connection: sqlite3.Connection) -> None:
    """Fail where fewer rows are there than a large shop has."""
    for table, least in AT_LEAST.items():
        [count] = connection.execute(f"SELECT COUNT(*) FROM {table}").fetchone()
        assert count >= least, f"{count} rows of {table}, of {least} that were to be there"
