"""Whether photographs and their files agree: files without a row, rows without a file, changed contents."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from pathlib import Path

from bench.store import photographs as files
from bench.views.photographs import FileOnRecord, on_record


@dataclass(frozen=True, slots=True)
class PhotographCheck:
    """What was found, each as folder/name. `folder`: where photographs lie; `files`: how many are there.

    `missing`: on record without a file; `unknown`: a file that nothing on record names; `changed`: a file
    with another content than was kept.
    """

    folder: str
    files: int
    missing: tuple[str, ...]
    unknown: tuple[str, ...]
    changed: tuple[str, ...]

    @property
    def agrees(self) -> bool:
        """Whether each file is on record and as it was kept, and each one on record is there."""
        return not (self.missing or self.unknown or self.changed)


def check_photographs(connection: sqlite3.Connection, path: Path) -> PhotographCheck:
    """Read every file of the folder of photographs, and hold it against its row."""
    rows = {(one.folder, one.name): one for one in on_record(connection)}
    there = list(files.files_in(path))
    present = set(there)
    return PhotographCheck(
        folder=str(files.photographs_folder(path)),
        files=len(there),
        missing=tuple(_name(key) for key, one in rows.items() if key not in present and not one.removed),
        unknown=tuple(_name(key) for key in there if key not in rows),
        changed=tuple(_name(key) for key in there if key in rows and _differs(path, rows[key])),
    )


def _differs(path: Path, one: FileOnRecord) -> bool:
    content = files.content_of(path, one.folder, one.name)
    return content is None or files.hash_of(content) != one.sha256


def _name(key: tuple[str, str]) -> str:
    return "/".join(part for part in key if part)
