"""The keys of the screens around the bench: buying, condition, drives, money, selling, and what follows."""

from __future__ import annotations

from bench.dashboard.one_key import FIND, SAFETY, SCREENS, THIS, UNIT, Key, back, undo

FIRST_MENU = Key("first.more", "f", "more", "Buying, register, months; the unit's other sheets", SCREENS)
FIRST_MORE = (
    Key("first.next_up", "f2", "what next", "Which unit earns most for the time it takes", SCREENS),
    Key("first.buying", "f3", "buying", "The price to walk away at, and open offers", SCREENS),
    Key("first.lots", "f4", "lots", "Units bought together for one price", SCREENS),
    Key("first.register", "f5", "register", "What was bought from whom and sold to whom", SCREENS),
    Key("first.months", "f6", "month and year", "What the months and years have earned", SCREENS),
)
UNIT_MORE = Key("unit.more", "f", "more", "Its condition, drives, parts, grade, money and sale", SCREENS)

OF_THE_SHOP = (
    Key("more.next_up", "n", "What next", "which unit earns most for its time", SCREENS),
    Key("more.buying", "b", "Buying", "the price to walk away at, offers", SCREENS),
    Key("more.lots", "l", "Lots", "units bought together, donors", SCREENS),
    Key("more.register", "r", "Register", "bought from whom, sold to whom", SCREENS),
    Key("more.months", "y", "Month and year", "what the bench hour earned", SCREENS),
    Key("more.trade", "t", "Trading settings", "margin, tax, channels, grades", SCREENS),
)
OF_A_UNIT = (
    Key("more.condition", "c", "Condition", "readings before and after", UNIT),
    Key("more.wiping", "d", "Drives and wipes", "records and certificates", UNIT),
    Key("more.parts", "p", "Parts", "fitted, taken out, swapped", UNIT),
    Key("more.grading", "g", "Grade", "how each part works and looks", UNIT),
    Key("more.money", "m", "Money", "what it cost and brings", UNIT),
    Key("more.sell", "s", "Sell", "to whom, for how much", UNIT),
    Key("more.take_return", "k", "Came back", "a return after the sale", UNIT),
    Key("more.leave", "x", "Leaves, not sold", "handed back, kept, scrapped, in parts", UNIT),
    Key("more.papers", "h", "Papers", "listing, buyer's sheet, hand-over", UNIT),
)


def _open(screen: str, label: str, tooltip: str) -> Key:
    return Key(f"{screen}.open_row", "enter", label, tooltip, THIS)


def _next_panel(screen: str) -> Key:
    return Key(f"{screen}.next_panel", "tab", "next panel", "Go on to the next panel", FIND)


TRADE_KEYS: dict[str, tuple[Key, ...]] = {
    "more": (*OF_THE_SHOP, *OF_A_UNIT),
    "buying": (
        _open("buying", "open", "Open the offer, or the rows behind a line of the sum"),
        _next_panel("buying"),
        Key("buying.look", "n", "look at one", "Reckon the price for a unit, and keep the offer", UNIT),
        Key("buying.buy", "b", "buy", "Buy the unit: it goes into the queue with all that was typed", UNIT),
        Key("buying.leave", "x", "walk away", "Leave the offer, with a reason", UNIT),
        Key("buying.all", "a", "open/all", "Show the open offers only, or all", THIS),
        Key("buying.buy_lot", "l", "buy a lot", "Several units for one price", UNIT),
        undo("buying"),
        back("buying"),
    ),
    "offer": (Key("offer.buy", "f2", "buy", "Keep the offer and buy it", UNIT),),
    "lot_form": (
        Key("lot_form.one_more", "f2", "one more", "One more unit in the lot", UNIT),
        Key("lot_form.one_less", "f4", "one less", "Leave out the last unit", UNIT),
    ),
    "lots": (
        _open("lots", "open", "Go to the lot's units; open the unit"),
        _next_panel("lots"),
        Key("lots.buy_lot", "n", "buy a lot", "Several units for one price", UNIT),
        Key("lots.share", "s", "share anew", "Share the price anew by what is expected now", THIS),
        Key("lots.donor", "d", "donor", "Keep the unit for its parts, or sell it whole after all", UNIT),
        undo("lots"),
        back("lots"),
    ),
    "condition": (
        Key("condition.add_reading", "n,enter", "read", "Type in what was measured", UNIT),
        Key("condition.read_file", "f", "from a file", "Read a file that was made on the unit", UNIT),
        Key("condition.weigh", "w", "weigh battery", "Keep, sell as it is or replace, by cost", UNIT),
        Key("condition.remove", "x", "remove", "Take a reading off, with a reason", UNIT),
        undo("condition"),
        back("condition"),
    ),
    "wiping": (
        _open("wiping", "open", "Go to the drive's wipes; verify or certify one"),
        _next_panel("wiping"),
        Key("wiping.add_drive", "n", "new drive", "Record a drive that is in the unit", UNIT),
        Key("wiping.record", "w", "wiped", "Record that the drive was wiped", UNIT),
        Key("wiping.verify", "v", "verify", "Record how the wipe was verified, and the result", UNIT),
        Key("wiping.certificate", "c", "certificate", "The certificate of sanitization, to save", UNIT),
        Key("wiping.edit_drive", "e", "edit", "Set the drive's particulars right", UNIT),
        Key("wiping.move_drive", "m", "move", "Put the drive into another unit or on the shelf", UNIT),
        Key("wiping.without", "o", "go on without", "List the unit without a wipe, with a reason", SAFETY),
        Key("wiping.remove", "x", "remove", "Take the drive or the wipe off the records", UNIT),
        undo("wiping"),
        back("wiping"),
    ),
    "grading": (
        _open("grading", "grade", "Say how the part works and looks"),
        Key("grading.remove", "x", "remove", "Say nothing of the part any more", UNIT),
        Key("grading.sheet", "b", "buyer's sheet", "What a buyer is told, shown and saved", UNIT),
        undo("grading"),
        back("grading"),
    ),
    "money": (
        _open("money", "rows", "Go to the rows behind the line; open the row"),
        _next_panel("money"),
        Key("money.purchase", "e", "purchase", "Where it comes from and what is expected of it", UNIT),
        Key("money.sell", "s", "sell", "Sell the unit", UNIT),
        undo("money"),
        back("money"),
    ),
    "parts": (
        _open("parts", "edit", "Set the part right"),
        Key("parts.fit", "n", "bought part", "Fit a part that was bought for the unit", UNIT),
        Key("parts.take_in", "t", "from a unit", "Fit a part out of another unit or a donor", UNIT),
        Key("parts.give", "g", "take out", "Take a part out, for another unit or the shelf", UNIT),
        Key("parts.swap", "w", "swap", "Change a like part with another unit", UNIT),
        Key("parts.from_shelf", "s", "from shelf", "Fit a part that lies on the shelf", UNIT),
        Key("parts.donor", "d", "donor", "Keep the unit for its parts, or sell it whole after all", UNIT),
        undo("parts"),
        back("parts"),
    ),
    "next_up": (
        _open("next_up", "unit", "Open the unit"),
        _next_panel("next_up"),
        back("next_up"),
    ),
    "register": (
        _open("register", "unit", "Open the unit"),
        _next_panel("register"),
        Key("register.save", "s", "save", "Save the register as CSV or HTML", THIS),
        Key("register.erase", "x", "erase", "Erase a private person's data that is due", THIS),
        Key("register.erase_due", "d", "erase due", "Erase all private people's data that is due", THIS),
        back("register"),
    ),
    "months": (
        _open("months", "open", "Open the line under the cursor"),
        _next_panel("months"),
        Key("months.earlier", "left,left_square_bracket", "earlier", "The month or year before", THIS),
        Key("months.later", "right,right_square_bracket", "later", "The month or year after", THIS),
        Key("months.span", "y", "month/year", "Months or whole years", THIS),
        Key("months.now", "t", "now", "Back to the month or year we are in", THIS),
        back("months"),
    ),
    "trade": (
        Key("trade.edit", "e,enter", "edit", "Change the line under the cursor", THIS),
        Key("trade.add", "n", "new", "Add a channel or a step of the scale", THIS),
        Key("trade.earlier", "minus", "up", "Move the step one place up", THIS),
        Key("trade.later", "plus", "down", "Move the step one place down", THIS),
        Key("trade.remove", "x", "remove", "Remove the line under the cursor", THIS),
        undo("trade"),
        back("trade"),
    ),
    "papers": (
        Key("papers.next_paper", "tab", "next paper", "Show the next paper", FIND),
        Key("papers.save", "s", "save", "Save the paper that is shown", THIS),
        back("papers"),
    ),
}
