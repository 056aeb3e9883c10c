"""Indexes and triggers of the first revision: what is found fast, and rules that no program may break."""

INDEXES = (
    "CREATE UNIQUE INDEX uq_consumable_name ON consumable (name) WHERE removed = 0",
    "CREATE UNIQUE INDEX uq_person_name ON person (name) WHERE removed = 0",
    "CREATE UNIQUE INDEX uq_route_name ON route (name) WHERE removed = 0",
    "CREATE UNIQUE INDEX uq_stage_name ON stage (name) WHERE removed = 0",
    "CREATE INDEX ix_journal_person_id ON journal (person_id)",
    "CREATE INDEX ix_journal_unit_id ON journal (unit_id)",
    "CREATE UNIQUE INDEX uq_journal_takes_back_id ON journal (takes_back_id)",
    "CREATE INDEX ix_route_task_route_id ON route_task (route_id)",
    "CREATE INDEX ix_unit_stage_id ON unit (stage_id, removed)",
    "CREATE UNIQUE INDEX uq_unit_tag ON unit (tag) WHERE removed = 0",
    "CREATE INDEX ix_task_ended_us ON task (ended_us)",
    "CREATE INDEX ix_task_unit_id ON task (unit_id, state)",
    "CREATE INDEX ix_movement_consumable_id ON movement (consumable_id, at_us, quantity)",
    "CREATE INDEX ix_movement_layer_id ON movement (layer_id)",
    "CREATE INDEX ix_movement_task_id ON movement (task_id)",
    "CREATE UNIQUE INDEX uq_movement_reverses_id ON movement (reverses_id)",
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
    "CREATE INDEX ix_correction_time_entry_id ON correction (time_entry_id)",
)

_LATEST = 9223372036854775807

# A person's attended entries never overlap, so the one that started last before the new one ends
# also ends last: one step down the index is enough.
_OVERLAP = """CREATE TRIGGER time_entry_overlap_{when} BEFORE {when} ON time_entry
    WHEN NEW.attended = 1 AND (
        SELECT COALESCE(other.stopped_us, {latest}) FROM time_entry AS other
        WHERE other.person_id = NEW.person_id AND other.attended = 1 AND other.id IS NOT NEW.id
        AND other.started_us < COALESCE(NEW.stopped_us, {latest})
        ORDER BY other.started_us DESC, COALESCE(other.stopped_us, {latest}) DESC LIMIT 1
    ) > NEW.started_us
    BEGIN SELECT RAISE(ABORT, 'one person has one attended task at a time'); END"""

RULES = (
    """CREATE TRIGGER movement_stays BEFORE UPDATE ON movement
    BEGIN SELECT RAISE(ABORT, 'a movement of stock is never changed'); END""",
    """CREATE TRIGGER movement_is_kept BEFORE DELETE ON movement
    BEGIN SELECT RAISE(ABORT, 'a movement of stock is never deleted'); END""",
    """CREATE TRIGGER movement_own_layer BEFORE INSERT ON movement
    WHEN NEW.layer_id IS NOT NULL AND NOT EXISTS (
        SELECT 1 FROM movement
        WHERE id = NEW.layer_id AND layer_id IS NULL AND consumable_id = NEW.consumable_id
    )
    BEGIN SELECT RAISE(ABORT, 'stock is drawn from a receipt of the same consumable'); END""",
    """CREATE TRIGGER movement_not_below_zero AFTER INSERT ON movement
    WHEN NEW.layer_id IS NOT NULL AND (
        SELECT SUM(quantity) FROM movement WHERE id = NEW.layer_id OR layer_id = NEW.layer_id
    ) < 0
    BEGIN SELECT RAISE(ABORT, 'stock never goes below zero'); END""",
    """CREATE TRIGGER journal_stays BEFORE UPDATE ON journal
    BEGIN SELECT RAISE(ABORT, 'the journal is never changed'); END""",
    """CREATE TRIGGER journal_is_kept BEFORE DELETE ON journal
    BEGIN SELECT RAISE(ABORT, 'the journal is never deleted'); END""",
    _OVERLAP.format(when="INSERT", latest=_LATEST),
    _OVERLAP.format(when="UPDATE", latest=_LATEST),
)
