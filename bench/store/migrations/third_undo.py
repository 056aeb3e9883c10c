"""Row numbers that are never given twice, and which rows each line of the journal touched.

The tables made anew are those whose rows can be deleted: a row that comes back by undo finds its number free.
They are made anew with AUTOINCREMENT, all else as it was, before any other subject adds to them.
"""

# Which rows a line of the journal touched, found by row: what changed a row since, in one step of an index.
_JOURNAL_ROWS = (
    """CREATE TABLE journal_row (
        table_name TEXT NOT NULL,
        row_id INTEGER NOT NULL,
        journal_id INTEGER NOT NULL,
        CONSTRAINT pk_journal_row PRIMARY KEY (table_name, row_id, journal_id),
        CONSTRAINT fk_journal_row_journal_id_journal FOREIGN KEY(journal_id) REFERENCES journal (id)
    ) STRICT, WITHOUT ROWID""",
    """INSERT INTO journal_row (table_name, row_id, journal_id)
    SELECT DISTINCT json_extract(change.value, '$.table'), json_extract(change.value, '$.id'), line.id
    FROM journal AS line, json_each(line.changes) AS change""",
    """CREATE TRIGGER journal_names_its_rows AFTER INSERT ON journal
    BEGIN
        INSERT INTO journal_row (table_name, row_id, journal_id)
        SELECT DISTINCT json_extract(change.value, '$.table'), json_extract(change.value, '$.id'), NEW.id
        FROM json_each(NEW.changes) AS change;
    END""",
    """CREATE TRIGGER journal_row_stays BEFORE UPDATE ON journal_row
    BEGIN SELECT RAISE(ABORT, 'the journal is never changed'); END""",
    """CREATE TRIGGER journal_row_is_kept BEFORE DELETE ON journal_row
    BEGIN SELECT RAISE(ABORT, 'the journal is never deleted'); END""",
)

_TABLES = {
    "correction": """
        time_entry_id INTEGER NOT NULL,
        person_id INTEGER NOT NULL,
        at_us INTEGER NOT NULL,
        old_started_us INTEGER NOT NULL,
        old_stopped_us INTEGER,
        new_started_us INTEGER NOT NULL,
        new_stopped_us INTEGER,
        reason TEXT NOT NULL,
        CONSTRAINT fk_correction_person_id_person FOREIGN KEY(person_id) REFERENCES person (id),
        CONSTRAINT fk_correction_time_entry_id_time_entry
            FOREIGN KEY(time_entry_id) REFERENCES time_entry (id)""",
    "purchase": """
        unit_id INTEGER NOT NULL,
        lot_id INTEGER,
        party_id INTEGER,
        bought_on TEXT,
        invoice TEXT NOT NULL,
        expected_minor INTEGER,
        donor INTEGER NOT NULL,
        CONSTRAINT ck_purchase_donor CHECK (donor IN (0, 1)),
        CONSTRAINT ck_purchase_expected CHECK (expected_minor IS NULL OR expected_minor >= 0),
        CONSTRAINT fk_purchase_lot_id_lot FOREIGN KEY(lot_id) REFERENCES lot (id),
        CONSTRAINT fk_purchase_party_id_party FOREIGN KEY(party_id) REFERENCES party (id),
        CONSTRAINT fk_purchase_unit_id_unit FOREIGN KEY(unit_id) REFERENCES unit (id)""",
    "route_use": """
        route_task_id INTEGER NOT NULL,
        consumable_id INTEGER NOT NULL,
        quantity INTEGER NOT NULL,
        CONSTRAINT ck_route_use_quantity CHECK (quantity > 0),
        CONSTRAINT fk_route_use_consumable_id_consumable
            FOREIGN KEY(consumable_id) REFERENCES consumable (id),
        CONSTRAINT fk_route_use_route_task_id_route_task
            FOREIGN KEY(route_task_id) REFERENCES route_task (id),
        CONSTRAINT uq_route_use_route_task_id_consumable_id UNIQUE (route_task_id, consumable_id)""",
    "safety_check": """
        unit_id INTEGER NOT NULL,
        lid_count INTEGER NOT NULL,
        list TEXT NOT NULL,
        item TEXT NOT NULL,
        person_id INTEGER NOT NULL,
        at_us INTEGER NOT NULL,
        screws INTEGER,
        note TEXT NOT NULL,
        reason TEXT,
        CONSTRAINT ck_safety_check_without CHECK ((item = 'without') = (reason IS NOT NULL)),
        CONSTRAINT ck_safety_check_list CHECK (list IN ('opening', 'close_up')),
        CONSTRAINT fk_safety_check_person_id_person FOREIGN KEY(person_id) REFERENCES person (id),
        CONSTRAINT fk_safety_check_unit_id_unit FOREIGN KEY(unit_id) REFERENCES unit (id),
        CONSTRAINT uq_safety_check_unit_id_lid_count_list_item UNIQUE (unit_id, lid_count, list, item)""",
    "task_use": """
        task_id INTEGER NOT NULL,
        consumable_id INTEGER NOT NULL,
        quantity INTEGER NOT NULL,
        CONSTRAINT ck_task_use_quantity CHECK (quantity > 0),
        CONSTRAINT fk_task_use_consumable_id_consumable
            FOREIGN KEY(consumable_id) REFERENCES consumable (id),
        CONSTRAINT fk_task_use_task_id_task FOREIGN KEY(task_id) REFERENCES task (id),
        CONSTRAINT uq_task_use_task_id_consumable_id UNIQUE (task_id, consumable_id)""",
    "time_entry": """
        task_id INTEGER NOT NULL,
        person_id INTEGER NOT NULL,
        started_us INTEGER NOT NULL,
        stopped_us INTEGER,
        attended INTEGER NOT NULL,
        note TEXT NOT NULL,
        kept_us INTEGER,
        CONSTRAINT ck_time_entry_attended CHECK (attended IN (0, 1)),
        CONSTRAINT ck_time_entry_length CHECK (stopped_us IS NULL OR stopped_us >= started_us),
        CONSTRAINT fk_time_entry_person_id_person FOREIGN KEY(person_id) REFERENCES person (id),
        CONSTRAINT fk_time_entry_task_id_task FOREIGN KEY(task_id) REFERENCES task (id)""",
}

_INDEXES = (
    "CREATE INDEX ix_correction_time_entry_id ON correction (time_entry_id)",
    "CREATE INDEX ix_purchase_lot_id ON purchase (lot_id)",
    "CREATE UNIQUE INDEX uq_purchase_unit_id ON purchase (unit_id)",
    """CREATE INDEX ix_time_entry_long ON time_entry (stopped_us, started_us)
    WHERE stopped_us - started_us > 86400000000""",
    "CREATE INDEX ix_time_entry_open ON time_entry (task_id) WHERE stopped_us IS NULL",
    "CREATE INDEX ix_time_entry_person_id ON time_entry (person_id, attended, started_us)",
    """CREATE INDEX ix_time_entry_started_us ON time_entry
    (started_us, stopped_us, attended, task_id, person_id)""",
    "CREATE INDEX ix_time_entry_task_id ON time_entry (task_id, attended, started_us, stopped_us)",
    """CREATE UNIQUE INDEX uq_time_entry_open_attended ON time_entry (person_id)
    WHERE stopped_us IS NULL AND attended = 1""",
    """CREATE UNIQUE INDEX uq_time_entry_open_unattended ON time_entry (task_id)
    WHERE stopped_us IS NULL AND attended = 0""",
)

# A person's attended entries never overlap, so the one that started last before the new one ends also ends
# last: one step down the index is enough.
_OVERLAP = """CREATE TRIGGER time_entry_overlap_{when} BEFORE {when} ON time_entry
    WHEN NEW.attended = 1 AND (
        SELECT COALESCE(other.stopped_us, 9223372036854775807) FROM time_entry AS other
        WHERE other.person_id = NEW.person_id AND other.attended = 1 AND other.id IS NOT NEW.id
        AND other.started_us < COALESCE(NEW.stopped_us, 9223372036854775807)
        ORDER BY other.started_us DESC, COALESCE(other.stopped_us, 9223372036854775807) DESC LIMIT 1
    ) > NEW.started_us
    BEGIN SELECT RAISE(ABORT, 'one person has one attended task at a time'); END"""


def _anew(table: str, columns: str) -> tuple[str, ...]:
    """Make a table anew with numbers that only go on, beyond every one that the journal knows of."""
    return (
        f"CREATE TABLE anew_{table} (id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT, {columns}) STRICT",
        f"INSERT INTO anew_{table} SELECT * FROM {table} ORDER BY id",  # noqa: S608 - a table of ours
        f"DROP TABLE {table}",
        f"ALTER TABLE anew_{table} RENAME TO {table}",
        f"DELETE FROM sqlite_sequence WHERE name = '{table}'",  # noqa: S608
        f"""INSERT INTO sqlite_sequence (name, seq) SELECT '{table}', MAX(
            (SELECT COALESCE(MAX(id), 0) FROM {table}),
            (SELECT COALESCE(MAX(row_id), 0) FROM journal_row WHERE table_name = '{table}'))""",  # noqa: S608
    )


STATEMENTS = (
    *_JOURNAL_ROWS,
    *(statement for table, columns in _TABLES.items() for statement in _anew(table, columns)),
    *_INDEXES,
    *(_OVERLAP.format(when=when) for when in ("INSERT", "UPDATE")),
)
