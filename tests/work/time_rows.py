"""Time entries as tests want them: written straight into the file, and read back behind the use cases."""

from __future__ import annotations

from datetime import datetime

from bench.desk import Desk
from bench.store.tables import TimeEntry
from bench.views.unit import read_unit
from bench.work.units import add_unit

Row = tuple[int, int | None]


def at(iso: str) -> int:
    """Microseconds UTC of a time with its offset, such as 2026-11-25T10:00+01:00."""
    moment = datetime.fromisoformat(iso)
    assert moment.tzinfo is not None
    return round(moment.timestamp()) * 1_000_000


def record(
    desk: Desk, task_id: int, start_us: int, stop_us: int | None, *, attended: bool = True, person_id: int = 1
) -> int:
    """An entry written past the use cases, to any microsecond; answer its number."""
    with desk.store.write() as session:
        entry = TimeEntry(
            task_id=task_id,
            person_id=person_id,
            started_us=start_us,
            stopped_us=stop_us,
            attended=int(attended),
        )
        session.add(entry)
        session.flush()
        assert entry.id is not None
        return entry.id


def entry_rows(desk: Desk) -> dict[int, Row]:
    """Start and stop of every entry in the file, by number."""
    with desk.store.read() as connection:
        rows = connection.execute("SELECT id, started_us, stopped_us FROM time_entry").fetchall()
    return {row["id"]: (row["started_us"], row["stopped_us"]) for row in rows}


def new_unit(desk: Desk) -> int:
    """A unit on the first route."""
    return add_unit(desk, maker="Invented", model="One", route_id=1).unit_id


def first_task(
    desk: Desk, unit_id: int, *, unattended: bool = False, lid_off: bool = False, skip: int = 0
) -> int:
    """The unit's first task of a kind, or the one `skip` after it."""
    tasks = [t for t in read_unit(desk, unit_id).tasks if (t.unattended, t.lid_off) == (unattended, lid_off)]
    return tasks[skip].task_id


def journal_rows(desk: Desk) -> list[tuple[str, str, str]]:
    """Action, summary and reason of every journal row, oldest first."""
    with desk.store.read() as connection:
        rows = connection.execute("SELECT action, summary, reason FROM journal ORDER BY id").fetchall()
    return [(row["action"], row["summary"], row["reason"]) for row in rows]
