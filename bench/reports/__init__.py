"""Documents made from the answers of use cases: text for a terminal, CSV, JSON.

JSON and CSV share these rules; a change of them raises SHAPE, a change of one document its number in SHAPES:

* keys are our own field names in snake_case; every document begins with `document` and `shape`;
* an instant is `*_us`, microseconds UTC since 1970, and beside it `*_local`, the shop's time with its offset;
* a length of time is `*_us`, exact, and beside it `*_minutes`, the nearest whole minute, a half away from 0:
  add up the microseconds, not the minutes;
* a quantity is `*_thousandths` of the base unit named beside it; money is `*_minor` of the currency named;
* a day is written 2026-11-25, a week 2026-W48, yes and no as true and false; what is not known is null (empty
  in CSV);
* a word stands for one thing, as on screen: hands-on and machine time, cost so far, proceeds, on hold;
* text from people stands as it was typed; CSV marks what a spreadsheet would run as a formula with a ' in
  front.
"""

SHAPE = 1

# Documents whose fields changed since the first shape.
SHAPES = {
    "month": 5,
    "year": 5,
    "week": 4,
    "unit": 4,
    "unit_money": 3,
    "returned": 2,
    "register": 3,
    "sold": 2,
    "listing": 2,
    "queue": 4,
    "stock": 2,
    "consumable": 2,
    "next": 2,
    "buyer_sheet": 2,
    "parts": 2,
    "shelf": 2,
    "trade": 2,
    "check": 2,
    "copies": 2,
    "erased": 2,
    "copy_made": 2,
    "safety": 2,
    "forecast": 2,
    "most_to_pay": 2,
    "job": 2,
    "forgotten": 2,
    "started": 2,
    "test_ended": 2,
    "offers": 2,
    "offer": 2,
    "calculation": 2,
    "calculators": 2,
}
