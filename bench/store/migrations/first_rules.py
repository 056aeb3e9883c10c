"""Triggers of the first revision: rules that no program may break, whatever it writes with."""

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
