"""Rows and cells as they are copied: what people typed literally, a tab between cells."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from bench.dashboard.presenters.pieces import Part
from bench.dashboard.presenters.rows import RecordCells, Row
from bench.domain.text import cell_for_csv
from bench.views.columns import Column
from bench.views.kinds import BAR


def cell_texts(row: Row, columns: Sequence[Column[Any]]) -> tuple[str, ...]:
    """What each cell of a row says, whole, days as in files; nothing for a bar, which is drawn."""
    if isinstance(row.cells, RecordCells):
        record, context = row.cells.record, row.cells.context._replace(screen=False)
        return tuple("" if one.kind is BAR else one.words(record, context) for one in columns)
    return tuple(cell.text if isinstance(cell, Part) else "" for cell in row.cells)


def copied_rows(
    rows: Iterable[Row],
    columns: Sequence[Column[Any]],
    *,
    names: bool = False,
    hidden: frozenset[int] = frozenset(),
) -> str:
    """The rows for a spreadsheet, a line each.

    `names`: those of the columns stand first. `hidden`: the places of columns that are left out.

    Of a row that fills its width, such as a heading, its words. A cell that a spreadsheet would run is
    marked as in CSV; one with a tab or a line end stands in quotation marks (RFC 4180).
    """
    out = hidden | {place for place, one in enumerate(columns) if one.kind is BAR}
    lines = []
    if names:
        lines.append([one.heading for place, one in enumerate(columns) if place not in out])
    for row in rows:
        texts = cell_texts(row, columns)
        whole = row.heading or row.wide
        lines.append([text for place, text in enumerate(texts) if whole or place not in out])
    return "\n".join("\t".join(map(_guarded, line)) for line in lines)


def _guarded(text: str) -> str:
    guarded = cell_for_csv(text)
    if any(one in guarded for one in "\t\r\n") or guarded.startswith('"'):
        return '"' + guarded.replace('"', '""') + '"'
    return guarded
