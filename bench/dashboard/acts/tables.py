"""What is done to every table: filter, sort and choose columns, mark, copy, and repeat the last act."""

from __future__ import annotations

from dataclasses import replace

from bench.dashboard.acts.act import FIND, THIS, Act, on

MARK = Act("mark", "space", "mark", "Mark the row, for an act on all that are marked", THIS, footer=False)
COPY = Act("copy", "y", "copy", "Copy the row, a cell, the tag, a sheet, the listing", THIS, footer=False)
REPEAT = Act("repeat", "full_stop", "repeat", "Repeat the last act on this row", THIS, footer=False)

TABLE = on(
    "table",
    Act("filter", "slash", "filter", "Show only the lines that say what you type", FIND),
    Act("columns", "vertical_line", "columns", "Sort by a column; show or hide columns", FIND),
    replace(MARK, footer=True),
    replace(COPY, footer=True),
    replace(REPEAT, footer=True),
)
COLUMNS = on(
    "columns",
    Act("turn", "space", "show/hide", "Show the column, or hide it", THIS),
    Act("own_order", "o", "own order", "Back to the table's own order and columns", THIS),
)
