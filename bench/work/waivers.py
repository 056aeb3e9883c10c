"""A unit goes on to be listed without what is wanting, for a typed reason; or no drive was seen in it."""

from __future__ import annotations

from bench.desk import Desk
from bench.domain.holding import NO_DRIVE
from bench.domain.text import clean_line
from bench.errors import Refused
from bench.store.tables import Unit, Unwiped
from bench.work.change import Change, change
from bench.work.turned_out import turned_out
from bench.work.wanting import answered_for, has_drive, reasons_of, wanting

LOOKED = "looked: no drive in it"


def list_without(desk: Desk, unit_id: int, reason: str, *, looked: bool = False) -> tuple[str, ...]:
    """Let a unit be listed without all that is wanting now, with one reason; answers what, in words.

    It covers the unit as it is: what comes in or ends later asks again. That no drive is recorded is answered
    by looking, not by a reason: with `looked` that is kept in the same step, and the reason may be empty.
    Refused when nothing is in the way that a reason could answer for.
    """
    with change(desk, "list without") as made:
        unit = made.get(Unit, unit_id, "unit")
        if looked:
            _looked(made, unit)
            if not reason.strip():
                return ()
        why = clean_line(reason, "The reason for going on without")
        open_now = [one for one in wanting(made.session, unit) if one.matter != NO_DRIVE]
        matters = [one.matter for one in open_now] or sorted(answered_for(made.session, unit) - {NO_DRIVE})
        if not matters:
            raise Refused(
                f"Nothing that a reason could answer for stands in the way of listing {unit.tag}.",
                "" if has_drive(made.session, unit_id) else "Record its drive, or say that none is in it.",
            )
        _say(made, unit_id, matters, why)
        words = tuple(one.words for one in open_now)
        what = f": {'; '.join(words)}" if words else ""
        what += turned_out(made, unit_id)
        made.tells(f"Let {unit.tag} be listed without{what}", unit_id=unit_id, reason=why)
        return words


def no_drive_in_it(desk: Desk, unit_id: int) -> None:
    """Record that the desk's person looked and no drive is in a unit. Refused where one is recorded."""
    with change(desk, "no drive") as made:
        _looked(made, made.get(Unit, unit_id, "unit"))


def _looked(made: Change, unit: Unit) -> None:
    assert unit.id is not None
    if has_drive(made.session, unit.id):
        raise Refused(
            f"A drive is recorded in unit {unit.tag}.", "Move it where it is, or take it off the records."
        )
    _say(made, unit.id, [NO_DRIVE], LOOKED)
    made.session.flush()
    turned_out(made, unit.id)
    made.tells(f"Looked into {unit.tag}: no drive in it", unit_id=unit.id)


def _say(made: Change, unit_id: int, matters: list[str], reason: str) -> None:
    """Keep a reason in place of those that it covers."""
    for earlier in reasons_of(made.session, unit_id):
        if set(earlier.covers.split()) <= set(matters):
            earlier.removed = 1
    made.session.add(
        Unwiped(
            unit_id=unit_id,
            person_id=made.desk.person_id,
            at_us=made.now_us,
            reason=reason,
            covers=" ".join(matters),
        )
    )
