"""What can be copied: rows, cells, a unit's tag and sheets, the document of a screen."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from bench.dashboard.presenters.arranged_rows import column_names, count_of
from bench.dashboard.presenters.copied_rows import cell_texts, copied_rows
from bench.dashboard.presenters.rows import Row
from bench.dashboard.screens.document import Document
from bench.dashboard.screens.row_acts import Copyable
from bench.desk import Desk
from bench.views.columns import Table

MOST_CELLS = 9  # one digit each


def copies_of_rows(
    table: Table[Any],
    chosen: Sequence[Row],
    every: Sequence[Row] = (),
    *,
    hidden: frozenset[int] = frozenset(),
) -> tuple[Copyable, ...]:
    """Of the rows marked or under the cursor, of all that are shown, and each cell of a single one."""
    found = []
    if chosen:
        what = "the row" if len(chosen) == 1 else f"the {len(chosen)} marked rows"
        text = copied_rows(chosen, table.columns, hidden=hidden)
        found.append(_ready("r", what, what, text))
    lines = count_of(every)
    if lines > 1:
        what = f"all {lines} lines shown, with the names of the columns"
        found.append(
            Copyable(
                "a",
                what,
                f"{lines} lines",
                lambda _desk: copied_rows(every, table.columns, names=True, hidden=hidden),
            )
        )
    if len(chosen) == 1:
        found += _cells(chosen[0], table, hidden)
    return tuple(found)


def copies_of_unit(unit_id: int, tag: str) -> tuple[Copyable, ...]:
    """Its tag, its sheet, and its listing."""

    def sheet(desk: Desk) -> str:
        return _sheet(desk, unit_id)

    def listing(desk: Desk) -> str:
        from bench.reports.listing import listing_text
        from bench.views.listing import read_listing

        return listing_text(read_listing(desk, unit_id))

    return (
        _ready("t", f"the tag {tag}", f"the tag {tag}", tag),
        Copyable("s", f"the sheet of {tag}", f"the sheet of {tag}", sheet),
        Copyable("l", f"the listing of {tag}", f"the listing of {tag}", listing),
    )


def copies_of_units(units: Sequence[tuple[int, str]]) -> tuple[Copyable, ...]:
    """The tags of several units, and their sheets one after the other."""

    def sheets(desk: Desk) -> str:
        return "\n\n".join(_sheet(desk, unit_id).rstrip() for unit_id, _ in units) + "\n"

    tags = "\n".join(tag for _, tag in units)
    return (
        _ready("t", f"the {len(units)} tags", f"{len(units)} tags", tags),
        Copyable("s", f"the {len(units)} sheets", f"{len(units)} sheets", sheets),
    )


def copies_of_document(document: Document) -> tuple[Copyable, ...]:
    """What the screen would save, as text."""

    def text(_desk: Desk) -> str:
        made = document.forms[".txt"](document.view) if ".txt" in document.forms else ""
        return made if isinstance(made, str) else ""

    return (Copyable("d", f"the {document.title} as text", f"the {document.title}", text),)


def _sheet(desk: Desk, unit_id: int) -> str:
    from bench.reports.unit_sheet import unit_text
    from bench.views.unit import read_unit

    return unit_text(read_unit(desk, unit_id))


def _cells(row: Row, table: Table[Any], hidden: frozenset[int]) -> list[Copyable]:
    texts = cell_texts(row, table.columns)
    named = list(zip(column_names(table), texts, strict=False)) if len(texts) == len(table.columns) else []
    told = [(name, text) for place, (name, text) in enumerate(named) if text.strip() and place not in hidden][
        :MOST_CELLS
    ]
    return [
        _ready(str(number), f"{name}: {text}", f"the cell {name}", text)
        for number, (name, text) in enumerate(told, start=1)
    ]


def _ready(letter: str, what: str, said: str, text: str) -> Copyable:
    return Copyable(letter, what, said, lambda _desk: text)
