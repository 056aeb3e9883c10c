"""The days ahead as a calendar file. Source: RFC 5545 (3.1 folding, 3.3.11 escaping, 3.6.1 events)."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

from bench import __version__
from bench.domain.text import for_display
from bench.views.due_dates import DueDate, DueDates

LONGEST_OCTETS = 75


def calendar_text(due: DueDates) -> str:
    """The calendar, an event a day, its lines ended by CR LF.

    An event keeps its UID for as long as its record does: taken in again it is moved, not doubled.
    """
    stamp = datetime.fromtimestamp(due.read_us / 1_000_000, UTC).strftime("%Y%m%dT%H%M%SZ")
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", f"PRODID:-//bench {__version__}//EN"]
    lines.append(f"X-WR-CALNAME:{escaped(due.shop)}")
    for one in due.days:
        lines += _event(one, stamp, due.identity)
    lines.append("END:VCALENDAR")
    return "".join(f"{folded(line)}\r\n" for line in lines)


def escaped(text: str) -> str:
    """Text as a value: backslash, comma and semicolon escaped, no control characters."""
    shown = for_display(text)
    return shown.replace("\\", "\\\\").replace(",", "\\,").replace(";", "\\;")


def folded(line: str) -> str:
    """A line in pieces of at most 75 octets, the later ones begun by a blank; no letter is torn."""
    pieces: list[str] = []
    piece, room = "", LONGEST_OCTETS
    for letter in line:
        if len((piece + letter).encode()) > room:
            pieces.append(piece)
            piece, room = "", LONGEST_OCTETS - 1
        piece += letter
    return "\r\n ".join([*pieces, piece])


def _event(one: DueDate, stamp: str, identity: str) -> list[str]:
    return [
        "BEGIN:VEVENT",
        f"UID:{one.what}-{one.number}@{escaped(identity)}",
        f"DTSTAMP:{stamp}",
        f"DTSTART;VALUE=DATE:{_day(one.day)}",
        f"DTEND;VALUE=DATE:{_day(one.day + timedelta(days=1))}",
        f"SUMMARY:{escaped(one.words)}",
        "TRANSP:TRANSPARENT",
        "END:VEVENT",
    ]


def _day(day: date) -> str:
    return day.strftime("%Y%m%d")
