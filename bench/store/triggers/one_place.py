"""A part is in one place: each of its moves begins where the one before led; it is gone from the shelf."""

from __future__ import annotations

# A standing move of the part that does not begin where the one before led, or one bought a second time.
_ONE_PLACE = """EXISTS (
        SELECT 1 FROM part AS move JOIN part AS before ON before.id = (
            SELECT MAX(last.id) FROM part AS last
            WHERE last.component_id = move.component_id AND last.removed = 0 AND last.id < move.id)
        WHERE move.component_id = NEW.component_id AND move.removed = 0
        AND (move.from_unit_id IS NULL OR before.to_unit_id IS NOT move.from_unit_id))"""
_GONE = """EXISTS (SELECT 1 FROM component WHERE component.id = NEW.component_id AND component.gone <> '')"""
# What is gone lay on the shelf at its last move.
_ON_THE_SHELF = """EXISTS (
        SELECT 1 FROM part
        WHERE part.component_id = NEW.id AND part.removed = 0 AND part.to_unit_id IS NULL)"""

TRIGGERS = (
    *(
        f"""CREATE TRIGGER part_one_place_{when} AFTER {event} ON part WHEN {_ONE_PLACE}
    BEGIN SELECT RAISE(ABORT, 'a part is in one place at a time'); END"""
        for when, event in (
            ("insert", "INSERT"),
            ("update", "UPDATE OF component_id, from_unit_id, to_unit_id, removed"),
        )
    ),
    *(
        f"""CREATE TRIGGER part_not_gone_{when} BEFORE {event} ON part WHEN {_GONE}
    BEGIN SELECT RAISE(ABORT, 'a part that is gone does not move'); END"""
        for when, event in (
            ("insert", "INSERT"),
            ("update", "UPDATE OF component_id, from_unit_id, to_unit_id, removed"),
        )
    ),
    """CREATE TRIGGER component_gone_from_the_shelf BEFORE UPDATE OF gone ON component
    WHEN NEW.gone <> '' AND NOT {on_the_shelf}
    BEGIN SELECT RAISE(ABORT, 'a part leaves the shop from the shelf'); END""".replace(
        "{on_the_shelf}", _ON_THE_SHELF
    ),
)
