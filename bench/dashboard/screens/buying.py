"""Buying: open offers, the most to pay for the one under the cursor, and what was seen of it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from pathlib import PurePath
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.widget import Widget

from bench.dashboard.acts import places
from bench.dashboard.acts.buying import OPEN_OFFER
from bench.dashboard.keys import key_shown
from bench.dashboard.presenters.offer_rows import (
    FINDINGS,
    doubt_lines,
    finding_rows,
    offer_name,
    offers_head,
    sum_rows,
)
from bench.dashboard.reading import Reading, none_if_gone
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.line_list import LineList
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.dashboard.widgets.steady import Stacked
from bench.domain.offers import OPEN
from bench.domain.price_sheet import PriceSheet
from bench.views.kinds import PLAIN, context_of
from bench.views.most_to_pay import read_offer_price
from bench.views.offers import Offer, read_offers
from bench.views.tables.offers import OFFERS, SUM

if TYPE_CHECKING:
    from bench.dashboard.screens.dialogs.offer import Kept


PRICE_ROWS = "bench.dashboard.screens.price_rows:PriceRowsScreen"

Offers = tuple[Offer, ...]


class BuyingScreen(Sheet[Offers]):
    """Offers on the left, the sum and the list at the seller's table on the right. `every`: all offers."""

    keys = "buying"
    CSS_PATH: ClassVar[list[str | PurePath]] = ["sheet.tcss", "buying.tcss"]

    def __init__(self, *, every: bool = False) -> None:
        super().__init__()
        self.every = every
        self.price: PriceSheet | None = None
        self._prices = Reading(self, self._read_price, self._show_price)

    def panels(self) -> Iterable[Widget]:
        """Offers; the sum; what was seen."""
        new = key_shown("buying.look", self.bench.own_keys)
        none = f"No open offer. {new} calculates the price for a unit."
        yield RowTable(replace(OFFERS, empty=none), stays_lit=True, id="offers")
        with Stacked(id="right"):
            yield RowTable(SUM, id="sum")
            yield LinesPanel(title="Based on", id="based_on")
            yield RowTable(FINDINGS, id="findings")

    def read(self) -> Callable[[], Offers]:
        """The open offers, or all."""
        desk, state = self.desk, None if self.every else OPEN

        return lambda: read_offers(desk, state)

    def show(self, facts: Offers) -> None:
        """The offers; the price of the one under the cursor follows."""
        self._show_head()
        self._fill_offers(facts)

    def offer_here(self) -> Offer | None:
        """The offer under the cursor."""
        key = self.table("offers").key
        return next((one for one in self.facts or () if one.offer_id == key), None)

    def go_to_offer(self, offer_id: int) -> None:
        """Put the cursor on this offer."""
        self._fill_offers(self.facts or (), at=offer_id)

    def open_offer_here(self) -> Offer | None:
        """The offer under the cursor while it is open."""
        offer = self.offer_here()
        return offer if offer is not None and offer.state == OPEN else None

    def open_offer_name_here(self) -> str | None:
        """The unit that it offers, in words."""
        offer = self.open_offer_here()
        return offer_name(offer) if offer is not None else None

    def action_all(self) -> None:
        """The open offers only, or all."""
        self.every = not self.every
        self.ask()

    def open_row(self) -> None:
        """The rows behind a line of the sum; anywhere else the offer, or the unit that it became."""
        sums, offer = self.table("sum"), self.offer_here()
        if offer is None:
            return
        if sums.is_current:
            opens = sums.key[0] if isinstance(sums.key, tuple) else None
            if opens is not None:
                self.open_screen(PRICE_ROWS, str(opens), offer.route_id, offer.channel_id)
        elif offer.unit_id is not None:
            self.open_screen(places.UNIT, offer.unit_id)
        else:
            self.carry_out(OPEN_OFFER, "This offer was declined: look at the unit again.")

    def kept(self, answer: Kept, *_given: object) -> None:
        """The offer was kept: the cursor goes to it; where it is to be bought, that is asked next."""
        self.go_to_offer(answer.offer_id)
        if answer.buy:
            self.open_screen(places.BUY_FORM, answer.offer_id, then=self.bought)

    def bought(self, unit_id: int, *_given: object) -> None:
        """The unit was bought: open it."""
        self.open_screen(places.UNIT, unit_id)

    def bought_lot(self, lot_id: int) -> None:
        """A lot was bought: open it."""
        self.open_screen(places.LOTS, lot_id)

    @on(LineList.Moved, "#offers RowList")
    def _moved(self) -> None:
        offer = self.offer_here()
        self.table("findings").show(finding_rows(offer) if offer is not None else ())
        self._prices.ask()

    def _fill_offers(self, offers: Sequence[Offer], *, at: int | None = None) -> None:
        context = context_of(offers[0]) if offers else PLAIN
        self.table("offers").fill(offers, context, at=at)

    def _show_head(self) -> None:
        offers, price, every = self.facts or (), self.price, self.every
        self.query_one("#head", LinesPanel).show(lambda width: offers_head(offers, price, width, every=every))

    def _read_price(self) -> Callable[[], PriceSheet | None]:
        desk, offer = self.desk, self.offer_here()
        if offer is None:
            return lambda: None
        return none_if_gone(lambda: read_offer_price(desk, offer.offer_id))

    def _show_price(self, price: PriceSheet | None) -> None:
        self.price = price
        self._show_head()
        self.table("sum").show(sum_rows(price) if price is not None else ())
        self.query_one("#based_on", LinesPanel).show(lambda width: doubt_lines(price, width))
