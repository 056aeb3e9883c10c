"""What was delivered: packs or amount, price, supplier, date and expiry."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from bench.dashboard.presenters.parts import Part
from bench.dashboard.presenters.stock_choices import pack_words, shelf_life_words, suggested_packs
from bench.dashboard.screens.dialogs.field import AMOUNT, DAY, MONEY, WHOLE, Field, NumberField, TextField
from bench.dashboard.screens.dialogs.stock_form import StockForm
from bench.domain.stock_levels import StockLine

TYPED = ("packs_text", "quantity_text", "price_text", "supplier", "date_text", "expires_text")


class RestockDialog(StockForm):
    """Books a delivery; the packs that would be ordered now stand there already."""

    verb = "Restock"

    def fields(self) -> Sequence[Field]:
        """The consumable where none was named, then the delivery."""
        return (
            *self.chooser(),
            NumberField("packs_text", "Packs", like=WHOLE),
            NumberField("quantity_text", "or amount", like=AMOUNT),
            NumberField("price_text", "Price paid", like=MONEY, hint="for all of it"),
            TextField("supplier", "Supplier"),
            NumberField("date_text", "Date", like=DAY, hint="empty: today"),
            NumberField("expires_text", "Expires", like=DAY),
        )

    def know(self, line: StockLine) -> None:
        """The packs to order, what a pack holds, how long it keeps."""
        self.field("packs_text").start(suggested_packs(line))
        self.field("quantity_text").tell(Part(line.base_unit, "muted"))
        expires = self.field("expires_text")
        assert isinstance(expires, TextField)
        expires.hint(shelf_life_words(line))
        self.told(pack_words(line))

    def work(self) -> Callable[[], Any]:
        """Book the delivery. An amount typed counts instead of the packs that were only suggested."""
        consumable_id = self.which()
        desk = self.desk
        typed = {name: self.value(name) for name in TYPED}
        if typed["quantity_text"].strip() and not self.field("packs_text").changed:
            typed["packs_text"] = ""

        def restock() -> object:
            from bench.work.stock import restock

            return restock(desk, consumable_id, **typed)

        return restock
