"""What was counted on the shelf, set against the book."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from bench.dashboard.presenters.parts import Part
from bench.dashboard.presenters.stock_choices import level_words
from bench.dashboard.screens.dialogs.field import AMOUNT, Field, NumberField, TextField
from bench.dashboard.screens.dialogs.stock_form import StockForm
from bench.domain.stock_levels import StockLine


class CountDialog(StockForm):
    """Sets the level to what was counted, with a reason for the difference."""

    verb = "Count"

    def fields(self) -> Sequence[Field]:
        """The consumable where none was named, then the count."""
        return (
            *self.chooser(),
            NumberField("quantity_text", "Counted", like=AMOUNT),
            TextField("reason", "Reason", hint="such as: monthly count, or a spill"),
        )

    def know(self, line: StockLine) -> None:
        """The unit to count in, and what the book says."""
        self.field("quantity_text").tell(Part(line.base_unit, "muted"))
        self.told(level_words(line))

    def work(self) -> Callable[[], Any]:
        """Set the level."""
        consumable_id = self.which()
        desk, quantity_text, reason = self.desk, self.value("quantity_text"), self.value("reason")

        def count() -> object:
            from bench.work.stock import count_stock

            return count_stock(desk, consumable_id, quantity_text=quantity_text, reason=reason)

        return count
