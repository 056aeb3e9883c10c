"""Buying: offers looked at, bought or declined, and lots."""

from __future__ import annotations

from dataclasses import replace

from bench.dashboard.acts import places
from bench.dashboard.acts.act import THIS, UNIT, Act, asks_why, on, opens
from bench.dashboard.acts.common import BACK, NEXT_PANEL, UNDO, enter
from bench.dashboard.acts.timers import NO_UNIT

NO_OFFER = "There is no offer under the cursor."
SETTLED = "This offer is {offer.state} already."
KEPT = "bench.dashboard.screens.buying:BuyingScreen.kept"
BOUGHT = "bench.dashboard.screens.buying:BuyingScreen.bought"

OPEN_OFFER = opens(places.OFFER_FORM, "open_offer.offer_id", then=KEPT)
BUY_OFFER = opens(places.BUY_FORM, "open_offer.offer_id", then=BOUGHT)
BUY_LOT = Act("buy_lot", "l", "buy a lot", "Several units for one price", UNIT).by(
    opens(places.LOT_FORM, then="bench.dashboard.screens.buying:BuyingScreen.bought_lot")
)
DONOR = Act("donor", "d", "donor", "Keep the unit for its parts, or sell it whole after all", UNIT).by(
    opens(places.DONOR_FORM, "unit.unit_id"), NO_UNIT
)

BUYING = on(
    "buying",
    enter("open", "Open the offer, or the rows behind a line of the price"),
    NEXT_PANEL,
    Act("look", "n", "look at one", "Calculate the most to pay for a unit, and keep the offer", UNIT).by(
        opens(places.OFFER_FORM, then=KEPT)
    ),
    Act("buy", "b", "buy", "Buy the unit: it goes into the queue with all that was typed", UNIT).by(
        BUY_OFFER, SETTLED, NO_OFFER
    ),
    Act("decline", "x", "decline", "Decline the offer, with a reason", UNIT).by(
        asks_why(
            "Decline {open_offer_name}",
            "bench.work.buying:leave_offer",
            "open_offer.offer_id",
            draft="decline {open_offer.offer_id}",
            says="Declined. It can be undone.",
        ),
        SETTLED,
        NO_OFFER,
    ),
    Act("all", "a", "open/all", "Show the open offers only, or all", THIS),
    BUY_LOT,
    UNDO,
    BACK,
)
OFFER = on("offer", Act("buy", "f2", "buy", "Keep the offer and buy it", UNIT))
LOT_FORM = on(
    "lot_form",
    Act("one_more", "f2", "one more", "One more unit in the lot", UNIT),
    Act("one_less", "f4", "one less", "Leave out the last unit", UNIT),
)
LOTS = on(
    "lots",
    enter("open", "Go to the lot's units; open the unit"),
    NEXT_PANEL,
    replace(
        BUY_LOT,
        keys="n",
        ways=(opens(places.LOT_FORM, then="bench.dashboard.screens.lots:LotsScreen.bought"),),
    ),
    Act("share", "s", "share again", "Share the price again by what is expected now", THIS).by(
        opens("bench.dashboard.screens.dialogs.buying_forms:ShareForm", "lot.lot_id"),
        "There is no lot under the cursor.",
    ),
    DONOR,
    UNDO,
    BACK,
)
