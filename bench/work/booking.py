"""What a command has booked, and the key with which a script may repeat it without booking it twice."""

from __future__ import annotations

import json
import sqlite3

from bench.desk import Booking, Desk
from bench.domain.text import clean_line, quoted
from bench.errors import BadInput, BenchError
from bench.views.journal import BookedLine, asked_with, booked_with
from bench.views.shop import facts

LONGEST_KEY = 100


class BookedAlready(BenchError):
    """A command with this key was booked before, as `line` of the journal: nothing is amiss."""

    title = "Booked already"
    exit_code = 0

    def __init__(self, line: BookedLine, zone: str) -> None:
        super().__init__(f"Booked already: {line.summary}.")
        self.line = line
        self.zone = zone


def booking_of(key: str | None, asked: tuple[str, ...]) -> Booking:
    """The account of a command with these arguments. BadInput for a key that cannot be one."""
    if key is None:
        return Booking(asked=asked)
    return Booking(clean_line(key, "The key after --once", LONGEST_KEY), asked)


def fingerprint(booking: Booking, person_id: int) -> str:
    """Tells one command from another: eight hexadecimal digits, too few to find out what was typed."""
    asked = json.dumps([person_id, *booking.asked]).encode()
    from hashlib import blake2s  # with OpenSSL behind it; only what books wants it

    return blake2s(asked, digest_size=4).hexdigest()


def require_new_key(connection: sqlite3.Connection, booking: Booking, person_id: int) -> None:
    """Pass where the key is new. BookedAlready where this command used it, BadInput where another did."""
    asked = asked_with(connection, booking.key)
    if asked is None:
        return
    line = booked_with(connection, booking.key)
    if asked != fingerprint(booking, person_id):
        raise BadInput(
            f"The key {quoted(booking.key)} was used for another command: {line.summary}.",
            "Give each command a key of its own; nothing was booked.",
        )
    raise BookedAlready(line, facts(connection).zone)


def require_not_booked(desk: Desk) -> None:
    """The same, before a command begins."""
    if desk.booking is not None and desk.booking.key:
        with desk.store.read() as connection:
            require_new_key(connection, desk.booking, desk.person_id)
