"""What the units of a model showed: their faults, the tests they failed, what one is made of, photographs."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass, replace
from pathlib import Path

from bench.domain.model_page import FailedTest, FoundFault, KnownFault, ModelPhotograph, known_faults
from bench.domain.return_rate import rate_of
from bench.store import photographs as files
from bench.views.binder import Query
from bench.views.particulars import particulars
from bench.views.specification import KeptSpecification, specification_of

# The newest units tell most; a model done often has more than anybody looks at.
MOST_UNITS = 200

_UNITS = """(SELECT id, tag FROM unit INDEXED BY ix_unit_model
     WHERE model = :model COLLATE NOCASE AND maker = :maker COLLATE NOCASE AND removed = 0
     ORDER BY id DESC LIMIT :most) AS of_model"""


@dataclass(frozen=True, slots=True)
class _Tried:
    """Units by what their first attempt of a kind gave."""

    kind: str
    failed: int
    tried: int


@dataclass(frozen=True, slots=True)
class _Specified:
    """The newest unit of which anything was told."""

    unit_id: int


_FAULTS = Query(
    FoundFault,
    f"""
SELECT fault.id AS fault_id, of_model.id AS unit_id, of_model.tag, fault.place, fault.symptom, fault.cause,
       fault.done, fault.state, fault.found_us
FROM {_UNITS} CROSS JOIN fault INDEXED BY ix_fault_unit_id ON fault.unit_id = of_model.id
WHERE fault.removed = 0
""",  # noqa: S608 - a text of ours
)
_TESTS = Query(
    _Tried,
    f"""
SELECT run.kind, SUM(run.outcome = 'failed') AS failed, COUNT(*) AS tried
FROM {_UNITS} CROSS JOIN test_run AS run INDEXED BY ix_test_run_unit_id ON run.unit_id = of_model.id
WHERE run.removed = 0 AND run.outcome <> 'broken off' AND NOT EXISTS (
    SELECT 1 FROM test_run AS earlier WHERE earlier.unit_id = run.unit_id AND earlier.kind = run.kind
    AND earlier.at_us <= run.at_us AND (earlier.at_us, earlier.id) < (run.at_us, run.id)
    AND earlier.removed = 0 AND earlier.outcome <> 'broken off')
GROUP BY run.kind HAVING failed > 0 ORDER BY failed DESC, run.kind
""",  # noqa: S608 - a text of ours
)
_SPECIFIED = Query(
    _Specified,
    f"""
SELECT of_model.id AS unit_id FROM {_UNITS}
CROSS JOIN specification ON specification.unit_id = of_model.id
WHERE specification.removed = 0 ORDER BY specification.at_us DESC, specification.id DESC LIMIT 1
""",  # noqa: S608 - a text of ours
)
_PHOTOGRAPHS = Query(
    ModelPhotograph,
    """
SELECT photograph.id AS photograph_id, unit.id AS unit_id, unit.tag, photograph.name,
       COALESCE(caption.caption, '') AS caption, step.id AS step_id, step.position,
       photograph.folder || '/' || photograph.name AS path
FROM photograph INDEXED BY ix_photograph_model_page_id CROSS JOIN unit ON unit.id = photograph.unit_id
LEFT JOIN photograph_caption AS caption ON caption.photograph_id = photograph.id AND caption.removed = 0
LEFT JOIN model_step AS step ON step.id = photograph.model_step_id AND step.removed = 0
WHERE photograph.model_page_id = :page_id AND photograph.removed = 0 AND photograph.erased_us IS NULL
ORDER BY step.position IS NULL, step.position, photograph.id
""",
)


def faults_of_model(connection: sqlite3.Connection, maker: str, model: str) -> tuple[KnownFault, ...]:
    """The faults that its units had, each told once, the newest first."""
    return known_faults(_FAULTS.each(connection, maker=maker, model=model, most=MOST_UNITS))


def tests_failed(connection: sqlite3.Connection, maker: str, model: str) -> tuple[FailedTest, ...]:
    """The kinds of test that its units failed at first, those that failed most often first."""
    found = _TESTS.each(connection, maker=maker, model=model, most=MOST_UNITS)
    rates = ((one.kind, rate_of(one.failed, one.tried)) for one in found)
    return tuple(FailedTest(kind, rate) for kind, rate in rates if rate is not None)


def newest_specification(
    connection: sqlite3.Connection, maker: str, model: str
) -> tuple[str, KeptSpecification] | None:
    """The newest that any of its units has, with that unit's tag; None where nothing was told."""
    found = _SPECIFIED.first(connection, maker=maker, model=model, most=MOST_UNITS)
    if found is None:
        return None
    unit = particulars(connection, found.unit_id)
    kept = specification_of(connection, unit)
    return None if kept is None else (unit.tag, kept)


def photographs_of_page(
    connection: sqlite3.Connection, page_id: int, path: Path
) -> tuple[ModelPhotograph, ...]:
    """Those that stand on a page, by the steps that they show, then the others. `path`: the data file's."""
    root = files.photographs_folder(path)
    found = _PHOTOGRAPHS.each(connection, page_id=page_id)
    return tuple(
        replace(one, path=str(root / one.path), there=files.is_there(path, *one.path.split("/", 1)))
        for one in found
    )
