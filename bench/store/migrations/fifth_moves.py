"""Moves between stages as rows of their own, told until now by the journal's changes alone."""

# A unit changes its stage along a move that stands, forward when it is made, back when it is undone.
_ALONG = """EXISTS (
        SELECT 1 FROM stage_move AS move WHERE move.unit_id = NEW.id AND move.removed = 0
        AND (move.from_stage_id, move.from_since_us, move.to_stage_id, move.at_us) IN (
            (OLD.stage_id, OLD.stage_since_us, NEW.stage_id, NEW.stage_since_us),
            (NEW.stage_id, NEW.stage_since_us, OLD.stage_id, OLD.stage_since_us)))"""

# Where a unit stands, or where its last move led: the same but while a story is told from its end.
_BEGINS = """NOT EXISTS (
        SELECT 1 FROM unit WHERE unit.id = NEW.unit_id
        AND unit.stage_id = NEW.from_stage_id AND unit.stage_since_us = NEW.from_since_us)
    AND (NEW.from_stage_id, NEW.from_since_us) <> (
        SELECT last.to_stage_id, last.at_us FROM stage_move AS last
        WHERE last.unit_id = NEW.unit_id AND last.removed = 0 ORDER BY last.id DESC LIMIT 1)"""

JOURNAL_STAYS = """CREATE TRIGGER journal_stays BEFORE UPDATE ON journal
    BEGIN SELECT RAISE(ABORT, 'the journal is never changed'); END"""

TRIGGERS = (
    """CREATE TRIGGER stage_move_stays BEFORE UPDATE OF
    id, unit_id, from_stage_id, from_since_us, to_stage_id, at_us, person_id ON stage_move
    BEGIN SELECT RAISE(ABORT, 'a move between stages is never changed'); END""",
    """CREATE TRIGGER stage_move_is_kept BEFORE DELETE ON stage_move
    BEGIN SELECT RAISE(ABORT, 'a move between stages is never deleted'); END""",
    f"""CREATE TRIGGER stage_move_begins BEFORE INSERT ON stage_move
    WHEN {_BEGINS}
    BEGIN SELECT RAISE(ABORT, 'a move begins where its unit stands'); END""",
    """CREATE TRIGGER stage_move_again BEFORE UPDATE OF removed ON stage_move
    WHEN NEW.removed = 0 AND OLD.removed = 1 AND NOT EXISTS (
        SELECT 1 FROM unit WHERE unit.id = NEW.unit_id
        AND unit.stage_id = NEW.from_stage_id AND unit.stage_since_us = NEW.from_since_us)
    BEGIN SELECT RAISE(ABORT, 'a move begins where its unit stands'); END""",
    """CREATE TRIGGER stage_move_undone BEFORE UPDATE OF removed ON stage_move
    WHEN NEW.removed = 1 AND OLD.removed = 0 AND EXISTS (
        SELECT 1 FROM unit WHERE unit.id = NEW.unit_id
        AND unit.stage_id = NEW.to_stage_id AND unit.stage_since_us = NEW.at_us)
    BEGIN SELECT RAISE(ABORT, 'a unit stands where this move led'); END""",
    f"""CREATE TRIGGER unit_moves_by_a_row AFTER UPDATE OF stage_id, stage_since_us ON unit
    WHEN (NEW.stage_id, NEW.stage_since_us) <> (OLD.stage_id, OLD.stage_since_us) AND NOT {_ALONG}
    BEGIN SELECT RAISE(ABORT, 'a unit changes its stage with a row of the move'); END""",
)

# A line that moved a unit: none moves two, so its number becomes the row's. It stands unless an odd number
# of lines that each undid the one before follow it.
_TOLD = """
INSERT INTO stage_move (id, unit_id, from_stage_id, from_since_us, to_stage_id, at_us, person_id, removed)
SELECT line.id, json_extract(noted.value, '$.id'), json_extract(noted.value, '$.before.stage_id'),
       json_extract(noted.value, '$.before.stage_since_us'), json_extract(noted.value, '$.after.stage_id'),
       json_extract(noted.value, '$.after.stage_since_us'), line.person_id, (
    WITH RECURSIVE onward(id) AS (
        SELECT later.id FROM journal AS later WHERE later.takes_back_id = line.id
        UNION ALL SELECT next.id FROM onward JOIN journal AS next ON next.takes_back_id = onward.id
    ) SELECT COUNT(*) % 2 FROM onward)
FROM journal AS line CROSS JOIN json_each(line.changes) AS noted
WHERE line.takes_back_id IS NULL AND json_extract(noted.value, '$.table') = 'unit'
AND json_extract(noted.value, '$.before.stage_id') <> json_extract(noted.value, '$.after.stage_id')
AND json_extract(noted.value, '$.before.stage_since_us') IS NOT NULL
ORDER BY line.id
"""

# The lines that tell of each: the one that made it, and those that undid and redid it.
_TELLING = """
INSERT INTO journal_row (table_name, row_id, journal_id)
WITH RECURSIVE told(row_id, journal_id) AS (
    SELECT id, id FROM stage_move UNION ALL
    SELECT told.row_id, later.id FROM told JOIN journal AS later ON later.takes_back_id = told.journal_id
) SELECT 'stage_move', row_id, journal_id FROM told
"""

STATEMENTS = (
    """CREATE TABLE stage_move (
        id INTEGER NOT NULL,
        unit_id INTEGER NOT NULL,
        from_stage_id INTEGER NOT NULL,
        from_since_us INTEGER NOT NULL,
        to_stage_id INTEGER NOT NULL,
        at_us INTEGER NOT NULL,
        person_id INTEGER NOT NULL,
        removed INTEGER NOT NULL,
        CONSTRAINT pk_stage_move PRIMARY KEY (id),
        CONSTRAINT ck_stage_move_two_stages CHECK (from_stage_id <> to_stage_id),
        CONSTRAINT ck_stage_move_removed CHECK (removed IN (0, 1)),
        CONSTRAINT fk_stage_move_unit_id_unit FOREIGN KEY(unit_id) REFERENCES unit (id),
        CONSTRAINT fk_stage_move_from_stage_id_stage FOREIGN KEY(from_stage_id) REFERENCES stage (id),
        CONSTRAINT fk_stage_move_to_stage_id_stage FOREIGN KEY(to_stage_id) REFERENCES stage (id),
        CONSTRAINT fk_stage_move_person_id_person FOREIGN KEY(person_id) REFERENCES person (id)
    ) STRICT""",
    "CREATE INDEX ix_stage_move_unit_id ON stage_move (unit_id)",
    """CREATE INDEX ix_stage_move_from_stage_id ON stage_move (from_stage_id, at_us, from_since_us)
    WHERE removed = 0""",
    "CREATE INDEX ix_stage_move_to_stage_id ON stage_move (to_stage_id, at_us, unit_id) WHERE removed = 0",
    _TOLD,
    _TELLING,
    "DROP INDEX ix_journal_moves",
    """ALTER TABLE journal ADD COLUMN shape INTEGER NOT NULL DEFAULT 1
    CONSTRAINT ck_journal_shape CHECK (shape >= 0)""",
    "DROP TRIGGER journal_stays",
    """UPDATE journal SET shape = 0 WHERE id IN (
        SELECT journal_id FROM journal_row WHERE table_name = 'stage_move')""",
    JOURNAL_STAYS,
    *TRIGGERS,
)
