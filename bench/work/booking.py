"""What a command has booked, and the key with which a script may repeat it without booking it twice."""

from __future__ import annotations

import json
import sqlite3
from dataclasses import dataclass, field
from hashlib import blake2s

from bench.domain.journal_page import BookedLine
from bench.domain.text import clean_line, quoted
from bench.errors import BadInput, BenchError
from bench.store.reads import journal as reads
from bench.work.desk import Desk

LONGEST_KEY = 100


class BookedAlready(BenchError):
    """A command with this key was booked before, as `line` of the journal: nothing is amiss."""

    title = "Booked already"
    exit_code = 0

    def __init__(self, line: BookedLine, zone: str) -> None:
        super().__init__(f"Booked already: {line.summary}.")
        self.line = line
        self.zone = zone


@dataclass
class Booking:
    """One command's account of itself.

    `key`: the script's own, empty for none. `asked`: the command and its arguments as typed.
    `summaries`: what the journal says of it, once that is in the file. `begun`: the same while it is not yet.
    """

    key: str = ""
    asked: tuple[str, ...] = ()
    summaries: list[str] = field(default_factory=list)
    begun: list[str] = field(default_factory=list)

    def settle(self) -> None:
        """The transaction is in the file."""
        self.summaries += self.begun
        self.begun.clear()


def booking_of(key: str | None, asked: tuple[str, ...]) -> Booking:
    """The account of a command with these arguments. BadInput for a key that cannot be one."""
    if key is None:
        return Booking(asked=asked)
    return Booking(clean_line(key, "The key after --once", LONGEST_KEY), asked)


def fingerprint(booking: Booking, person_id: int) -> str:
    """Tells one command from another: eight hexadecimal digits, too few to find out what was typed."""
    asked = json.dumps([person_id, *booking.asked]).encode()
    return blake2s(asked, digest_size=4).hexdigest()


def require_new_key(connection: sqlite3.Connection, booking: Booking, person_id: int) -> None:
    """Pass where the key is new. BookedAlready where this command used it, BadInput where another did."""
    row = reads.booked_with(connection, booking.key)
    if row is None:
        return
    facts = dict(row)
    asked, zone = facts.pop("asked"), facts.pop("zone")
    line = BookedLine(**{**facts, "undone": bool(facts["undone"])})
    if asked != fingerprint(booking, person_id):
        raise BadInput(
            f"The key {quoted(booking.key)} was used for another command: {line.summary}.",
            "Give each command a key of its own; nothing was booked.",
        )
    raise BookedAlready(line, zone)


def require_not_booked(desk: Desk) -> None:
    """The same, before a command begins."""
    if desk.booking is not None and desk.booking.key:
        with desk.store.read() as connection:
            require_new_key(connection, desk.booking, desk.person_id)
