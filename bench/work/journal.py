"""Read the journal: who did what when, newest first."""

from __future__ import annotations

from bench.desk import Desk
from bench.domain.journal_page import JournalLine, JournalPage
from bench.errors import BadInput, NotFound
from bench.views import journal as reads
from bench.views.shop import facts

MOST_LINES = 10_000
_NEWEST = 2**63 - 1


def read_journal(
    desk: Desk, *, before_id: int | None = None, unit_id: int | None = None, limit: int = 200
) -> JournalPage:
    """A page of the journal: lines older than `before_id`, of one unit or of all.

    The next page begins before the last line's number. NotFound for a unit that never was.
    """
    if not 1 <= limit <= MOST_LINES:
        raise BadInput(f"A page of {limit} lines cannot be read.", f"Ask for 1 to {MOST_LINES}.")
    with desk.store.read() as connection:
        if unit_id is not None and not reads.unit_exists(connection, unit_id):
            raise NotFound(f"There is no unit with number {unit_id}.", "Look it up again.")
        shop = facts(connection)
        before = _NEWEST if before_id is None else before_id
        rows = [
            dict(row) for row in reads.lines(connection, before_id=before, unit_id=unit_id, limit=limit + 1)
        ]
    for row in rows:
        row["undone"] = bool(row["undone"])
    lines = tuple(JournalLine(**row) for row in rows[:limit])
    return JournalPage(lines, shop.zone, shop.currency, more=len(rows) > limit)
