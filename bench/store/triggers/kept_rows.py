"""Rows that tell what was: never changed, never deleted. A correction is another row."""

from __future__ import annotations

# What never changes, the columns that do not where others may, and what is said of it.
_NEVER_CHANGED = (
    ("journal", "", "the journal is never changed"),
    ("journal_row", "", "the journal is never changed"),
    ("movement", "", "a movement of stock is never changed"),
    ("booking_key", "", "a booking key is never changed"),
    (
        "stage_move",
        " OF id, unit_id, from_stage_id, from_since_us, to_stage_id, at_us, person_id",
        "a move between stages is never changed",
    ),
)

_STAYS = """CREATE TRIGGER {table}_stays BEFORE UPDATE{columns} ON {table}
    BEGIN SELECT RAISE(ABORT, '{said}'); END"""
_IS_KEPT = """CREATE TRIGGER {table}_is_kept BEFORE DELETE ON {table}
    BEGIN SELECT RAISE(ABORT, '{said}'); END"""

# Which rows a line touched, so that what changed a row since is found in one step of an index.
_NAMES_ITS_ROWS = """CREATE TRIGGER journal_names_its_rows AFTER INSERT ON journal
    BEGIN
        INSERT INTO journal_row (table_name, row_id, journal_id)
        SELECT DISTINCT json_extract(change.value, '$.table'), json_extract(change.value, '$.id'), NEW.id
        FROM json_each(NEW.changes) AS change;
    END"""

TRIGGERS = (
    *(_STAYS.format(table=table, columns=columns, said=said) for table, columns, said in _NEVER_CHANGED),
    *(
        _IS_KEPT.format(table=table, said=said.replace("changed", "deleted"))
        for table, _, said in _NEVER_CHANGED
    ),
    _NAMES_ITS_ROWS,
)
