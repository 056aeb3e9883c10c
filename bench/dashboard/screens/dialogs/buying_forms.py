"""The forms of buying: who it is from, what was paid, a lot shared again, a unit kept for its parts."""

from __future__ import annotations

from typing import Any, NamedTuple

from bench.dashboard import use_cases
from bench.dashboard.presenters.lot_rows import donor_words, shared_words
from bench.dashboard.presenters.offer_rows import offer_name, price_line
from bench.dashboard.presenters.pieces import plain
from bench.dashboard.screens.dialogs.choice_fields import YES, MarkField
from bench.dashboard.screens.dialogs.described import Begun, Filled, FormOf, Typed
from bench.dashboard.screens.dialogs.field import TAG, Field
from bench.dashboard.screens.dialogs.form import Form, form
from bench.dashboard.screens.dialogs.text_fields import DAY, MONEY, SHARE, NumberField, TextField
from bench.desk import Desk
from bench.domain.lots import LotReshared
from bench.domain.money import money_or, show_money
from bench.domain.own_prices import OwnPrices
from bench.domain.party import PartyTyped
from bench.domain.percent import percent_or
from bench.domain.price_sheet import PriceSheet
from bench.domain.text import for_display
from bench.errors import KnownAlready
from bench.views.lots import LotSheet, LotUnitLine, read_lot
from bench.views.model_page import ModelWarnings, read_warnings_of
from bench.views.most_to_pay import read_offer_price
from bench.views.offers import Offer, read_offer
from bench.views.own_prices import read_own_prices
from bench.views.purchase import UnitPurchase, read_purchase

UNIT = "expected_"


def party_fields(who: str, *, papers: bool) -> tuple[Field, ...]:
    """Who is traded with: name, address, contact, and whether it is a firm.

    `papers`: also which paper was looked at.
    """
    seen = TextField("identity_seen", "ID seen", hint="where a local code asks it")
    return (
        TextField("name", who),
        TextField("address", "Address"),
        TextField("contact", "Contact", hint="mail or telephone"),
        *((seen,) if papers else ()),
        MarkField("firm", "", "a business"),
    )


def take_party(typed: Typed) -> PartyTyped | None:
    """Who was typed, taken out of the rest; None where nothing was."""
    name, address, contact, seen = (
        typed.pop(one).strip() for one in ("name", "address", "contact", "identity_seen")
    )
    private = not typed.pop("firm")
    if not any((name, address, contact, seen)):
        return None
    return PartyTyped(name, address, contact, seen, private)


class PurchaseGround(NamedTuple):
    """What the form begins with: the purchase, what the model fetched, and what goes wrong with it."""

    purchase: UnitPurchase
    prices: OwnPrices
    warnings: ModelWarnings


@form
def purchase_form(unit_id: int) -> FormOf[bool]:
    """Where a unit comes from, corrected; the price itself stands among the unit's particulars."""

    def edit(filled: Filled) -> None:
        seller = take_party(filled.typed)
        use_cases.purchases.edit_purchase(filled.desk, unit_id, seller=seller, **filled.typed)

    return FormOf(
        heading="Where it comes from",
        draft=f"purchase {unit_id}",
        fields=(
            NumberField("expected_text", "Expected price", like=MONEY),
            NumberField("bought_on_text", "Bought on", like=DAY, hint="2026-11-30 or today"),
            TextField("invoice", "Invoice number"),
            NumberField(
                "premium_text",
                "Buyer's premium",
                like=MONEY,
                hint="on the price, at an auction; empty: none",
            ),
            NumberField("freight_text", "Freight", like=MONEY, hint="to bring it here; empty: none"),
            NumberField("shipping_text", "Shipping", like=MONEY, hint="to its buyer, expected; 0: none"),
            *party_fields("Seller", papers=True),
        ),
        known="",
        reads=lambda desk: PurchaseGround(
            read_purchase(desk, unit_id),
            read_own_prices(desk, unit_id, falls=False),
            read_warnings_of(desk, unit_id),
        ),
        begins=_begin_purchase,
        does=edit,
    )


def _begin_purchase(ground: PurchaseGround) -> Begun:
    """The seller is only typed to name another one. What the model fetched before suggests a price."""
    purchase, prices = ground.purchase, ground.prices
    told = (prices.words, ground.warnings.had)
    return Begun(
        heading=f"Where {purchase.tag} comes from",
        values={
            "expected_text": money_or(purchase.expected_minor, purchase.currency),
            "bought_on_text": purchase.bought_on.isoformat() if purchase.bought_on else "",
            "invoice": purchase.invoice,
            "premium_text": money_or(purchase.premium_minor or None, purchase.currency),
            "freight_text": money_or(purchase.freight_minor or None, purchase.currency),
            "shipping_text": money_or(purchase.shipping_minor, purchase.currency),
        },
        hints={
            "name": f"stays {purchase.seller}" if purchase.seller else "nobody named",
            "expected_text": _suggestion(prices),
        },
        known="\n".join(filter(None, (_purchase_words(purchase), *map(for_display, told)))),
    )


def _suggestion(prices: OwnPrices) -> str:
    suggested = prices.suggested_minor
    if suggested is None:
        return "once it is repaired"
    return f"by {len(prices.sales)} sold: {show_money(suggested, prices.currency)}"


def _purchase_words(purchase: UnitPurchase) -> str:
    """What was paid, of which lot it is, and until when it is held back."""
    paid = "no price typed"
    if purchase.price_minor is not None:
        paid = show_money(purchase.price_minor, purchase.currency)
    words = [f"share of the lot {for_display(purchase.lot)}: {paid}" if purchase.lot else f"paid: {paid}"]
    words += ["kept for its parts"] if purchase.donor else []
    words += [f"not altered or sold before {purchase.free_from}"] if purchase.free_from else []
    return " · ".join(words)


@form
def buy_form(offer_id: int) -> FormOf[int]:
    """An offer turned into a unit in the queue; answers the unit's number."""

    def read(desk: Desk) -> tuple[Offer, PriceSheet]:
        return read_offer(desk, offer_id), read_offer_price(desk, offer_id)

    def buy(filled: Filled) -> tuple[int, str]:
        added = use_cases.buying.buy_offer(filled.desk, offer_id, **filled.typed)
        tasks = f"{added.tasks} task{'' if added.tasks == 1 else 's'}"
        return added.unit_id, f"Bought as {added.tag}, {tasks}."

    return FormOf(
        heading="Buy",
        draft=f"buy {offer_id}",
        fields=(
            NumberField("price_text", "Price paid", like=MONEY, hint="such as 120 or 99.50"),
            NumberField("premium_text", "Buyer's premium", like=SHARE, hint="percent, on top of the price"),
            NumberField("freight_text", "Freight", like=MONEY, hint="what bringing it here cost"),
            NumberField("shipping_text", "Shipping", like=MONEY, hint="to its buyer, expected"),
            NumberField("bought_on_text", "Bought on", like=DAY, hint="empty: today"),
            TextField("invoice", "Invoice"),
            NumberField("due_text", "Due", like=DAY, hint="2026-11-30, tomorrow or +14"),
            TextField("tag_text", "Tag", takes=TAG, hint="empty: the next number"),
        ),
        send="Buy",
        known="",
        reads=read,
        begins=_begin_buying,
        does=buy,
        asks=(KnownAlready,),
        says=lambda bought: str(bought[1]),
        answers=lambda bought: int(bought[0]),
    )


def _begin_buying(facts: tuple[Offer, PriceSheet]) -> Begun:
    """What the seller asks, what else the offer knows, and the most to pay."""
    offer, price = facts
    asked = money_or(offer.asking_minor, offer.currency)
    return Begun(
        heading=f"Buy {offer_name(offer)}",
        values={"price_text": asked, **extra_values(offer)},
        known=plain(price_line(price)),
    )


def extra_values(offer: Offer) -> dict[str, str]:
    """What a purchase takes besides its price, by field; empty where it was not typed."""
    return {
        "premium_text": percent_or(offer.premium_per_10000),
        "freight_text": money_or(offer.freight_minor, offer.currency),
        "shipping_text": money_or(offer.shipping_minor, offer.currency),
    }


class ShareForm(Form[bool]):
    """A lot's price shared again, by what each unit that is not sold yet is expected to sell for now."""

    def __init__(self, lot_id: int) -> None:
        def share(filled: Filled) -> LotReshared:
            expected = {int(name.removeprefix(UNIT)): typed for name, typed in filled.typed.items()}
            return use_cases.lots.reshare_lot(filled.desk, lot_id, expected=expected)

        super().__init__(
            FormOf(
                heading="Share the lot again",
                draft=f"share {lot_id}",
                send="Share again",
                known="",
                reads=lambda desk: read_lot(desk, lot_id),
                does=share,
                says=lambda shared: shared_words(shared.shares, shared.currency),
            )
        )

    def begin(self, facts: LotSheet) -> None:
        """A field for each unit; a donor counts with what its parts are worth."""
        price = show_money(facts.price_minor, facts.currency)
        self.tell("heading", f"Share {facts.name} again: {price}. The expected price of each unit:")
        self.tell("known", facts.rule)
        fields = [_share_field(one, facts.currency) for one in facts.lines if not one.sold]
        self.add_fields(fields, before="#known")
        if fields:
            self.begin_in(fields[0])


def _share_field(unit: LotUnitLine, currency: str) -> Field:
    value = money_or(unit.expected_minor, currency)
    words = f"{unit.tag} {unit.model}" + (" (donor)" if unit.donor else "")
    return NumberField(f"{UNIT}{unit.unit_id}", words, like=MONEY, value=value)


class DonorForm(Form[bool]):
    """Marks a unit as kept for its parts, or to be sold whole after all; its lot may be shared again."""

    def __init__(self, unit_id: int) -> None:
        def mark(filled: Filled) -> Any:
            use_case = use_cases.lots.end_donor if filled.facts.donor else use_cases.lots.make_donor
            return use_case(filled.desk, unit_id, **filled.typed)

        super().__init__(
            FormOf(
                heading="Donor",
                draft=f"donor {unit_id}",
                fields=(
                    NumberField(
                        "expected_text",
                        "Expected",
                        like=MONEY,
                        hint="what its parts are worth; empty: 0",
                    ),
                    MarkField("reshare", "", "share its lot again", value=YES),
                ),
                enter=True,
                reads=lambda desk: read_purchase(desk, unit_id),
                begins=_begin_donor,
                does=mark,
                says=donor_words,
            )
        )

    def begin(self, facts: UnitPurchase) -> None:
        """Without a lot there is nothing to share."""
        super().begin(facts)
        self.field("reshare").display = facts.lot_id is not None


def _begin_donor(purchase: UnitPurchase) -> Begun:
    if purchase.donor:
        return Begun(
            heading=f"Sell {purchase.tag} whole after all",
            hints={"expected_text": "sold whole, not for parts"},
        )
    return Begun(heading=f"Keep {purchase.tag} for its parts")
