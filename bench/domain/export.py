"""Everything a data file holds, as plain values."""

from __future__ import annotations

from dataclasses import dataclass

Value = int | float | str | None


@dataclass(frozen=True, slots=True)
class ExportTable:
    """One table: its name, its columns in the file's order, and its rows by number."""

    name: str
    columns: tuple[str, ...]
    rows: tuple[tuple[Value, ...], ...]


@dataclass(frozen=True, slots=True)
class Export:
    """The whole file at one instant. `revision`: which shape the file has."""

    tables: tuple[ExportTable, ...]
    revision: str
    made_us: int
    zone: str
