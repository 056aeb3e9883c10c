"""Everything in the file as one JSON document, or as a folder with a CSV file for each table.

The JSON has `tables`: for each table a list of rows, each row an object of its columns as the file keeps
them: instants in microseconds UTC, quantities in thousandths, money in minor units. The CSV files hold the
same; there, an empty text and no value look alike, and text that a spreadsheet would run begins with a '.
"""

from __future__ import annotations

import csv
import json
import os
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import TextIO

from bench.domain.localtime import iso_local
from bench.errors import BadInput
from bench.reports import SHAPE
from bench.reports.plain_values import csv_cell
from bench.views.export import Export, ExportTable


def write_json(export: Export, path: Path) -> None:
    """Write the JSON document, whole or not at all. BadInput where something is already, or none can be."""
    if path.exists():
        raise BadInput(f"There is a {path} already.", "Name a file that is not there yet.")
    scratch = _beside(path)
    try:
        with _private(scratch) as file:
            file.writelines(json_chunks(export))
        scratch.rename(path)
    except OSError as error:
        raise _unwritable(path, error) from error
    finally:
        scratch.unlink(missing_ok=True)


def write_csv(export: Export, folder: Path) -> tuple[Path, ...]:
    """Write the CSV files into a new folder, all or none; answer their paths. BadInput as above."""
    if folder.exists():
        raise BadInput(f"There is a {folder} already.", "Name a folder that is not there yet.")
    scratch = _beside(folder)
    try:
        scratch.mkdir(mode=0o700)
        for table in export.tables:
            with _private(scratch / f"{table.name}.csv") as file:
                _write_table(table, file)
        scratch.rename(folder)
    except OSError as error:
        raise _unwritable(folder, error) from error
    finally:
        shutil.rmtree(scratch, ignore_errors=True)
    return tuple(folder / f"{table.name}.csv" for table in export.tables)


def json_chunks(export: Export) -> Iterator[str]:
    """The JSON document in pieces, a row a line, so that a large file needs no second copy in memory."""
    head = {
        "document": "export",
        "shape": SHAPE,
        "revision": export.revision,
        "made_us": export.made_us,
        "made_local": iso_local(export.made_us, export.zone),
        "zone": export.zone,
    }
    yield json.dumps(head, ensure_ascii=False)[:-1] + ', "tables": {'
    for number, table in enumerate(export.tables):
        yield f"{',' if number else ''}\n{json.dumps(table.name)}: ["
        for place, row in enumerate(table.rows):
            named = dict(zip(table.columns, row, strict=True))
            yield f"{',' if place else ''}\n{json.dumps(named, ensure_ascii=False)}"
        yield "]"
    yield "\n}}\n"


def _write_table(table: ExportTable, file: TextIO) -> None:
    writer = csv.writer(file, lineterminator="\r\n")
    writer.writerow(table.columns)
    writer.writerows([csv_cell(value) for value in row] for row in table.rows)


def _beside(path: Path) -> Path:
    return path.with_name(f".{path.name}.{os.getpid()}.new")


def _private(path: Path) -> TextIO:
    """A new file that only its owner may read: it will hold everything the shop knows."""
    handle = os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600)
    return os.fdopen(handle, "w", encoding="utf-8", newline="")


def _unwritable(path: Path, error: OSError) -> BadInput:
    return BadInput(
        f"{path} cannot be written ({error.strerror}).", "Name another place, or free some space."
    )
