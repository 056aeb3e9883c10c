"""Buying what was looked at: what is paid, when, and by when it is to be done."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any

from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from bench.dashboard.doing import say
from bench.dashboard.presenters.offer_fields import extra_values
from bench.dashboard.presenters.offer_rows import offer_name, price_line
from bench.dashboard.presenters.parts import plain
from bench.dashboard.screens.dialogs.ask_twice import AsksTwice
from bench.dashboard.screens.dialogs.field import DAY, MONEY, SHARE, TAG, Field, NumberField, TextField
from bench.domain.money import show_money
from bench.domain.price_sheet import PriceSheet
from bench.views.offers import Offer

EXTRAS = ("premium_text", "freight_text", "shipping_text")
TYPED = ("price_text", *EXTRAS, "bought_on_text", "invoice", "due_text", "tag_text")


class BuyForm(AsksTwice[int]):
    """Turns the offer into a unit in the queue; answers the unit's number."""

    send_label = "Buy"

    def __init__(self, offer_id: int) -> None:
        super().__init__("Buy", draft=f"buy {offer_id}")
        self.offer_id = offer_id

    def fields(self) -> Sequence[Field]:
        """The price paid, and what a new unit needs besides."""
        return (
            NumberField("price_text", "Price paid", like=MONEY, hint="such as 120 or 99.50"),
            NumberField("premium_text", "Buyer's premium", like=SHARE, hint="percent, on top of the price"),
            NumberField("freight_text", "Freight", like=MONEY, hint="what bringing it here cost"),
            NumberField("shipping_text", "Shipping", like=MONEY, hint="to its buyer, expected"),
            NumberField("bought_on_text", "Bought on", like=DAY, hint="empty: today"),
            TextField("invoice", "Invoice"),
            NumberField("due_text", "Due", like=DAY, hint="2026-11-30, tomorrow or +14"),
            TextField("tag_text", "Tag", takes=TAG, hint="empty: the next number"),
        )

    def body(self) -> Iterable[Widget]:
        """The fields, then the price to walk away at."""
        yield from super().body()
        yield Static(id="known", markup=False)

    def read(self) -> tuple[Offer, PriceSheet]:
        """The offer and its price."""
        from bench.views.offers import read_offer
        from bench.work.walk_away import read_offer_price

        return read_offer(self.desk, self.offer_id), read_offer_price(self.desk, self.offer_id)

    def begin(self, facts: tuple[Offer, PriceSheet]) -> None:
        """Begin with what the seller asks, and what else the offer knows."""
        offer, price = facts
        self.query_one("#heading", Static).update(Content(f"Buy {offer_name(offer)}"))
        if offer.asking_minor is not None:
            self.field("price_text").start(show_money(offer.asking_minor, offer.currency))
        for name, value in extra_values(offer).items():
            self.field(name).start(value)
        self.query_one("#known", Static).update(Content(plain(price_line(price))))

    def work(self) -> Callable[[], Any]:
        """Buy it."""
        desk, offer_id = self.desk, self.offer_id
        typed = {name: self.value(name) for name in TYPED} | {"again": self.again}

        def buy() -> tuple[int, str]:
            from bench.work.buying import buy_offer

            added = buy_offer(desk, offer_id, **typed)
            tasks = f"{added.tasks} task{'' if added.tasks == 1 else 's'}"
            return added.unit_id, f"Bought as {added.tag}, {tasks}."

        return buy

    def answer(self, bought: tuple[int, str]) -> int:
        """The unit's number."""
        return bought[0]

    def sent(self, result: tuple[int, str]) -> None:
        """Say which tag it has."""
        say(self.app, result[1])
        super().sent(result)
