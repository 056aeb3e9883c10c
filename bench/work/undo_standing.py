"""Whether anything later stands on a line of the journal: what is undone must be as it was left.

Refused, naming what stands on it: where a row was changed since, where a later row refers to one that would
go, where a rule of `views/stands_on.py` finds something, where another row took the place of one that
would come back.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import groupby

from sqlalchemy import Table, UniqueConstraint

from bench.domain.text import quoted
from bench.errors import Conflict
from bench.store.tables import metadata
from bench.views import stands_on
from bench.views import undo as reads
from bench.views.binder import by_column, value
from bench.work.line_changes import RowChange, Values, references_to, row_changes

# What names these stays true of one that was removed: who did it, who it was bought from, which route it had.
_MAY_BE_GONE = frozenset(("person", "party", "route", "route_task", "channel", "grade_step", "movement"))
# What is one row's alone by the use cases, and not by an index.
_ALONE = {"drive": "serial", "consumable": "code"}
_UNITS_BEHIND = {
    "wipe": "SELECT drive.unit_id FROM wipe JOIN drive ON drive.id = wipe.drive_id WHERE wipe.id = :id",
    "quote_line": "SELECT job.unit_id FROM quote_line JOIN repair_job AS job ON job.id = quote_line.job_id "
    "WHERE quote_line.id = :id",
    "comeback": "SELECT sale.unit_id FROM comeback JOIN sale ON sale.id = comeback.sale_id "
    "WHERE comeback.id = :id",
    "photograph_caption": "SELECT photograph.unit_id FROM photograph_caption AS caption "
    "JOIN photograph ON photograph.id = caption.photograph_id WHERE caption.id = :id",
}


@dataclass
class Undoing:
    """A line that is to be undone, row by row. `kept`: parties that others trade with, who stay."""

    place: reads.Place
    summary: str
    rows: list[RowChange]
    kept: set[int] = field(default_factory=set)

    def of(self, table: str) -> list[RowChange]:
        """Its changes of one table."""
        return [row for row in self.rows if row.table == table]


def undoing_of(
    connection: sqlite3.Connection, place: reads.Place, summary: str, changes: Sequence[Values]
) -> Undoing:
    """The line with its rows as they are now; Conflict, naming it, where something stands on the line."""
    undoing = Undoing(place, summary, row_changes(changes))
    ordered = sorted(undoing.rows, key=lambda row: row.table)
    for table, rows in groupby(ordered, key=lambda row: row.table):
        _look_over(connection, undoing, table, list(rows))
    return undoing


def _look_over(connection: sqlite3.Connection, undoing: Undoing, table: str, rows: list[RowChange]) -> None:
    now = _rows_now(connection, table, [row.row_id for row in rows])
    for row in rows:
        _require_as_left(connection, undoing, row, now.get(row.row_id))
        row.units |= _units_of(connection, row, now.get(row.row_id))
    _require_unnamed(connection, undoing, table, [row.row_id for row in rows if row.goes])
    for rule in stands_on.RULES:
        _require_nothing_by(connection, undoing, rule, rows)
    for row in rows:
        _require_place(connection, undoing, row, now.get(row.row_id))
        _require_named_rows(connection, undoing, row, now.get(row.row_id))


def _rows_now(connection: sqlite3.Connection, table: str, ids: list[int]) -> dict[int, Values]:
    text = f"SELECT * FROM {table} WHERE id IN (SELECT value FROM json_each(:ids))"  # noqa: S608 - ours
    return {row["id"]: row for row in by_column(connection, text, ids=json.dumps(ids))}


def _require_as_left(
    connection: sqlite3.Connection, undoing: Undoing, row: RowChange, now: Values | None
) -> None:
    if row.after is None:
        as_left = now is None
    else:
        as_left = now is not None and all(now.get(column) == value for column, value in row.after.items())
        gone = now is not None and bool(now.get("removed")) and "removed" not in row.after
        as_left = as_left and not gone
    if not as_left:
        raise _stands_on(connection, undoing, row.table, row.row_id)
    # What goes, goes with all that was made of it since.
    columns = metadata.tables[row.table].columns.keys() if row.goes else row.after or ()
    later = reads.set_later(connection, row.table, row.row_id, columns, undoing.place)
    if later is not None:
        raise _stands_on(connection, undoing, "journal", later)


def _units_of(connection: sqlite3.Connection, row: RowChange, now: Values | None) -> set[int]:
    if row.table == "unit":
        return {row.row_id}
    found = {
        unit_id
        for values in (now, row.before, row.after)
        for column, unit_id in (values or {}).items()
        if column.endswith("unit_id") and column != "came_in_unit_id" and unit_id is not None
    }
    behind = _UNITS_BEHIND.get(row.table)
    if behind is not None:
        unit_id = value(connection, behind, id=row.row_id)
        found |= {unit_id} if unit_id is not None else set()
    return found


def _require_unnamed(connection: sqlite3.Connection, undoing: Undoing, table: str, going: list[int]) -> None:
    """No row of a later line refers to one that would go; a party that others trade with simply stays."""
    if not going:
        return
    if table == "party":
        undoing.kept |= {one for one in going if _is_traded_with(connection, one, undoing.place)}
        return
    if table == "person":
        line = reads.lines_of_people(connection, going, undoing.place)
        if line is not None:
            raise _stands_on(connection, undoing, "journal", line.row_id)
    for referring, column in references_to(table):
        if referring == table == "movement":
            continue  # layers and reversals have rules of their own
        # A row that an act removed names it still: of what was undone no later line stands.
        stands = reads.REVERSED if referring == "movement" else ""
        found = reads.referring(connection, referring, column, going, undoing.place, stands)
        if found is not None:
            raise _stands_on(connection, undoing, referring, found.row_id)


def _is_traded_with(connection: sqlite3.Connection, party_id: int, place: reads.Place) -> bool:
    return any(
        reads.referring(connection, table, column, [party_id], place, _stands(table)) is not None
        for table, column in references_to("party")
    )


def _stands(table: str) -> str:
    return reads.REMOVED if "removed" in metadata.tables[table].columns else ""


def _require_nothing_by(
    connection: sqlite3.Connection, undoing: Undoing, rule: stands_on.Rule, rows: list[RowChange]
) -> None:
    met = [row for row in rows if rule.table == row.table and _is_met(rule, row)]
    if not met:
        return
    values = {
        **undoing.place.values(),
        "ids": json.dumps([row.row_id for row in met]),
        "units": json.dumps(sorted(set().union(*(row.units for row in met)))),
    }
    found = rule.later.first(connection, **values)
    if found is not None:
        raise _stands_on(connection, undoing, found.table_name, found.row_id)


def _is_met(rule: stands_on.Rule, row: RowChange) -> bool:
    if rule.columns is None:
        return True
    if row.before is None or row.after is None:
        return "removed" in rule.columns
    columns = rule.columns & row.before.keys()
    targets = [row.before[column] is not None for column in columns]
    if rule.sets:
        return any(targets)
    return not all(targets) if rule.clears else bool(columns)


def _require_place(
    connection: sqlite3.Connection, undoing: Undoing, row: RowChange, now: Values | None
) -> None:
    """Where a name, a tag or the like is one row's alone, no other row took it meanwhile."""
    if row.goes or row.table == "time_entry":
        return  # what a person did at the same time is asked when the entry is put back
    will_be = {**(now or {}), **(row.before or {})}
    own = {one.row_id for one in undoing.of(row.table)}
    for columns, where in _places(metadata.tables[row.table]):
        changed = row.comes_back or any(column in (row.before or {}) for column in columns)
        if not changed or any(will_be[one] is None for one in columns):
            continue
        other = reads.in_its_place(connection, row.table, columns, where, will_be)
        if other is not None and other not in own:
            raise _stands_on(connection, undoing, row.table, other)


def _places(table: Table) -> list[tuple[tuple[str, ...], str]]:
    """The columns in which no two rows of a table agree, and the condition on rows for which that counts."""
    found = [
        (
            tuple(_column(one) for one in index.expressions),
            str(
                index.dialect_options["sqlite"]["where"]
                if index.dialect_options["sqlite"]["where"] is not None
                else "1"
            ),
        )
        for index in table.indexes
        if index.unique
    ]
    found += [
        (tuple(column.name for column in one.columns), "1")
        for one in table.constraints
        if isinstance(one, UniqueConstraint)
    ]
    alone = _ALONE.get(table.name)
    return [*found, ((alone,), f"removed = 0 AND {alone} <> ''")] if alone else found


def _column(expression: object) -> str:
    """The column that an index orders by, be it with a collation: `model COLLATE NOCASE`."""
    return str(getattr(expression, "name", expression)).split()[0]


def _require_named_rows(
    connection: sqlite3.Connection, undoing: Undoing, row: RowChange, now: Values | None
) -> None:
    """What a row that comes back refers to is still there, or comes back with it."""
    if row.before is None or row.goes or row.table in ("task_use", "route_use"):
        return
    values = {**(now or {}), **row.before} if row.comes_back else row.before
    coming = {(one.table, one.row_id) for one in undoing.rows if one.comes_back}
    for key in metadata.tables[row.table].foreign_keys:
        named, row_id = key.column.table.name, values.get(key.parent.name)
        if row_id is None or named in _MAY_BE_GONE or (named, row_id) in coming:
            continue
        if "removed" in metadata.tables[named].columns:
            text = f"SELECT id FROM {named} WHERE id = :id AND removed = 1"  # noqa: S608 - a table of ours
            if value(connection, text, id=row_id) is not None:
                raise _stands_on(connection, undoing, named, int(row_id))


def _stands_on(connection: sqlite3.Connection, undoing: Undoing, table: str, row_id: int) -> Conflict:
    """The sentence that names what stands on the line."""
    later = (
        reads.line(connection, row_id)
        if table == "journal"
        else reads.later_line(connection, table, row_id, undoing.place)
    )
    what = (
        f"a later change to the same {table.replace('_', ' ')} stands on it"
        if later is None
        else f"{quoted(later.summary)} ({later.person}, line {later.journal_id}) stands on it"
    )
    return Conflict(
        f"{quoted(undoing.summary)} cannot be undone: {what}.",
        "Undo that first, or choose another line in the journal; nothing was changed.",
    )
