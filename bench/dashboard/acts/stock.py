"""Consumables: what is delivered, counted, added and taken off, and the two screens that show them."""

from __future__ import annotations

from dataclasses import replace

from bench.dashboard.acts import places
from bench.dashboard.acts.act import STOCK, THIS, Act, on, opens, runs
from bench.dashboard.acts.common import BACK, UNDO, enter

RESTOCK = Act("restock", "r", "restock", "Book what was delivered", STOCK).by(
    opens(places.RESTOCK, "consumable"), opens(places.RESTOCK)
)
COUNT = Act("count", "k", "count", "Count what is on the shelf", STOCK).by(
    opens(places.COUNT, "consumable"), opens(places.COUNT)
)
EDIT_CONSUMABLE = Act("edit_consumable", "e", "edit", "Change the consumable", STOCK).by(
    opens(places.CONSUMABLE_FORM, "consumable")
)
UNDO_STOCK = replace(UNDO, group=STOCK)

STOCK_BOOK = on(
    "stock",
    enter("history", "The movements that make up the level"),
    RESTOCK,
    COUNT,
    Act("add_consumable", "n", "new", "Add a consumable", STOCK).by(opens(places.CONSUMABLE_FORM)),
    EDIT_CONSUMABLE,
    Act("remove_consumable", "x", "remove", "Take the consumable off the list", STOCK).by(
        runs(
            "bench.work.consumables:remove_consumable",
            "consumable",
            says="Taken off the list. It can be undone.",
        )
    ),
    UNDO_STOCK,
    BACK,
)
CONSUMABLE = on(
    "consumable",
    RESTOCK,
    COUNT,
    EDIT_CONSUMABLE,
    Act("open_row", "enter", "unit", "Open the unit that used it up", THIS),
    UNDO_STOCK,
    BACK,
)
