"""Take back: the person's last change is undone by compensating rows, and then the one before.

A row that was added is removed (a movement of stock is reversed instead), a row that was changed gets its
old values, a row that was deleted comes back. Where someone changed the same values since, nothing is done.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Any

from sqlmodel import SQLModel, col, select

from bench.errors import Conflict, NotFound
from bench.store.tables import Journal, Movement, metadata
from bench.work.change import Change, change
from bench.work.desk import Desk


@dataclass(frozen=True, slots=True)
class TakenBack:
    """The line of the journal that was taken back."""

    journal_id: int
    summary: str
    unit_id: int | None


def take_back(desk: Desk) -> TakenBack:
    """Take back the last change of the desk's person that still stands.

    NotFound when there is none; Conflict, and nothing is changed, when a later change stands in the way.
    """
    with change(desk, "take back") as made:
        line = _last_standing(made)
        for noted in reversed(json.loads(line.changes)):
            _undo(made, noted)
            made.session.flush()
        made.tells(f"Took back: {line.summary}", unit_id=line.unit_id)
        made.takes_back_id = line.id
        assert line.id is not None
        return TakenBack(line.id, line.summary, line.unit_id)


def _last_standing(made: Change) -> Journal:
    taken = select(Journal.takes_back_id).where(col(Journal.takes_back_id).is_not(None))
    statement = (
        select(Journal)
        .where(
            Journal.person_id == made.desk.person_id,
            col(Journal.takes_back_id).is_(None),
            col(Journal.id).not_in(taken),
            Journal.via != "demo",
            Journal.changes != "[]",
        )
        .order_by(col(Journal.id).desc())
        .limit(1)
    )
    line = made.session.exec(statement).first()
    if line is None:
        raise NotFound("There is no change of yours left to take back.", "The journal shows who did what.")
    return line


def _undo(made: Change, noted: dict[str, Any]) -> None:
    table = _TABLES[noted["table"]]
    before, after = noted["before"], noted["after"]
    row = made.session.get(table, noted["id"])
    if before is not None and after is None:
        made.session.add(table(**before))
    elif row is None:
        raise _in_the_way(noted["table"])
    elif before is None:
        _remove(made, row, after)
    else:
        _restore(row, before, after, noted["table"])


def _remove(made: Change, row: SQLModel, after: dict[str, Any]) -> None:
    if isinstance(row, Movement):
        made.session.add(_reversal(made, row))
    elif "removed" in after:
        setattr(row, "removed", 1)  # noqa: B010 - which table it is shows only now
    else:
        _require_unchanged(row, after, row.__tablename__)
        made.session.delete(row)


def _reversal(made: Change, row: Movement) -> Movement:
    return Movement(
        consumable_id=row.consumable_id,
        kind="reversal",
        quantity=-row.quantity,
        cost_minor=-row.cost_minor,
        at_us=made.now_us,
        person_id=made.desk.person_id,
        layer_id=row.layer_id or row.id,
        task_id=row.task_id,
        reverses_id=row.id,
        reason="taken back",
    )


def _restore(row: SQLModel, before: dict[str, Any], after: dict[str, Any], table: str) -> None:
    _require_unchanged(row, after, table)
    for column, value in before.items():
        setattr(row, column, value)


def _require_unchanged(row: SQLModel, after: dict[str, Any], table: object) -> None:
    if any(getattr(row, column) != value for column, value in after.items()):
        raise _in_the_way(table)


def _in_the_way(table: object) -> Conflict:
    what = str(table).replace("_", " ")
    return Conflict(
        f"A later change to the same {what} stands in the way.",
        "Take that one back first, or set it right by hand; nothing was changed.",
    )


def _tables() -> dict[str, type[SQLModel]]:
    mapped = {mapper.class_ for mapper in SQLModel._sa_registry.mappers}
    return {str(one.__tablename__): one for one in mapped if one.__tablename__ in metadata.tables}


_TABLES = _tables()
