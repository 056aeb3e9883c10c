"""Money: a unit's sum, its papers, what next by what it earns, the register, months and years."""

from __future__ import annotations

from bench.dashboard.acts import places
from bench.dashboard.acts.act import FIND, THIS, UNIT, Act, asks_why, on, opens
from bench.dashboard.acts.common import BACK, NEXT_PANEL, SAVES, UNDO, enter
from bench.domain.three_ways import AS_IS, PART_OUT

NO_LISTING = "This paper is no listing."
FOR_GOOD = "cannot be undone; copies made before keep it"
PURCHASE_OF = opens("bench.dashboard.screens.dialogs.buying_forms:purchase_form", "unit.unit_id")

MONEY = on(
    "money",
    enter("rows", "Go to the rows behind the line; open the row"),
    NEXT_PANEL,
    Act("purchase", "e", "purchase", "Where it comes from and what is expected of it", UNIT).by(PURCHASE_OF),
    Act("sell", "s", "sell", "Sell the unit", UNIT).by(opens(places.SELL_FORM, "unit.unit_id", "unit.tag")),
    UNDO,
    BACK,
)
THREE_WAYS = on(
    "three_ways",
    enter("unit", "Open the faults, or the unit that was sold"),
    NEXT_PANEL,
    Act("as_is", "a", "as is", "Say what it fetches as it is", UNIT).by(
        opens(places.WAY_FORM, "unit.unit_id", way=AS_IS)
    ),
    Act("part_out", "p", "in parts", "Say what it fetches in parts", UNIT).by(
        opens(places.WAY_FORM, "unit.unit_id", way=PART_OUT)
    ),
    Act("purchase", "e", "expected", "Say what it fetches once it is repaired", UNIT).by(PURCHASE_OF),
    UNDO,
    BACK,
)
NEXT_UP = on("next_up", enter("unit", "Open the unit"), NEXT_PANEL, BACK)
REGISTER = on(
    "register",
    enter("unit", "Open the unit"),
    NEXT_PANEL,
    Act("save", "s", "save", "Save the register as CSV or HTML", THIS).by(
        SAVES, "The register is still being read. Save it in a moment."
    ),
    Act("erase", "x", "erase", "Erase a private person's data that is due", THIS).by(
        asks_why(
            f"Erase party {{party.party_id}}: {FOR_GOOD}",
            "bench.dashboard.screens.register:erase_party",
            "party.party_id",
            draft="erase {party.party_id}",
            says="{answer}",
        ),
        "There is nobody under the cursor.",
    ),
    Act("erase_due", "d", "erase due", "Erase all private people's data that is due", THIS).by(
        asks_why(
            f"Erase everyone who is due: {FOR_GOOD}",
            "bench.dashboard.screens.register:erase_due",
            draft="erase due",
            says="{answer}",
        )
    ),
    BACK,
)
MONTHS = on(
    "months",
    enter("open", "Open the line under the cursor"),
    NEXT_PANEL,
    Act("earlier", "left,left_square_bracket", "earlier", "The month or year before", THIS),
    Act("later", "right,right_square_bracket", "later", "The month or year after", THIS),
    Act("span", "m", "month/year", "Months or whole years", THIS),
    Act("now", "t", "now", "Back to the month or year we are in", THIS),
    BACK,
)
PAPERS = on(
    "papers",
    Act("next_paper", "tab", "next paper", "Show the next paper", FIND),
    Act("save", "s", "save", "Save the paper that is shown", THIS).by(
        SAVES, "{paper.text}", "There is no paper yet."
    ),
    Act("listing", "e", "price", "What the listing asks, and says of sending", UNIT).by(
        opens(places.LISTING_FORM, "listing"), NO_LISTING
    ),
    Act("words", "t", "words", "In whose words every listing stands", THIS).by(
        opens(places.LISTING_WORDS_FORM, "listing.trade"), NO_LISTING
    ),
    UNDO,
    BACK,
)
