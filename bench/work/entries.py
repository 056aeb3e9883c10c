"""Read time entries as lines that can be opened: those of one unit, or one with what was corrected in it."""

from __future__ import annotations

from bench.desk import Desk
from bench.domain.corrections import CorrectionLine
from bench.domain.unit_sheet import EntryLine
from bench.errors import NotFound
from bench.views import entries as reads
from bench.work.week import entry_from


def read_unit_entries(desk: Desk, unit_id: int) -> tuple[EntryLine, ...]:
    """Every time entry of a unit, by start."""
    with desk.store.read() as connection:
        return tuple(entry_from(row) for row in reads.of_unit(connection, unit_id))


def read_entry(desk: Desk, entry_id: int) -> tuple[EntryLine, tuple[CorrectionLine, ...]]:
    """One time entry, and its corrections, oldest first. NotFound when there is no such entry."""
    with desk.store.read() as connection:
        row = reads.one(connection, entry_id)
        if row is None:
            raise NotFound(f"There is no time entry with number {entry_id}.", "It may have been removed.")
        corrected = tuple(CorrectionLine(**dict(one)) for one in reads.corrections(connection, entry_id))
        return entry_from(row), corrected
