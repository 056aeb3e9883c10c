"""The photographs of a unit, those that go into papers, and what is on record of every file."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from bench.desk import Desk
from bench.domain.amounts import Instant
from bench.domain.decoding import Cells, cells_of
from bench.errors import BadInput, NotFound
from bench.store import photographs as files
from bench.views.binder import Query, value
from bench.views.particulars import particulars


@dataclass(frozen=True, slots=True)
class PhotographLine:
    """One photograph. `path`: its file's; `there`: whether that is where it was kept.

    `taken_us`: None where its file did not say. `shown`: it goes into papers. `task`, `grade`, `fault`: what
    else it shows, empty for the unit alone. `model`: it stands on the page of the unit's model, at the step
    in `step` where it shows one. `erased_us`: its file and caption were erased then.
    """

    photograph_id: int
    folder: str
    name: str
    sha256: str
    size_bytes: int
    kind: str
    taken_us: Instant | None
    kept_us: Instant
    person: str
    caption: str
    task_id: int | None
    task: str
    grade_id: int | None
    grade: str
    fault_id: int | None
    fault: str
    model: bool
    model_step_id: int | None
    step: str
    shown: bool
    erased_us: Instant | None
    path: str = ""
    there: bool = False


@dataclass(frozen=True, slots=True)
class UnitPhotographs:
    """A unit's photographs, oldest first, and the folder in which the next ones are kept."""

    unit_id: int
    tag: str
    model: str
    zone: str
    folder: str
    lines: tuple[PhotographLine, ...]

    def line(self, photograph_id: int) -> PhotographLine:
        """The one with that number. NotFound where the unit has none such."""
        for one in self.lines:
            if one.photograph_id == photograph_id:
                return one
        raise NotFound(
            f"Unit {self.tag} has no photograph with number {photograph_id}.", "Its list shows the numbers."
        )


@dataclass(frozen=True, slots=True)
class ShownPhotograph:
    """A photograph that goes into papers. `path`: its file's, which may be missing.

    `fault`: what is seen of the fault that it shows and of which a buyer is told; else empty.
    """

    photograph_id: int
    name: str
    caption: str
    path: str
    fault: str = ""

    @property
    def words(self) -> str:
        """Its caption, and which fault it shows where the caption does not say it."""
        told = f"shows: {self.fault}" if self.fault and self.fault not in self.caption else ""
        return "; ".join(one for one in (self.caption, told) if one)


@dataclass(frozen=True, slots=True)
class FileOnRecord:
    """What is on record of a file. `removed`: the photograph is not the unit's any more; its file stays."""

    photograph_id: int
    folder: str
    name: str
    sha256: str
    size_bytes: int
    removed: bool


_LINES = Query(
    PhotographLine,
    """
SELECT photograph.id AS photograph_id, photograph.folder, photograph.name, photograph.sha256,
       photograph.size_bytes, photograph.kind, photograph.taken_us, photograph.kept_us,
       person.name AS person, COALESCE(caption.caption, '') AS caption, photograph.task_id,
       COALESCE(task.name, '') AS task, grade.id AS grade_id, COALESCE(grade.part, '') AS grade,
       fault.id AS fault_id, COALESCE(fault.symptom, '') AS fault,
       photograph.model_page_id IS NOT NULL AS model, step.id AS model_step_id,
       COALESCE(step.words, '') AS step, photograph.shown, photograph.erased_us
FROM photograph INDEXED BY ix_photograph_unit_id CROSS JOIN person ON person.id = photograph.person_id
LEFT JOIN photograph_caption AS caption ON caption.photograph_id = photograph.id AND caption.removed = 0
LEFT JOIN task ON task.id = photograph.task_id LEFT JOIN grade ON grade.id = photograph.grade_id
LEFT JOIN fault ON fault.id = photograph.fault_id AND fault.removed = 0
LEFT JOIN model_step AS step ON step.id = photograph.model_step_id AND step.removed = 0
WHERE photograph.unit_id = :unit_id AND photograph.removed = 0 ORDER BY photograph.id
""",
)
_SHOWN = Query(
    ShownPhotograph,
    """
SELECT photograph.id AS photograph_id, photograph.name, COALESCE(caption.caption, '') AS caption,
       photograph.folder || '/' || photograph.name AS path, COALESCE(fault.symptom, '') AS fault
FROM photograph INDEXED BY ix_photograph_unit_id
LEFT JOIN photograph_caption AS caption ON caption.photograph_id = photograph.id AND caption.removed = 0
LEFT JOIN fault ON fault.id = photograph.fault_id AND fault.removed = 0 AND fault.state <> 'cured'
WHERE photograph.unit_id = :unit_id AND photograph.removed = 0 AND photograph.shown = 1
AND photograph.erased_us IS NULL ORDER BY photograph.id
""",
)
_ON_RECORD = Query(
    FileOnRecord,
    """
SELECT id AS photograph_id, folder, name, sha256, size_bytes, removed FROM photograph
WHERE erased_us IS NULL ORDER BY folder, name
""",
)
_OF_UNIT = Query(
    FileOnRecord,
    """
SELECT id AS photograph_id, folder, name, sha256, size_bytes, removed FROM photograph
WHERE unit_id = :unit_id AND erased_us IS NULL ORDER BY removed DESC, id
""",
)
_RUNNING_ON = """
SELECT unit.tag FROM time_entry JOIN task ON task.id = time_entry.task_id JOIN unit ON unit.id = task.unit_id
WHERE time_entry.person_id = :person_id AND time_entry.stopped_us IS NULL
ORDER BY task.unattended, time_entry.id DESC LIMIT 1
"""


def read_photographs(desk: Desk, unit_id: int) -> UnitPhotographs:
    """A unit's photographs, and whether each one's file is there. NotFound when there is no such unit."""
    with desk.store.read() as connection:
        unit = particulars(connection, unit_id)
        lines = _LINES.all(connection, unit_id=unit_id)
    path = desk.store.path
    return UnitPhotographs(
        unit_id=unit_id,
        tag=unit.tag,
        model=unit.name,
        zone=unit.zone,
        folder=str(files.photographs_folder(path) / unit.tag),
        lines=tuple(_with_file(path, one) for one in lines),
    )


def read_on_record(desk: Desk, unit_id: int) -> tuple[str, str, dict[str, FileOnRecord]]:
    """A unit's tag, the shop's zone, and by hash what is on record of its files, removed ones too."""
    with desk.store.read() as connection:
        unit = particulars(connection, unit_id)
        return unit.tag, unit.zone, {one.sha256: one for one in _OF_UNIT.each(connection, unit_id=unit_id)}


def read_content(desk: Desk, line: PhotographLine) -> bytes | None:
    """All bytes of a photograph's file; None where it is not there or cannot be read."""
    return None if line.erased_us else files.content_of(desk.store.path, line.folder, line.name)


def read_cells(desk: Desk, line: PhotographLine, width: int, height: int) -> Cells | None:
    """A photograph in at most so many cells; None where there is no file, or one that cannot be shown."""
    content = read_content(desk, line)
    try:
        return None if content is None else cells_of(content, line.name, width, height)
    except BadInput:
        return None


def read_tag_at_hand(desk: Desk) -> str:
    """The tag of the unit that the acting person's timer runs on; empty where none runs."""
    with desk.store.read() as connection:
        return value(connection, _RUNNING_ON, person_id=desk.person_id) or ""


def shown_of(connection: sqlite3.Connection, unit_id: int, path: Path) -> tuple[ShownPhotograph, ...]:
    """Those of a unit that go into papers, within a snapshot that other reads share.

    `path`: the data file's.
    """
    root = files.photographs_folder(path)
    return tuple(replace(one, path=str(root / one.path)) for one in _SHOWN.each(connection, unit_id=unit_id))


def on_record(connection: sqlite3.Connection) -> Iterator[FileOnRecord]:
    """What is on record of every file that is not erased."""
    return _ON_RECORD.each(connection)


def _with_file(path: Path, one: PhotographLine) -> PhotographLine:
    if one.erased_us is not None:
        return one
    at = files.photographs_folder(path) / one.folder / one.name
    return replace(one, path=str(at), there=files.is_there(path, one.folder, one.name))
