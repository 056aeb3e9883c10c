"""What a unit is made of is typed, or kept as its machine told it."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from datetime import date
from typing import Any

from sqlmodel import col, select

from bench.desk import Desk
from bench.domain import specification as domain
from bench.domain.specification import (
    COLLECTOR,
    NAMES,
    TYPED,
    FittedDrive,
    MemoryModule,
    SpecificationChange,
    changes_between,
)
from bench.domain.specification_typed import read_typed
from bench.store.tables import Specification, Unit
from bench.work.change import Change, change


@dataclass(frozen=True, slots=True)
class SpecificationKept:
    """A specification that was kept; `changes`: what it says otherwise than the one before it."""

    specification_id: int
    unit_id: int
    tag: str
    machine: domain.Specification
    changes: tuple[SpecificationChange, ...]


def set_specification(desk: Desk, unit_id: int, fields: Mapping[str, str]) -> SpecificationKept:
    """Keep what was typed by the fields of `domain.specification_typed.FIELDS`; others stay as known.

    An empty field is not known any more. What was known before is kept behind it. BadInput for what cannot
    be read.
    """
    with change(desk, "specification") as made:
        unit = made.get(Unit, unit_id, "unit")
        before = newest_of(made, unit_id) or domain.Specification()
        known = read_typed(fields, before)
        row = keep_within(made, unit_id, known, TYPED)
        made.tells(f"Typed the specification of {unit.tag}", unit_id=unit_id)
        assert row.id is not None
        return SpecificationKept(row.id, unit_id, unit.tag, known, changes_between(before, known))


def keep_within(
    made: Change, unit_id: int, known: domain.Specification, source: str, digest: str = "", told: str = ""
) -> Specification:
    """Keep a specification inside a transaction that does more."""
    assert (source == COLLECTOR) == bool(digest)
    return made.add(
        Specification(
            unit_id=unit_id,
            source=source,
            at_us=made.now_us,
            person_id=made.desk.person_id,
            file_digest=digest,
            told=told,
            **values_of(known),
        )
    )


def values_of(known: domain.Specification) -> dict[str, Any]:
    """A specification as the columns of its row."""
    values: dict[str, Any] = {name: getattr(known, name) for name in NAMES}
    for name in ("memory_modules", "drives"):
        if values[name] is not None:
            values[name] = json.dumps([asdict(one) for one in values[name]], ensure_ascii=False)
    if known.firmware_on is not None:
        values["firmware_on"] = known.firmware_on.isoformat()
    return values


def newest_of(made: Change, unit_id: int) -> domain.Specification | None:
    """The specification that counts; None where none was told."""
    row = made.session.exec(
        select(Specification)
        .where(Specification.unit_id == unit_id, Specification.removed == 0)
        .order_by(col(Specification.id).desc())
        .limit(1)
    ).first()
    return None if row is None else specification_of_row(row)


def specification_of_row(row: Specification) -> domain.Specification:
    """A row as the values that it holds."""
    values: dict[str, Any] = {name: getattr(row, name) for name in NAMES}
    for name, record in (("memory_modules", MemoryModule), ("drives", FittedDrive)):
        if values[name] is not None:
            values[name] = tuple(record(**one) for one in json.loads(values[name]))
    if row.firmware_on is not None:
        values["firmware_on"] = date.fromisoformat(row.firmware_on)
    return domain.Specification(**values)
