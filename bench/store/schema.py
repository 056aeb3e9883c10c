"""What a data file is made of: tables and indexes of the classes, triggers, the rows it begins with."""

from __future__ import annotations

from sqlalchemy import Column, MetaData, PrimaryKeyConstraint, String, Table, insert
from sqlalchemy.engine import Connection

from bench.store.revision import HEAD
from bench.store.tables import metadata
from bench.store.triggers import TRIGGERS

ROWS = (
    """INSERT INTO trade (id, margin_scheme, margin_tax_per_10000, hold_days, keep_private_years,
    risk_reserve_per_10000, wanted_margin_minor, warranty_days, loss_chance_per_10000,
    repair_tax_per_10000, quote_days, repair_warranty_days, uncollected_days,
    listing_template, listing_shipping)
    VALUES (1, 0, 2000, 0, 6, 1000, 0, 365, 2000, 0, 14, 0, 90, '', '')""",
    """INSERT INTO channel (name, fee_per_10000, fee_fixed_minor, removed)
    VALUES ('over the counter', 0, 0, 0)""",
    """INSERT INTO grade_step (side, position, name, meaning, removed) VALUES
    ('function', 1, 'all works', 'Everything that was tested did what it should.', 0),
    ('function', 2, 'works, with limits', 'Usable; the limit is stated in a sentence.', 0),
    ('function', 3, 'does not work', 'Does not do its job; for repair or parts.', 0),
    ('looks', 1, 'no visible wear', 'No mark to be seen at arm''s length.', 0),
    ('looks', 2, 'light wear', 'Fine marks, counted and stated.', 0),
    ('looks', 3, 'clear wear', 'Marks, dents or worn print that anyone would see.', 0),
    ('looks', 4, 'damaged', 'Cracked, broken or missing; stated in a sentence.', 0)""",
    # Which file this is and which of its states: what `bench/store/marks.py` goes by.
    """INSERT INTO file_identity (id, identity, mark, previous) VALUES
    (1, 'bench-file:' || lower(hex(randomblob(16))), lower(hex(randomblob(8))), '0000000000000000')""",
)


# As Alembic makes it, which is loaded only where a file is older.
REVISION = Table(
    "alembic_version",
    MetaData(),
    Column("version_num", String(32), nullable=False),
    PrimaryKeyConstraint("version_num", name="alembic_version_pkc"),
)


def make_schema(connection: Connection) -> None:
    """Make all of it in an empty file."""
    metadata.create_all(connection, checkfirst=False)
    REVISION.create(connection)
    connection.execute(insert(REVISION).values(version_num=HEAD))
    for statement in (*TRIGGERS, *ROWS):
        connection.exec_driver_sql(statement)
