"""The forms of a listing: what a unit's asks, and in whose words every listing stands."""

from __future__ import annotations

from bench.dashboard import use_cases
from bench.dashboard.screens.dialogs.described import Begun, FormOf
from bench.dashboard.screens.dialogs.form import form
from bench.dashboard.screens.dialogs.text_fields import MONEY, NoteField, NumberField, TextField
from bench.domain.listing_template import BUILT_IN, NAMES
from bench.domain.money import money_or, show_money
from bench.views.listing import Listing
from bench.views.trade import TradeSettings


@form
def listing_form(listing: Listing) -> FormOf[bool]:
    """The price asked, with what the shop's own sales suggest, and what is said of sending."""
    prices, sheet = listing.prices, listing.sheet
    suggested, said = prices.suggested_minor, listing.trade.listing_shipping

    def begin(_: None) -> Begun:
        price = money_or(listing.price_minor, prices.currency)
        return Begun(
            values={"price_text": price, "shipping": listing.own_shipping},
            hints={"shipping": f"empty: {said}" if said else "such as: sent insured for 8, or fetched"},
            known=prices.words,
        )

    hint = "empty: not said"
    if suggested is not None:
        hint = f"by {len(prices.sales)} sold: {show_money(suggested, prices.currency)}"
    return FormOf(
        heading=f"Listing of {sheet.tag}",
        draft=f"listing {sheet.unit_id}",
        fields=(
            NumberField("price_text", "Price asked", like=MONEY, hint=hint),
            TextField("shipping", "Shipping"),
        ),
        known="",
        begins=begin,
        does=lambda filled: use_cases.listing.set_listing(filled.desk, sheet.unit_id, **filled.typed),
    )


@form
def listing_words_form(trade: TradeSettings) -> FormOf[bool]:
    """The shop's template of a listing, the built-in one to begin with, and what it says of sending."""

    def begin(_: None) -> Begun:
        return Begun(
            values={
                "template": trade.listing_template or BUILT_IN,
                "shipping": trade.listing_shipping,
            }
        )

    return FormOf(
        heading="Words of every listing",
        draft="listing_words_form",
        wide=True,
        fields=(
            NoteField("template", "Words", lines=9),
            TextField("shipping", "Shipping", hint="of every unit without words of its own"),
        ),
        known=f"Records stand for {', '.join(f'${name}' for name in NAMES)}. Empty: the built-in words.",
        begins=begin,
        does=lambda filled: use_cases.listing.set_listing_words(filled.desk, **filled.typed),
    )
