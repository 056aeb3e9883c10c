"""What holds after every transaction, an undo included: checked once, before it is committed.

A rule is an SQL text of `views/invariants.py`, which finds what breaks it among the units touched, and
the error it raises. A state that an older program left broken may stay so but is never made worse: a row
that breaks a rule is refused unless it broke the same rule before this transaction.
"""

from __future__ import annotations

import json
import sqlite3
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sqlmodel import Session

from bench.domain.safety import BEFORE_THE_COVER, CLOSING_ITEMS, FINDINGS, OPENING_ITEMS
from bench.errors import BatteryFirst, BenchError, CellAlarm, ClosingFirst, Conflict, OutcomeFirst, Refused
from bench.store.engine import Store, plain_connection
from bench.store.tables import metadata
from bench.views import invariants as reads
from bench.views.binder import Query
from bench.views.invariants import Broken
from bench.work.unready import newly_unready, standing

Noted = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule of the state: the text that finds what breaks it, and the error for one such row."""

    broken: Query[Broken]
    error: Callable[[Broken], BenchError]


def keep(
    session: Session, store: Store, changes: Sequence[Noted], reason: str = "", *, found: bool = False
) -> None:
    """Pass, or raise the matching error where this transaction leaves what breaks a rule.

    `changes`: what the recorder noted. `reason`: what was typed for them. `found`: as `Change.found`.
    A fixed number of statements, whatever the number of units.
    """
    ids = _ids_by_table(changes)
    if not ids:
        return
    _cell_cleared_with_a_reason(changes, reason)
    connection = plain_connection(session)
    units = _units_named(changes) | reads.touched_units(connection, ids)
    values = _LISTS | {"units": json.dumps(sorted(units))}
    for rule in RULES if units else ():
        for row in _newly(store, connection, rule.broken, values):
            raise rule.error(row)
    for one in newly_unready(store, connection, units, found=found) if units else ():
        raise one.error()
    for query, numbers in _pointing_at_removed(ids):
        for row in _newly(store, connection, query, numbers):
            raise _stands_on(row)


def _cell_cleared_with_a_reason(changes: Sequence[Noted], reason: str) -> None:
    for noted in changes:
        before, after = noted["before"] or {}, noted["after"] or {}
        found = before.get("cell_finding") if noted["table"] == "unit" else None
        if found is not None and "cell_finding" in after and after["cell_finding"] is None and not reason:
            raise CellAlarm(
                f"The finding of {FINDINGS[found]} is cleared only with a reason.",
                "Say what was done about the cell.",
            )


def broken_rules(connection: sqlite3.Connection) -> Iterator[BenchError]:
    """Every rule that something in the file breaks now, whoever left it so; as the error of each."""
    units = reads.all_numbers(connection, "unit")
    for rule in RULES:
        for row in rule.broken.each(connection, **_LISTS, units=units):
            yield rule.error(row)
    yield from (one.error() for one in standing(connection, json.loads(units)))
    for (_, of_parents), parent, _ in _POINTERS:
        for row in of_parents.each(connection, numbers=reads.all_numbers(connection, parent)):
            yield _stands_on(row)


def _ids_by_table(changes: Sequence[Noted]) -> dict[str, set[int]]:
    ids: defaultdict[str, set[int]] = defaultdict(set)
    for noted in changes:
        ids[noted["table"]].add(noted["id"])
    return ids


def _units_named(changes: Sequence[Noted]) -> set[int]:
    """The units that changed rows name now or named before: a deleted row is found in no table."""
    sides = [side for noted in changes for side in (noted["before"], noted["after"]) if side]
    named = (value for side in sides for column, value in side.items() if column.endswith("unit_id"))
    return {int(value) for value in named if value is not None}


def _newly(
    store: Store, connection: sqlite3.Connection, query: Query[Broken], values: Mapping[str, str]
) -> Iterator[Broken]:
    """What breaks a rule now and did not when the transaction began."""
    now = query.all(connection, **values)
    if not now:
        return
    with store.read() as committed:
        before = {(row.row_id, row.unit_id) for row in query.each(committed, **values)}
    yield from (row for row in now if (row.row_id, row.unit_id) not in before)


_LISTS = {
    "before": json.dumps(list(BEFORE_THE_COVER)),
    "opening": json.dumps(list(OPENING_ITEMS)),
    "closing": json.dumps(list(CLOSING_ITEMS)),
}


def _cell(row: Broken) -> BenchError:
    return CellAlarm(
        f"Unit {row.tag} has {FINDINGS[row.detail]}: all work on it stops.",
        "Keep it apart, do not charge or press it; clear the finding with a reason once dealt with.",
    )


def _battery(row: Broken) -> BenchError:
    return BatteryFirst(
        f"A timer runs for {row.detail} on unit {row.tag} with the cover off: "
        "its battery stays disconnected and its opening checklist ticked.",
        "Stop or finish that first.",
        unit_id=row.unit_id,
    )


def _cover_on(row: Broken) -> BenchError:
    return Refused(
        f"A timer runs for {row.detail} on unit {row.tag}: its cover is off.",
        "Stop or finish that first.",
    )


def _on_hold(row: Broken) -> BenchError:
    return Refused(f"Unit {row.tag} is on hold: {row.detail}.", "Release it first.")


def _gone(row: Broken) -> BenchError:
    return Refused(f"A timer runs for {row.detail} on unit {row.tag}.", "Stop or finish that first.")


def _battery_last(row: Broken) -> BenchError:
    return ClosingFirst(
        f"The battery of unit {row.tag} is back in: it goes in last of all.",
        "Take the tick of the battery off first.",
        unit_id=row.unit_id,
    )


def _untested(row: Broken) -> BenchError:
    return OutcomeFirst(
        f"{row.detail} on {row.tag} is a test: it is done with its outcome.",
        "Say whether it passed, failed or was broken off, as `bench test` does.",
        unit_id=row.unit_id,
        task_id=row.row_id,
    )


def _no_stage(row: Broken) -> BenchError:
    return Refused(f"Unit {row.tag} stands at {row.detail}.", "Move it to another stage first.")


def _drive_elsewhere(row: Broken) -> BenchError:
    return Conflict(
        f"The drive {row.detail} would not be where its last movement as a part says.",
        "Undo that movement first, or move the drive by it; nothing was changed.",
    )


RULES: tuple[Rule, ...] = (
    Rule(reads.DRIVE_NOT_WHERE_IT_WENT, _drive_elsewhere),
    Rule(reads.TIMER_ON_A_BAD_CELL, _cell),
    Rule(reads.TIMER_WITH_THE_BATTERY_IN, _battery),
    Rule(reads.TIMER_WITH_THE_COVER_ON, _cover_on),
    Rule(reads.TIMER_ON_HOLD, _on_hold),
    Rule(reads.TIMER_ON_WHAT_IS_GONE, _gone),
    Rule(reads.BATTERY_BACK_TOO_SOON, _battery_last),
    Rule(reads.AT_A_REMOVED_STAGE, _no_stage),
    Rule(reads.DONE_WITHOUT_OUTCOME, _untested),
)

# What others stand on. What is only chosen from, such as a consumable, a route or a channel, may be removed
# while the past still names it; a drive that left the shop keeps its wipes.
GROUND = ("component", "fault", "lot", "party", "sale", "task", "test_run", "unit")
# A movement that was reversed keeps the task it was issued for.
_PAST = ("movement", "journal", "draft")


def _pointing_at_removed(ids: Mapping[str, set[int]]) -> Iterator[tuple[Query[Broken], dict[str, str]]]:
    """A text for each way in which a standing row among those touched could point at a removed one."""
    for (of_children, of_parents), parent, child in _POINTERS:
        for query, table in ((of_children, child), (of_parents, parent)):
            if ids.get(table):
                yield query, {"numbers": json.dumps(sorted(ids[table]))}


_POINTERS = tuple(
    (
        reads.pointing_at_removed(
            child.name, key.parent.name, parent.name, removable="removed" in child.columns
        ),
        parent.name,
        child.name,
    )
    for child in metadata.sorted_tables
    for key in sorted(child.foreign_keys, key=lambda one: one.parent.name)
    if (parent := key.column.table).name in GROUND and child.name not in _PAST
)


def _stands_on(row: Broken) -> BenchError:
    child, parent = (named.replace("_", " ") for named in (row.tag, row.detail))
    return Conflict(f"A {child} stands on that {parent}.", "Undo or remove that first; nothing was changed.")
