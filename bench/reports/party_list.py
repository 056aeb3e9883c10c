"""People and firms traded with, and from when a private person's data may be erased, as text."""

from __future__ import annotations

from collections.abc import Sequence

from bench.reports.tables import sections, table, wrapped
from bench.views.parties import PartyLine

RULE = (
    "Private people's data may go so many years after the last business with them as the shop's settings "
    "say; until then the register needs them. Local law comes first."
)


def parties_text(lines: Sequence[PartyLine]) -> str:
    """A line each, the number first by which a command names it."""
    if not lines:
        return "Nobody is on record.\n"
    rows = [
        (
            str(line.party_id),
            line.name,
            line.address,
            str(line.bought),
            str(line.sold),
            line.last_on.isoformat() if line.last_on else "",
            _until(line),
        )
        for line in lines
    ]
    headings = ("no.", "", "", "from", "to", "last", "may go")
    return sections(table(headings, rows, words=(1, 2)), wrapped(RULE))


def _until(line: PartyLine) -> str:
    if line.erased_us is not None:
        return "erased"
    if not line.private:
        return "firm"
    if line.erase_on is None:
        return "in stock"
    return line.erase_on.isoformat()
