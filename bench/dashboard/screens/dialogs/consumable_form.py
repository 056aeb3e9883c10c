"""A consumable added to the shelf, or its particulars set right."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from bench.dashboard.presenters.consumable_fields import consumable_values
from bench.dashboard.screens.dialogs.choice_field import ChoiceField
from bench.dashboard.screens.dialogs.field import AMOUNT, CODE, WHOLE, Field, NumberField, TextField
from bench.dashboard.screens.dialogs.form import Form
from bench.domain.quantities import UNITS
from bench.domain.stock_levels import StockLine

TYPED = (
    "name",
    "base_unit",
    "pack_text",
    "lead_days_text",
    "shelf_life_text",
    "reorder_text",
    "hazard",
    "code",
)


class ConsumableForm(Form[bool]):
    """Asks for a consumable's particulars; without `consumable_id` it is new."""

    def __init__(self, consumable_id: int | None = None, *, code: str = "") -> None:
        super().__init__(
            "New consumable" if consumable_id is None else "Consumable",
            draft=f"consumable_form {consumable_id or 'new'}",
        )
        self.consumable_id = consumable_id
        self._code = code

    def fields(self) -> Sequence[Field]:
        """All that is kept of a consumable."""
        return (
            TextField("name", "Name"),
            ChoiceField("base_unit", "Kept in", [(unit, unit) for unit in UNITS], none=None, value=UNITS[0]),
            NumberField("pack_text", "A pack holds", like=AMOUNT, hint="such as 1000 or 4.5"),
            NumberField("lead_days_text", "Delivery days", like=WHOLE, hint="from order to shelf"),
            NumberField("shelf_life_text", "Shelf life", like=WHOLE, hint="days; empty: it keeps"),
            NumberField("reorder_text", "Order at", like=AMOUNT, hint="empty: from use"),
            TextField("hazard", "Caution", hint="what can hurt, in a line"),
            TextField("code", "Code", takes=CODE, hint="scan it off the pack"),
        )

    def read(self) -> StockLine | None:
        """The consumable as it is."""
        if self.consumable_id is None:
            return None
        from bench.views.stock import read_history

        return read_history(self.desk, self.consumable_id).line

    def begin(self, facts: StockLine | None) -> None:
        """Show the consumable as it is."""
        if facts is not None:
            for name, value in consumable_values(facts).items():
                self.field(name).start(value)
        if self._code:
            self.field("code").put(self._code)

    def work(self) -> Callable[[], Any]:
        """Add the consumable, or edit it."""
        desk, consumable_id = self.desk, self.consumable_id
        typed = {name: self.value(name) for name in TYPED}

        def write() -> object:
            from bench.work.stock import add_consumable, edit_consumable

            if consumable_id is None:
                return add_consumable(desk, **typed)
            edit_consumable(desk, consumable_id, **typed)
            return consumable_id

        return write
