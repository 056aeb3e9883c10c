"""What a task takes of a consumable."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from bench.dashboard.presenters.parts import Part
from bench.dashboard.screens.dialogs.field import AMOUNT, Field, NumberField
from bench.dashboard.screens.dialogs.stock_form import StockForm
from bench.desk import Desk
from bench.domain.quantities import plain_number, show_quantity
from bench.domain.stock_levels import StockLine

SetUse = Callable[[Desk, int, str], Any]


class UseForm(StockForm):
    """Asks for an amount of a consumable; 0 or nothing typed takes it off. `uses`: what it takes now."""

    verb = "Takes"

    def __init__(self, task: str, set_use: SetUse, uses: Mapping[int, int], *, draft: str) -> None:
        super().__init__(draft=draft)
        self.heading = f"What does {task} take?"
        self.set_use = set_use
        self.uses = dict(uses)

    def fields(self) -> Sequence[Field]:
        """The consumable and how much of it."""
        return (*self.chooser(), NumberField("quantity_text", "Amount", like=AMOUNT, hint="0 or empty: none"))

    def know(self, line: StockLine) -> None:
        """What the task takes of it now."""
        quantity = self.uses.get(line.consumable_id, 0)
        field = self.field("quantity_text")
        field.start(plain_number(quantity) if quantity else "")
        field.tell(Part(line.base_unit, "muted"))
        self.told(f"Takes {show_quantity(quantity, line.base_unit)} now.")

    def work(self) -> Callable[[], Any]:
        """Set the amount."""
        consumable_id = self.which()
        desk, set_use, quantity_text = self.desk, self.set_use, self.value("quantity_text")
        return lambda: set_use(desk, consumable_id, quantity_text)
