"""A stocktake: all consumables in one table, what lies there typed beside each, one reason for all."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from textual.widget import Widget

from bench.dashboard import use_cases
from bench.dashboard.presenters.pieces import Part
from bench.dashboard.screens.dialogs.described import FormOf
from bench.dashboard.screens.dialogs.form import LONG, Form
from bench.dashboard.screens.dialogs.text_fields import AMOUNT, NumberField, TextField
from bench.domain.quantities import show_quantity
from bench.domain.stock_levels import StockTaken
from bench.views.scans import Found
from bench.views.stock import StockBook, read_stock

REASON = "reason"
COUNTED = "counted_"
AMOUNT_CELLS = 12


class StocktakeForm(Form[bool]):
    """A line a consumable; an empty one was not counted. Saved at once, undone at once."""

    label_cells = 29
    fills_again = False  # what lies there is looked at each time

    def __init__(self) -> None:
        super().__init__(
            FormOf(
                heading="Stocktake",
                draft="stocktake",
                wide=True,
                fields=(TextField(REASON, "Reason", hint="such as: month end"),),
                known="What is left empty was not counted and stays as it is.",
                reads=lambda desk: read_stock(desk),
                says=_taken_words,
            )
        )

    def begin(self, facts: StockBook) -> None:
        """A field for each consumable, by name, with what the book says behind it."""
        lines = sorted(facts.lines, key=lambda one: one.name.casefold())
        fields = []
        for line in lines:
            field = NumberField(f"{COUNTED}{line.consumable_id}", line.name, like=AMOUNT)
            field.most_cells = AMOUNT_CELLS
            field.tell(
                Part(f"{line.base_unit}; book: {show_quantity(line.on_hand, line.base_unit)}", "muted")
            )
            fields.append(field)
        self.set_class(len(fields) + 1 > LONG, "long")
        self.add_fields(fields, before=f"#field-{REASON}")
        self._fields[REASON] = self._fields.pop(REASON)  # stays the last
        if fields:
            self.begin_in(fields[0])

    def keeps_scan(self, widget: Widget) -> bool:
        """A scan is looked up in whatever field it comes: it says what is counted next."""
        del widget
        return False

    def scanned(self, found: Found) -> bool:
        """Go to the line of the consumable that was scanned."""
        field = self._fields.get(f"{COUNTED}{found.consumable_id}")
        if field is not None:
            field.take_focus()
        return field is not None

    def work(self) -> Callable[[], Any]:
        """Book what was counted."""
        desk, reason = self.desk, self.value(REASON)
        counted = {
            int(name.removeprefix(COUNTED)): field.value
            for name, field in self._fields.items()
            if name != REASON
        }
        return lambda: use_cases.stock.take_stock(desk, counted=counted, reason=reason)


def _taken_words(taken: StockTaken) -> str:
    """How many were counted, and which were not as the book said."""
    apart = (
        f"Other than the book said: {', '.join(taken.differing)}." if taken.differing else "All as booked."
    )
    return f"{taken.count} counted. {apart}"
