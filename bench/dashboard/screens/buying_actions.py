"""What the keys of buying do: look at a unit, buy it, walk away from it, buy a lot."""

from __future__ import annotations

from abc import abstractmethod

from bench.dashboard.doing import Doing, say
from bench.dashboard.presenters.offer_rows import offer_name
from bench.domain.offers import OPEN
from bench.views.offers import Offer

NO_OFFER = "There is no offer under the cursor."


class BuyingActions(Doing):
    """Mixed into the buying screen, which says which offer is meant."""

    every: bool

    @abstractmethod
    def offer_here(self) -> Offer | None:
        """The offer under the cursor."""

    @abstractmethod
    def go_to_offer(self, offer_id: int) -> None:
        """Put the cursor on this offer as soon as it is shown."""

    @abstractmethod
    def show_every(self, every: bool) -> None:
        """The open offers only, or all."""

    def action_look(self) -> None:
        """Reckon the price for a unit, as it is typed."""
        self._open_form(None)

    def action_open_offer(self) -> None:
        """Set the offer right; for one that was bought, open the unit."""
        offer = self.offer_here()
        if offer is None:
            return
        if offer.unit_id is not None:
            self._open_unit(offer.unit_id)
        elif offer.state == OPEN:
            self._open_form(offer.offer_id)
        else:
            say(self.app, "This offer was left: look at the unit anew.")

    def action_buy(self) -> None:
        """Buy the unit that is offered."""
        offer = self._open_offer_or_say()
        if offer is not None:
            self._buy(offer.offer_id)

    def action_leave(self) -> None:
        """Walk away."""
        offer, desk = self._open_offer_or_say(), self.desk
        if offer is None:
            return
        from bench.dashboard.screens.dialogs.questions import ReasonDialog

        def given(reason: str | None) -> None:
            if reason is None:
                return

            def work() -> None:
                from bench.work.buying import leave_offer

                leave_offer(desk, offer.offer_id, reason)

            self.change(work, lambda _: say(self.app, "Left. It can be undone."))

        self.app.push_screen(
            ReasonDialog(f"Walk away from {offer_name(offer)}", "Why", draft=f"decline {offer.offer_id}"),
            given,
        )

    def action_all(self) -> None:
        """Open offers only, or all."""
        self.show_every(not self.every)

    def action_buy_lot(self) -> None:
        """Several units for one price."""
        from bench.dashboard.screens.dialogs.lot import LotForm

        self.app.push_screen(LotForm(), self._open_lot)

    def _open_form(self, offer_id: int | None) -> None:
        from bench.dashboard.screens.dialogs.offer import Kept, OfferForm

        def kept(answer: Kept | None) -> None:
            if answer is not None:
                self.go_to_offer(answer.offer_id)
                if answer.buy:
                    self._buy(answer.offer_id)

        self.app.push_screen(OfferForm(offer_id), kept)

    def _buy(self, offer_id: int) -> None:
        from bench.dashboard.screens.dialogs.buying_forms import buy_form

        def bought(unit_id: int | None) -> None:
            if unit_id is not None:
                self._open_unit(unit_id)

        self.app.push_screen(buy_form(offer_id), bought)

    def _open_unit(self, unit_id: int) -> None:
        from bench.dashboard.screens.unit import UnitScreen

        self.app.push_screen(UnitScreen(unit_id))

    def _open_lot(self, lot_id: int | None) -> None:
        if lot_id is not None:
            from bench.dashboard.screens.lots import LotsScreen

            self.app.push_screen(LotsScreen(lot_id))

    def _open_offer_or_say(self) -> Offer | None:
        offer = self.offer_here()
        if offer is None:
            say(self.app, NO_OFFER)
        elif offer.state != OPEN:
            say(self.app, f"This offer is {offer.state} already.")
            return None
        return offer
