"""A unit changes its stage along a row of the move, and a move begins where its unit stands."""

from __future__ import annotations

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

TRIGGERS = (
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
