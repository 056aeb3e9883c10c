"""What the steady clock read when a timer started, and a start before an entry of a clock that was ahead."""

_LATEST = 9223372036854775807

# A timer that starts has no end yet: only an entry that covers its start is in its way, not one that lies
# ahead because the computer's clock once was. Where it stops, it must not overlap that one either. An entry
# without length, of a clock set back while it ran, is in nobody's way.
_OVERLAP = """CREATE TRIGGER time_entry_overlap_{when} BEFORE {event} ON time_entry
    WHEN NEW.attended = 1 AND (
        SELECT COALESCE(other.stopped_us, {latest}) FROM time_entry AS other
        WHERE other.person_id = NEW.person_id AND other.attended = 1 AND other.id IS NOT NEW.id
        AND other.started_us < COALESCE(NEW.stopped_us, {open_end})
        AND other.started_us IS NOT other.stopped_us
        ORDER BY other.started_us DESC, COALESCE(other.stopped_us, {latest}) DESC LIMIT 1
    ) > NEW.started_us
    BEGIN SELECT RAISE(ABORT, 'one person has one attended task at a time'); END"""

STATEMENTS = (
    "ALTER TABLE time_entry ADD COLUMN steady_us INTEGER",
    "ALTER TABLE time_entry ADD COLUMN boot TEXT NOT NULL DEFAULT ''",
    "DROP TRIGGER time_entry_overlap_INSERT",
    "DROP TRIGGER time_entry_overlap_UPDATE",
    _OVERLAP.format(when="INSERT", event="INSERT", latest=_LATEST, open_end="NEW.started_us + 1"),
    _OVERLAP.format(
        when="UPDATE",
        event="UPDATE OF person_id, attended, started_us, stopped_us",
        latest=_LATEST,
        open_end=_LATEST,
    ),
)
