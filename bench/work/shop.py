"""Set the shop's settings: its name, money, zone, rate, and when a timer counts as forgotten."""

from __future__ import annotations

from sqlmodel import select

from bench.desk import Desk
from bench.domain.durations import read_minutes
from bench.domain.money import minor_digits, read_money
from bench.domain.text import clean_line
from bench.domain.typed import TypedFields, read_field, read_whole
from bench.domain.weeks import zone_named
from bench.errors import BadInput, Refused
from bench.store.tables import (
    Channel,
    Comeback,
    Lot,
    Movement,
    Offer,
    Part,
    Purchase,
    Sale,
    Shop,
    Trade,
    Unit,
    WayOut,
)
from bench.work.change import Change, change
from bench.work.lookups import shop_of
from bench.work.names import tells_if_changed

MOST_TIMES = 100
MOST_LEAST_MINUTES = 10_000

# Every amount that is kept in minor units of the shop's currency, but for its rate, which is typed anew.
AMOUNTS = (
    *(Movement.cost_minor, Unit.price_minor, Lot.price_minor, Purchase.expected_minor, Part.cost_minor),
    *(Lot.premium_minor, Lot.freight_minor, Purchase.premium_minor, Purchase.freight_minor),
    *(Offer.asking_minor, Offer.expected_minor, Offer.parts_minor, Channel.fee_fixed_minor),
    *(Offer.freight_minor, Offer.shipping_minor, Purchase.shipping_minor),
    *(Sale.price_minor, Sale.fee_minor, Sale.shipping_minor, Comeback.refund_minor),
    *(Comeback.fee_back_minor, Comeback.postage_minor, WayOut.price_minor, WayOut.proceeds_minor),
    Trade.wanted_margin_minor,
)


def edit_shop(
    desk: Desk,
    *,
    name: str,
    currency: str,
    zone: str,
    rate_text: str,
    forgotten_times_text: str,
    forgotten_least_text: str,
) -> None:
    """Set the shop's settings; all of them, as typed. An empty rate is 0.

    Refused: a currency with other decimals once amounts are kept, since each would mean something else.
    """
    with change(desk, "settings") as made:
        shop = shop_of(made.session)
        code, rate = currency.strip().upper(), rate_text.strip()
        fields = TypedFields()
        fields.read("currency", check_currency, made, shop, code)
        shop.name = fields.read("name", clean_line, name, "The shop's name")
        place = fields.read("zone", zone_named, zone.strip())
        shop.forgotten_times = fields.read(
            "forgotten_times_text", read_whole, forgotten_times_text, "Times the estimate", 1, MOST_TIMES
        )
        shop.forgotten_least_minutes = fields.read("forgotten_least_text", _least, forgotten_least_text)
        fields.check()
        shop.currency, shop.zone = code, place.key
        shop.rate_minor_per_hour = read_field("rate_text", read_money, rate, code) if rate else 0
        tells_if_changed(made, "Changed the shop's settings")


def _least(text: str) -> int:
    least = read_minutes(text)
    if least > MOST_LEAST_MINUTES:
        raise BadInput(f"{least} minutes is too long.", f"Give at most {MOST_LEAST_MINUTES} minutes.")
    return least


def check_currency(made: Change, shop: Shop, code: str) -> None:
    """Pass, or raise Refused where amounts are kept that another currency's decimals would change."""
    if minor_digits(code) == minor_digits(shop.currency):
        return
    if any(made.session.exec(select(column).where(column != 0).limit(1)).first() for column in AMOUNTS):
        raise Refused(
            f"Prices are kept in {shop.currency}, and {code} has other decimals: each would be read wrong.",
            "Begin a new data file for another currency.",
        )
