"""One transaction of one use case: its session, its instant, and the journal row that goes with it."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager, nullcontext
from dataclasses import dataclass, replace
from typing import TypeVar

from sqlmodel import Session, SQLModel

from bench.desk import Desk
from bench.domain.amounts import Instant
from bench.errors import NotFound
from bench.store.recording import Recorder
from bench.store.tables import BookingKey, Journal
from bench.work.booking import fingerprint, require_new_key
from bench.work.invariants import keep

Row = TypeVar("Row", bound=SQLModel)

# Under this name a session keeps what is to be done once it is committed: the file rewritten.
AFTER_COMMIT = "after the commit"


@dataclass
class Change:
    """What a use case works with. `tells` is what the journal will say; without it nothing is journaled.

    `found`: it records what turned out about a unit that has left, which no rule can undo.
    """

    desk: Desk
    session: Session
    now_us: Instant
    recorder: Recorder
    summary: str = ""
    reason: str = ""
    unit_id: int | None = None
    takes_back_id: int | None = None
    found: bool = False

    def tells(self, summary: str, *, unit_id: int | None = None, reason: str = "") -> None:
        """Say what the person did, in one line for the journal."""
        self.summary, self.unit_id, self.reason = summary, unit_id, reason

    def get(self, table: type[Row], row_id: int, what: str) -> Row:
        """The row with this number; NotFound, naming `what`, when there is none or it was removed."""
        row = self.session.get(table, row_id)
        if row is None or getattr(row, "removed", False):
            raise NotFound(
                f"There is no {what} with number {row_id}.", "Look it up again; it may have been removed."
            )
        return row

    def add(self, row: Row) -> Row:
        """Store a new row and answer it with its number."""
        self.session.add(row)
        self.session.flush()
        return row


@contextmanager
def together(desk: Desk) -> Iterator[Desk]:
    """One transaction for several use cases that are one act: all of them, or none.

    They are handed the desk that this answers. Each writes its own line of the journal. What they read by
    `store.read` is still as it was before.
    """
    with _transaction(desk) as session:
        yield replace(desk, joint=session)


@contextmanager
def change(desk: Desk, action: str) -> Iterator[Change]:
    """One transaction, or a part of one that several share. Whatever it changes gets one journal row.

    Before it is committed the state it leaves is held against the rules of `invariants`.
    """
    with _transaction(desk) if desk.joint is None else nullcontext(desk.joint) as session:
        made = Change(desk, session, desk.clock.now_us(), Recorder(session))
        yield made
        session.flush()
        keep(session, desk.store, made.recorder.noted(), made.reason, found=made.found)
        if made.recorder or made.summary:
            line = Journal(
                at_us=made.now_us,
                person_id=desk.person_id,
                action=action,
                summary=made.summary or action,
                via=desk.via,
                unit_id=made.unit_id,
                reason=made.reason,
                changes=made.recorder.changes(),
                takes_back_id=made.takes_back_id,
            )
            made.add(line)
            _keep_account(made, line)


@contextmanager
def _transaction(desk: Desk) -> Iterator[Session]:
    """One transaction of the store. With a key that was used before it ends at once, and changes nothing."""
    booking = desk.booking
    with desk.store.write() as session:
        if booking is not None:
            booking.begun.clear()
            if booking.key and not booking.summaries:
                require_new_key(_plain(session), booking, desk.person_id)
        yield session
        after = session.info.pop(AFTER_COMMIT, None)
    if after is not None:
        after()
    if booking is not None:
        booking.settle()


def _plain(session: Session) -> sqlite3.Connection:
    """The driver's own connection under a session, for a read inside its transaction."""
    connection = session.connection().connection.driver_connection
    assert isinstance(connection, sqlite3.Connection)
    return connection


def _keep_account(made: Change, line: Journal) -> None:
    """Note what a command booked, and its key with the first line."""
    booking = made.desk.booking
    if booking is None:
        return
    if booking.key and not booking.begun and not booking.summaries:
        assert line.id is not None
        asked = fingerprint(booking, made.desk.person_id)
        made.add(BookingKey(key=booking.key, journal_id=line.id, asked=asked))
    booking.begun.append(line.summary)
