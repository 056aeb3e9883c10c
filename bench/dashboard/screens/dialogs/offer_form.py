"""A unit looked at before paying: the price to walk away at is reckoned as it is typed."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import PurePath
from typing import Any, ClassVar, NamedTuple

from textual import on
from textual.binding import BindingType
from textual.containers import Container
from textual.widget import Widget
from textual.widgets import Button, Input

from bench.dashboard.keys import bindings_for
from bench.dashboard.presenters.offer_fields import offer_values, sum_lines
from bench.dashboard.presenters.trade_choices import channel_choices, route_names
from bench.dashboard.presenters.unit_fields import usual_route
from bench.dashboard.reading import Reading
from bench.dashboard.screens.dialogs.choice import Choice
from bench.dashboard.screens.dialogs.choice_field import ChoiceField
from bench.dashboard.screens.dialogs.dialog import FormScroll
from bench.dashboard.screens.dialogs.field import (
    MONEY,
    SERIAL,
    SHARE,
    Field,
    NoteField,
    NumberField,
    TextField,
)
from bench.dashboard.screens.dialogs.form import Form
from bench.dashboard.screens.dialogs.party_fields import party_fields, party_in
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.domain.offers import TABLE_ITEMS, OfferTyped
from bench.domain.price_sheet import PriceSheet
from bench.errors import BadInput, NotFound
from bench.views.offers import Offer
from bench.views.routes import RouteLine
from bench.views.trade import ChannelLine

ROUTE, CHANNEL = "route", "channel"
FINDING = "finding_"
SUMMED = ("expected_text", "parts_text", "asking_text", "premium_text", "freight_text", "shipping_text")


class Kept(NamedTuple):
    """The offer that was kept, and whether it is to be bought now."""

    offer_id: int
    buy: bool


@dataclass(frozen=True, slots=True)
class OfferGround:
    """What an offer starts from; `offer`: the one to set right."""

    routes: tuple[RouteLine, ...]
    channels: tuple[ChannelLine, ...]
    currency: str
    offer: Offer | None


class OfferForm(Form[Kept]):
    """Asks for a unit's figures and what was seen of it. Without `offer_id` it is looked at anew."""

    CSS_PATH: ClassVar[list[str | PurePath]] = ["dialog.tcss", "offer_form.tcss"]
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("offer")
    HORIZONTAL_BREAKPOINTS: ClassVar[list[tuple[int, str]]] = [(0, "-narrow"), (112, "-normal")]  # type: ignore[misc]
    send_label = "Keep the offer"
    label_cells = 31

    def __init__(self, offer_id: int | None = None) -> None:
        super().__init__(
            "Look at a unit" if offer_id is None else "Offer", draft=f"offer {offer_id or 'new'}"
        )
        self.offer_id = offer_id
        self._buy = False
        self._price = Reading(self, self._read_price, self._show_price)

    def fields(self) -> Sequence[Field]:
        """The figures of the sum first, then the list at the seller's table, then the rest."""
        return (
            TextField("model", "Model"),
            TextField("maker", "Maker"),
            NumberField("expected_text", "Sells for", like=MONEY, hint="what it is to bring"),
            ChoiceField(ROUTE, "Route", none="no route: no time, no parts"),
            ChoiceField(CHANNEL, "Channel", none="no channel: no fees"),
            NumberField("parts_text", "Parts to buy", like=MONEY, hint="such as 25; empty: none"),
            NumberField("asking_text", "Seller asks", like=MONEY),
            NumberField("premium_text", "Buyer's premium", like=SHARE, hint="percent on the price"),
            NumberField("freight_text", "Freight", like=MONEY, hint="to bring it here; 0: none"),
            NumberField("shipping_text", "Shipping", like=MONEY, hint="to its buyer; 0: none"),
            *(_finding(item, label) for item, label in TABLE_ITEMS.items()),
            TextField("serial", "Serial number", takes=SERIAL),
            *party_fields("Seller", papers=True),
            NoteField("note", "Note"),
        )

    def body(self) -> Iterable[Widget]:
        """The fields beside the sum, or above it where there is no room."""
        with Container(id="halves"):
            with FormScroll(id="typed"):
                yield from super().body()
            yield LinesPanel(id="sum")

    def buttons(self) -> Iterable[Button]:
        """Keep it, or keep and buy it."""
        yield self.button("Buy…", "buy")
        yield from super().buttons()

    def read(self) -> OfferGround:
        """Routes, channels, and the offer as it is."""
        from bench.views.offers import read_offer
        from bench.views.routes import read_routes
        from bench.views.shop import read_shop
        from bench.views.trade import read_channels

        desk, offer_id = self.desk, self.offer_id
        offer = None if offer_id is None else read_offer(desk, offer_id)
        return OfferGround(read_routes(desk), read_channels(desk), read_shop(desk).currency, offer)

    def begin(self, facts: OfferGround) -> None:
        """Offer routes and channels; a new unit begins with the shop's oldest route and its first channel."""
        route, channel = self.field(ROUTE), self.field(CHANNEL)
        assert isinstance(route, ChoiceField)
        assert isinstance(channel, ChoiceField)
        channels = channel_choices(facts.channels, facts.currency)
        route.offer(route_names(facts.routes))
        channel.offer(channels)
        if facts.offer is None:
            route.start(usual_route(facts.routes))
            channel.start(channels[0][0] if channels else "")
        else:
            for name, value in offer_values(facts.offer).items():
                self.field(name).start(value)
            self._name_seller(facts.offer.seller)
        self._price.ask()

    def work(self) -> Callable[[], Any]:
        """Keep the offer."""
        desk, offer_id, typed = self.desk, self.offer_id, self.typed()

        def keep() -> int:
            from bench.work.buying import edit_offer, save_offer

            if offer_id is None:
                return save_offer(desk, typed)
            edit_offer(desk, offer_id, typed)
            return offer_id

        return keep

    def typed(self) -> OfferTyped:
        """All that stands in the form."""
        names = ("model", "maker", "serial", "note", *SUMMED)
        found = {item: self.value(f"{FINDING}{item}") for item in TABLE_ITEMS}
        return OfferTyped(
            **{name: self.value(name) for name in names},
            route_id=self._number(ROUTE),
            channel_id=self._number(CHANNEL),
            seller=party_in(self._fields),
            findings={item: words for item, words in found.items() if words.strip()},
        )

    def answer(self, offer_id: int) -> Kept:
        """The offer's number, and whether it is to be bought."""
        return Kept(offer_id, self._buy)

    def action_send(self) -> None:
        """Keep it."""
        self._buy = False
        super().action_send()

    def action_buy(self) -> None:
        """Keep it and go on to buying it."""
        self._buy = True
        super().action_send()

    def _name_seller(self, seller: str) -> None:
        name = self.field("name")
        assert isinstance(name, TextField)
        name.hint(f"stays {seller}" if seller else "")

    def _number(self, name: str) -> int | None:
        return int(self.value(name)) if self.value(name) else None

    @on(Input.Changed)
    @on(Choice.Changed)
    def _reckon(self) -> None:
        self._price.ask()

    def _read_price(self) -> Callable[[], PriceSheet | str]:
        desk, route_id, channel_id = self.desk, self._number(ROUTE), self._number(CHANNEL)
        typed = {name: self.value(name) for name in SUMMED}

        def work() -> PriceSheet | str:
            from bench.work.walk_away import read_walk_away

            if not typed["expected_text"].strip():
                return "The price to walk away at is reckoned as you type: begin with what it sells for."
            try:
                return read_walk_away(desk, route_id=route_id, channel_id=channel_id, **typed)
            except (BadInput, NotFound) as error:  # half a number while it is being typed
                return str(error)

        return work

    def _show_price(self, price: PriceSheet | str) -> None:
        doubts = 1 if self.has_class("-narrow") else 9
        self.query_one("#sum", LinesPanel).show(lambda width: sum_lines(price, width, doubts))


def _finding(item: str, label: str) -> TextField:
    return TextField(f"{FINDING}{item}", label.capitalize(), hint="empty: not looked at")
