"""Undo and redo: any line of one's own in the journal is put right by compensating rows, never rewritten.

A row that was added is removed (a movement of stock is reversed instead), one that was changed gets its old
values, one that was deleted comes back with its number. Redo undoes the undoing, under the same rules: where
anything later stands on the line, or a gate would stop what it comes to, nothing is done.
"""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass, replace

from sqlmodel import SQLModel

from bench.desk import Desk
from bench.domain.text import clean_line, quoted
from bench.errors import BadInput, Conflict, NotFound, Refused
from bench.store.engine import plain_connection
from bench.store.tables import Movement, TimeEntry, Unit
from bench.views import undo as reads
from bench.views.undo import Line, UndoOffer
from bench.work.change import Change, change
from bench.work.corrections import require_room
from bench.work.issuing import take_again
from bench.work.line_changes import Values, changes_in, tables
from bench.work.safety import hold_for_cell
from bench.work.undo_gates import after_undoing, before_undoing, reason_needed
from bench.work.undo_standing import Undoing, undoing_of

_NEWEST = 2**63 - 1


@dataclass(frozen=True, slots=True)
class Undone:
    """What was undone or, `again`, redone: the number and the words of the line that did it first."""

    journal_id: int
    summary: str
    unit_id: int | None
    again: bool = False


def undo(desk: Desk, journal_id: int | None = None, *, reason: str = "") -> Undone:
    """Undo a line of one's own, by default the newest that still stands.

    NotFound when there is none; Refused for another's line, one undone already and where a gate stops it;
    Conflict, naming it, where something later stands on the line; BadInput where a reason is asked for.
    """
    return _undo(desk, journal_id, again=False, reason=reason)


def redo(desk: Desk, journal_id: int | None = None, *, reason: str = "") -> Undone:
    """Do again what one undid, by default the newest; the line is that which was undone. As `undo` else."""
    return _undo(desk, journal_id, again=True, reason=reason)


def read_offers_to_undo(desk: Desk, *, limit: int = 20, again: bool | None = None) -> tuple[UndoOffer, ...]:
    """The newest lines of one's own with what undo or redo would do; `again` for one of the two alone."""
    with desk.store.read() as connection:
        offers = []
        for tip_id in reads.tips(connection, desk.person_id, before_id=_NEWEST, limit=limit):
            offer = _offer(connection, tip_id)
            if again is None or offer.again == again:
                offers.append(offer)
        return tuple(offers)


def read_offer_to_undo(desk: Desk, journal_id: int) -> UndoOffer | None:
    """The same of one line, be it done, undone or redone; None for a line that nobody can undo."""
    with desk.store.read() as connection:
        line = reads.line(connection, journal_id)
        if line is None or not _can_be_undone(line):
            return None
        offer = _offer(connection, reads.chain(connection, journal_id).tip_id)
        if line.person_id != desk.person_id:
            return _refused(offer, f"{line.person} did it, and only they can undo it.")
        return offer


def _offer(connection: sqlite3.Connection, tip_id: int) -> UndoOffer:
    tip = reads.line(connection, tip_id)
    chain = reads.chain(connection, tip_id)
    first = reads.line(connection, chain.first_id)
    assert tip is not None
    assert first is not None
    offer = UndoOffer(first.journal_id, first.at_us, first.summary, chain.undone, "", "")
    try:
        undoing = undoing_of(connection, reads.Place(tip_id, chain.first_id), first.summary, changes_in(tip))
    except (Conflict, Refused) as error:
        return replace(offer, refusal=error.what)
    return replace(offer, needs_reason="" if offer.again else reason_needed(undoing))


def _refused(offer: UndoOffer, why: str) -> UndoOffer:
    return replace(offer, refusal=why)


def _undo(desk: Desk, journal_id: int | None, *, again: bool, reason: str) -> Undone:
    with change(desk, "redo" if again else "undo") as made:
        connection = plain_connection(made.session)
        tip, first = _line_to_undo(made, connection, journal_id, again=again)
        changes = changes_in(tip)
        undoing = undoing_of(
            connection, reads.Place(tip.journal_id, first.journal_id), first.summary, changes
        )
        why = _reason(undoing, reason or (first.reason if again else ""))
        before_undoing(made, undoing)
        for noted in reversed(changes):
            _undo_one(made, undoing, noted)
            made.session.flush()
        after_undoing(made, undoing)
        for row in undoing.of("unit"):
            unit = made.session.get(Unit, row.row_id)
            if unit is not None:
                hold_for_cell(made, unit)  # what held it before may have been undone since
        did = "Redid" if again else "Undid"
        made.tells(f"{did}: {first.summary}", unit_id=first.unit_id, reason=why)
        made.takes_back_id = tip.journal_id
        return Undone(first.journal_id, first.summary, first.unit_id, again)


def _line_to_undo(
    made: Change, connection: sqlite3.Connection, journal_id: int | None, *, again: bool
) -> tuple[Line, Line]:
    """The line at which undo or redo goes on, and the line that it began with."""
    if journal_id is None:
        journal_id = _newest(made, connection, again=again)
    line = reads.line(connection, journal_id)
    if line is None:
        raise NotFound(f"The journal has no line {journal_id}.", "Look it up in the journal.")
    if line.person_id != made.desk.person_id:
        raise Refused(f"Line {journal_id} is {line.person}'s.", "Each undoes what is their own; ask them to.")
    if not _can_be_undone(line):
        raise Refused(f"Line {journal_id} changed nothing that can be undone.", "Choose another line.")
    chain = reads.chain(connection, journal_id)
    tip, first = reads.line(connection, chain.tip_id), reads.line(connection, chain.first_id)
    assert tip is not None
    assert first is not None
    if chain.undone != again:
        state = "is not undone" if again else "is undone already"
        raise Refused(f"{quoted(first.summary)} {state}.", "The journal shows which lines stand.")
    return tip, first


def _newest(made: Change, connection: sqlite3.Connection, *, again: bool) -> int:
    before = _NEWEST
    while True:
        tips = reads.tips(connection, made.desk.person_id, before_id=before, limit=50)
        for tip_id in tips:
            if reads.chain(connection, tip_id).undone == again:
                return tip_id
        if not tips:
            what = "redo" if again else "undo"
            raise NotFound(f"There is no change of yours left to {what}.", "The journal shows who did what.")
        before = tips[-1]


def _can_be_undone(line: Line) -> bool:
    return line.via != "demo" and line.changes != "[]"


def _reason(undoing: Undoing, typed: str) -> str:
    asked = reason_needed(undoing)
    if not asked:
        return clean_line(typed, "The reason", allow_empty=True)
    if not typed.strip():
        raise BadInput(f"{asked} is empty.", "Undoing this asks for the same reason as doing it by hand.")
    return clean_line(typed, asked)


def _undo_one(made: Change, undoing: Undoing, noted: Values) -> None:
    table = _TABLES[noted["table"]]
    before, after = noted["before"], noted["after"]
    if after == {}:
        made.recorder.looked_at(noted["table"], noted["id"])
        return
    row = made.session.get(table, noted["id"])
    if before is not None and after is None:
        fresh = table(**before)
        if isinstance(fresh, TimeEntry):
            require_room(made, fresh)
        made.session.add(fresh)
        return
    assert row is not None, "what stands on it was looked at before"
    if before is None:
        _remove(made, undoing, row)
        return
    for column, value in before.items():
        setattr(row, column, value)
    if isinstance(row, TimeEntry):
        with made.session.no_autoflush:
            require_room(made, row)


def _remove(made: Change, undoing: Undoing, row: SQLModel) -> None:
    if isinstance(row, Movement):
        _set_movement_right(made, row)
    elif row.__tablename__ == "party" and getattr(row, "id", None) in undoing.kept:
        return
    elif hasattr(row, "removed"):
        setattr(row, "removed", 1)  # noqa: B010 - which table it is shows only now
    else:
        made.session.delete(row)


def _set_movement_right(made: Change, row: Movement) -> None:
    """Reverse a movement; one that was reversed is made once more, from what is there now."""
    if row.reverses_id is not None:
        first = made.session.get_one(Movement, row.reverses_id)
        if first.quantity < 0:
            take_again(made, first)
        else:
            made.session.add(Movement(**first.model_dump(exclude={"id"})))
        return
    made.session.add(
        Movement(
            consumable_id=row.consumable_id,
            kind="reversal",
            quantity=-row.quantity,
            cost_minor=-row.cost_minor,
            at_us=made.now_us,
            person_id=made.desk.person_id,
            layer_id=row.layer_id or row.id,
            task_id=row.task_id,
            reverses_id=row.id,
            reason="undone",
        )
    )


_TABLES = tables()
