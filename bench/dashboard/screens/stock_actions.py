"""What the keys of the stock screens do to the consumable they mean."""

from __future__ import annotations

from abc import abstractmethod

from bench.dashboard.doing import Doing, say


class StockActions(Doing):
    """Mixed into the stock screens."""

    @abstractmethod
    def consumable_here(self) -> int | None:
        """The consumable that is meant; None while there is none."""

    def action_restock(self) -> None:
        """Book a delivery."""
        from bench.dashboard.screens.dialogs.stock_forms import restock_form

        self.app.push_screen(restock_form(self.consumable_here()))

    def action_count(self) -> None:
        """Count what is there."""
        from bench.dashboard.screens.dialogs.stock_forms import count_form

        self.app.push_screen(count_form(self.consumable_here()))

    def action_add_consumable(self) -> None:
        """A new consumable."""
        from bench.dashboard.screens.dialogs.stock_forms import consumable_form

        self.app.push_screen(consumable_form())

    def action_edit_consumable(self) -> None:
        """Its particulars."""
        consumable_id = self.consumable_here()
        if consumable_id is not None:
            from bench.dashboard.screens.dialogs.stock_forms import consumable_form

            self.app.push_screen(consumable_form(consumable_id))

    def action_remove_consumable(self) -> None:
        """Take it off the list; its movements stay, and it can be undone."""
        consumable_id, desk = self.consumable_here(), self.desk
        if consumable_id is None:
            return

        def work() -> None:
            from bench.work.consumables import remove_consumable

            remove_consumable(desk, consumable_id)

        self.change(work, lambda _: say(self.app, "Taken off the list. It can be undone."))
