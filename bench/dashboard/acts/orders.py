"""Parts on order and on the shelf: ordered, taken in, complained of, sent back, refunded; sold, scrapped."""

from __future__ import annotations

from bench.dashboard.acts.act import STOCK, THIS, UNIT, Act, asks_why, on, opens, runs
from bench.dashboard.acts.common import BACK, NEXT_PANEL, SAVES, UNDO, enter

FORMS = "bench.dashboard.screens.dialogs.order_forms"
NO_ORDER = "There is no order under the cursor."
NO_PART = "There is no part under the cursor."

ORDERS = on(
    "orders",
    enter("edit", "Say what is known of the order: what was wanted is ordered"),
    NEXT_PANEL,
    Act("order", "n", "order part", "Order a part, for the unit or for the shelf", THIS).by(
        opens(f"{FORMS}:order_part_form", "unit.unit_id", "unit.tag"), opens(f"{FORMS}:order_part_form")
    ),
    Act("take_in", "a", "arrived", "Take in what has arrived", THIS).by(
        opens(f"{FORMS}:take_in_form", "order"), NO_ORDER
    ),
    Act("complain", "w", "wrong", "Say that the part is the wrong one, or broken", THIS).by(
        opens(f"{FORMS}:complain_form", "order"), NO_ORDER
    ),
    Act("send_back", "b", "send back", "Send a wrong or broken part back", THIS).by(
        runs("bench.work.arrivals:send_back", "order.order_id", says="{order.what} is sent back."), NO_ORDER
    ),
    Act("wait", "t", "task waits", "Let a task wait for the order, or no longer", THIS).by(
        opens(f"{FORMS}:wait_form", "order", "order.unit_id"), "The order is not for a unit.", NO_ORDER
    ),
    Act("refund", "r", "refunded", "Take in what the supplier gave back", THIS).by(
        opens(f"{FORMS}:refund_form", "order"), NO_ORDER
    ),
    Act("cancel", "x", "cancel", "Call the order off, with the reason", THIS).by(
        asks_why(
            "Cancel the order of {order.what}",
            "bench.work.orders:cancel_order",
            "order.order_id",
            draft="cancel order {order.order_id}",
        ),
        NO_ORDER,
    ),
    Act("instead", "o", "another", "Order another part in the place of a wrong or broken one", THIS).by(
        opens(f"{FORMS}:order_instead_form", "order"), NO_ORDER
    ),
    Act("order_consumable", "c", "consumable", "Order a consumable", STOCK).by(
        opens(f"{FORMS}:order_consumable_form")
    ),
    Act("settled", "s", "settled", "Show what is done with, or what is under way", THIS),
    UNDO,
    BACK,
)
PARTS_SHELF = on(
    "parts_shelf",
    enter("place", "Say where the part lies, and the maker's number of it"),
    Act("sell", "s", "sell", "Sell the part off the shelf", UNIT).by(
        opens(f"{FORMS}:sell_part_form", "part"), NO_PART
    ),
    Act("scrap", "x", "scrap", "Throw the part away, with the reason", UNIT).by(
        asks_why(
            "Scrap {part.name}",
            "bench.work.components:scrap_part",
            "part.component_id",
            draft="scrap part {part.component_id}",
        ),
        NO_PART,
    ),
    Act("label", "l", "label", "Save the label of the part, to print", THIS).by(SAVES, NO_PART),
    Act("gone", "g", "gone", "Show what has gone from the shelf, or what lies there", THIS),
    UNDO,
    BACK,
)
