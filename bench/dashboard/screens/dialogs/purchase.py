"""Where a unit comes from: when and from whom it was bought, and what is expected of it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any

from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from bench.dashboard.presenters.purchase_values import purchase_values, purchase_words
from bench.dashboard.screens.dialogs.field import DAY, MONEY, Field, NumberField, TextField
from bench.dashboard.screens.dialogs.form import Form
from bench.dashboard.screens.dialogs.party_fields import party_fields, party_in
from bench.views.purchase import UnitPurchase

TYPED = ("expected_text", "bought_on_text", "invoice", "premium_text", "freight_text", "shipping_text")


class PurchaseForm(Form[bool]):
    """Sets right what is kept of a purchase; the price itself stands among the unit's particulars."""

    def __init__(self, unit_id: int) -> None:
        super().__init__("Where it comes from", draft=f"purchase {unit_id}")
        self.unit_id = unit_id

    def fields(self) -> Sequence[Field]:
        """What is expected, the day, the invoice, and the seller where another one is typed."""
        return (
            NumberField("expected_text", "Expected price", like=MONEY, hint="what it is to sell for"),
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
        )

    def body(self) -> Iterable[Widget]:
        """The fields, then what is kept of it."""
        yield from super().body()
        yield Static(id="known", markup=False)

    def read(self) -> UnitPurchase:
        """The purchase as it is."""
        from bench.views.purchase import read_purchase

        return read_purchase(self.desk, self.unit_id)

    def begin(self, facts: UnitPurchase) -> None:
        """Show it as it is; the seller is only typed to name another one."""
        self.query_one("#heading", Static).update(Content(f"Where {facts.tag} comes from"))
        for name, value in purchase_values(facts).items():
            self.field(name).start(value)
        seller = self.field("name")
        assert isinstance(seller, TextField)
        seller.hint(f"stays {facts.seller}" if facts.seller else "nobody named")
        self.query_one("#known", Static).update(Content(purchase_words(facts)))

    def work(self) -> Callable[[], Any]:
        """Set it right."""
        desk, unit_id = self.desk, self.unit_id
        typed: dict[str, str] = {name: self.value(name) for name in TYPED}
        seller = party_in(self._fields)

        def edit() -> None:
            from bench.work.purchases import edit_purchase

            edit_purchase(desk, unit_id, **typed, seller=seller)

        return edit
