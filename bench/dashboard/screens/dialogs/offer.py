"""A unit looked at before paying: the most to pay is calculated as it is typed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import ClassVar, NamedTuple

from textual.binding import BindingType
from textual.widget import Widget
from textual.widgets import Button

from bench.dashboard import use_cases
from bench.dashboard.keys import bindings_for
from bench.dashboard.presenters.offer_rows import doubt_look
from bench.dashboard.presenters.pieces import Line, Part, fit, wrap
from bench.dashboard.screens.dialogs.buying_forms import extra_values, party_fields, take_party
from bench.dashboard.screens.dialogs.choice_fields import ChoiceField
from bench.dashboard.screens.dialogs.described import Begun, Filled, FormOf
from bench.dashboard.screens.dialogs.dialog import FormScroll
from bench.dashboard.screens.dialogs.field import SERIAL, Field
from bench.dashboard.screens.dialogs.form import Form
from bench.dashboard.screens.dialogs.selling_forms import channel_choices
from bench.dashboard.screens.dialogs.text_fields import MONEY, SHARE, NoteField, NumberField, TextField
from bench.dashboard.screens.dialogs.unit_forms import usual_route
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.steady import Stacked
from bench.desk import Desk
from bench.domain.money import money_or, show_money
from bench.domain.offers import NOTHING_NOTED, TABLE_ITEMS, OfferTyped
from bench.domain.own_prices import OwnPrices
from bench.domain.price_sheet import PriceSheet
from bench.domain.text import for_display
from bench.errors import BadInput, NotFound
from bench.views.model_page import ModelWarnings, read_model_warnings
from bench.views.most_to_pay import read_most_to_pay
from bench.views.offers import Offer, read_offer
from bench.views.own_prices import read_model_prices
from bench.views.routes import RouteLine, read_routes
from bench.views.shop import read_shop
from bench.views.tables.offers import asked_look, asked_words, price_lines
from bench.views.trade import ChannelLine, read_channels

ROUTE, CHANNEL = "route", "channel"
FINDING = "finding_"
AMOUNT_CELLS = 10
MOST_FAULTS = 4
SUMMED = ("expected_text", "parts_text", "asking_text", "premium_text", "freight_text", "shipping_text")


class Kept(NamedTuple):
    """The offer that was kept, and whether it is to be bought now."""

    offer_id: int
    buy: bool


class Known(NamedTuple):
    """What the shop knows of a model: what its units fetched, its traps, and the faults that they had."""

    prices: OwnPrices
    warnings: ModelWarnings


@dataclass(frozen=True, slots=True)
class OfferGround:
    """What an offer starts from; `offer`: the one to corrected."""

    routes: tuple[RouteLine, ...]
    channels: tuple[ChannelLine, ...]
    currency: str
    offer: Offer | None


class OfferForm(Form[Kept]):
    """Asks for a unit's figures and what was seen of it. Without `offer_id` it is looked at again."""

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("offer")
    HORIZONTAL_BREAKPOINTS: ClassVar[list[tuple[int, str]]] = [(0, "-narrow"), (112, "-normal")]  # type: ignore[misc]
    label_cells = 31

    def __init__(self, offer_id: int | None = None) -> None:
        self.offer_id = offer_id
        self._buy = False
        super().__init__(
            FormOf(
                heading="Look at a unit" if offer_id is None else "Offer",
                draft=f"offer {offer_id or 'new'}",
                fields=_offer_fields(),
                send="Keep the offer",
                watches=("maker", "model", *SUMMED, ROUTE, CHANNEL),
                looks_up=self._calculate,
                reads=self._read,
                begins=_begin_offer,
                does=self._keep_offer,
                answers=lambda kept: Kept(kept, self._buy),
            )
        )

    def body(self) -> Iterable[Widget]:
        """The fields beside the sum, or above it where there is no room."""
        with Stacked(id="halves"):
            with FormScroll(id="typed"):
                yield from super().body()
            yield LinesPanel(id="sum")

    def buttons(self) -> Iterable[Button]:
        """Keep it, or keep and buy it."""
        yield self.button("Buy…", "buy")
        yield from super().buttons()

    def begin(self, facts: OfferGround) -> None:
        """Begin with the sum as well."""
        super().begin(facts)
        self.follow()

    def action_send(self) -> None:
        """Keep it."""
        self._buy = False
        super().action_send()

    def action_buy(self) -> None:
        """Keep it and go on to buying it."""
        self._buy = True
        super().action_send()

    def _read(self, desk: Desk) -> OfferGround:
        offer = None if self.offer_id is None else read_offer(desk, self.offer_id)
        currency = read_shop(desk).currency
        return OfferGround(read_routes(desk), read_channels(desk), currency, offer)

    def _keep_offer(self, filled: Filled) -> int:
        typed = filled.typed
        found = {item: typed.pop(f"{FINDING}{item}") for item in TABLE_ITEMS}
        route_id, channel_id, seller = typed.pop(ROUTE), typed.pop(CHANNEL), take_party(typed)
        offer = OfferTyped(
            **typed,
            route_id=route_id,
            channel_id=channel_id,
            seller=seller,
            findings={item: words for item, words in found.items() if words.strip()},
        )
        if self.offer_id is None:
            return use_cases.buying.save_offer(filled.desk, offer)
        use_cases.buying.edit_offer(filled.desk, self.offer_id, offer)
        return self.offer_id

    def _calculate(self, desk: Desk, values: Mapping[str, str]) -> Begun:
        typed = {name: values[name] for name in SUMMED}
        route, channel = values[ROUTE], values[CHANNEL]
        price: PriceSheet | str
        if not typed["expected_text"].strip():
            price = "The most to pay is calculated as you type: begin with the expected price."
        else:
            try:
                price = read_most_to_pay(
                    desk,
                    route_id=int(route) if route else None,
                    channel_id=int(channel) if channel else None,
                    **typed,
                )
            except (BadInput, NotFound) as error:  # half a number while it is being typed
                price = str(error)
        known = _known(desk, values["maker"], values["model"])
        return Begun(panel=lambda width: self._panel_lines(price, known, width))

    def _panel_lines(self, price: PriceSheet | str, known: Known | None, width: int) -> tuple[Line, ...]:
        """The sum, and below it what the shop knows of the model, where there is room for that."""
        narrow = self.has_class("-narrow")
        told = () if known is None or narrow else _known_lines(known, width)
        return (*_sum_lines(price, width, 1 if narrow else 9), *told)


def _known(desk: Desk, maker: str, model: str) -> Known | None:
    """What the shop knows of the model that is typed; None while none is."""
    try:
        return Known(
            read_model_prices(desk, maker, model, falls=False), read_model_warnings(desk, maker, model)
        )
    except BadInput:  # half a name while it is being typed
        return None


def _known_lines(known: Known, width: int) -> tuple[Line, ...]:
    words = [(known.prices.words, "")] if known.prices.sales else []
    traps, faults = known.warnings.traps, known.warnings.faults
    words += [(f"Traps: {traps}", "warning")] if traps else []
    words += [(f"Had: {one.words}", "warning") for one in faults[:MOST_FAULTS]]
    more = len(faults) - MOST_FAULTS
    words += [(f"and {more} more on the model's page", "muted")] if more > 0 else []
    lines = [(Part(line, look),) for told, look in words for line in wrap(for_display(told), width)]
    return ((Part("what the shop knows of it", "strong"),), *lines) if lines else ()


def _offer_fields() -> tuple[Field, ...]:
    """The figures of the sum first, then the list at the seller's table, then the rest."""
    return (
        TextField("model", "Model"),
        TextField("maker", "Maker"),
        NumberField("expected_text", "Expected price", like=MONEY),
        ChoiceField(ROUTE, "Route", none="no route: no time, no parts", ids=True),
        ChoiceField(CHANNEL, "Channel", none="no channel: no fees", ids=True),
        NumberField("parts_text", "Parts to buy", like=MONEY, hint="such as 25; empty: none"),
        NumberField("asking_text", "Seller asks", like=MONEY),
        NumberField("premium_text", "Buyer's premium", like=SHARE, hint="percent on the price"),
        NumberField("freight_text", "Freight", like=MONEY, hint="to bring it here; 0: none"),
        NumberField("shipping_text", "Shipping", like=MONEY, hint="to its buyer; 0: none"),
        *(
            TextField(f"{FINDING}{item}", label.capitalize(), hint="empty: not looked at")
            for item, label in TABLE_ITEMS.items()
        ),
        TextField("serial", "Serial number", takes=SERIAL),
        *party_fields("Seller", papers=True),
        NoteField("note", "Note"),
    )


def _begin_offer(ground: OfferGround) -> Begun:
    """A new unit begins with the shop's oldest route and its first channel."""
    channels, offer = channel_choices(ground.channels, ground.currency), ground.offer
    if offer is None:
        values = {ROUTE: usual_route(ground.routes), CHANNEL: channels[0][0] if channels else ""}
    else:
        values = _offer_values(offer)
    return Begun(
        choices={
            ROUTE: tuple((str(one.route_id), one.name) for one in ground.routes),
            CHANNEL: channels,
        },
        values=values,
        hints={"name": f"stays {offer.seller}"} if offer is not None and offer.seller else {},
    )


def _offer_values(offer: Offer) -> dict[str, str]:
    """What the form begins with, by field; the seller is only typed to name another one."""
    asking = money_or(offer.asking_minor, offer.currency)
    return {
        "model": offer.model,
        "maker": offer.maker,
        "serial": offer.serial,
        "note": offer.note,
        "route": str(offer.route_id or ""),
        "channel": str(offer.channel_id or ""),
        "expected_text": show_money(offer.expected_minor, offer.currency),
        "parts_text": show_money(offer.parts_minor, offer.currency) if offer.parts_minor else "",
        "asking_text": asking,
        **extra_values(offer),
        **{f"finding_{one.item}": one.words or (NOTHING_NOTED if one.seen else "") for one in offer.findings},
    }


def _sum_lines(price: PriceSheet | str, width: int, most_doubts: int) -> tuple[Line, ...]:
    """The sum at the median and, careful, at the 80th percentile; a sentence while it cannot be calculated.

    `most_doubts`: for how many sentences on how sure it is there is room.
    """
    if isinstance(price, str):
        return tuple((Part(line, "muted"),) for line in wrap(price, width))
    names = width - 2 * (AMOUNT_CELLS + 1)
    head = (Part(" " * names), Part(fit(" 50 %", AMOUNT_CELLS + 1, right=True), "muted"))
    lines: list[Line] = [(*head, Part(fit(" 80 %", AMOUNT_CELLS + 1, right=True), "muted"))]
    for line in price_lines(price):
        most, careful = _bare(line.amount_50_minor or 0, price), _bare(line.amount_80_minor or 0, price)
        lines.append(_line(line.words, most, careful, names, line.look))
    if price.asking_minor is not None:
        lines.append((Part(asked_words(price), asked_look(price)),))
    meant = f"all in {price.currency}; 80 %: with the time that 80 % of jobs kept to"
    lines += [(Part(line, "muted"),) for line in wrap(meant, width)]
    for doubt in price.doubts[:most_doubts]:
        lines += [(Part(line, doubt_look(price, doubt)),) for line in wrap(doubt, width)]
    more = len(price.doubts) - most_doubts
    lines += [(Part(f"and {more} more to doubt, see the offer", "warning"),)] if more > 0 else []
    return tuple(lines)


def _line(words: str, shown: str, careful: str, names: int, look: str = "") -> Line:
    return (
        Part(fit(words, names), look),
        Part(" " + fit(shown, AMOUNT_CELLS, right=True), look),
        Part(" " + fit(careful, AMOUNT_CELLS, right=True), look or "muted"),
    )


def _bare(minor: int, price: PriceSheet) -> str:
    return show_money(minor, price.currency).removesuffix(f" {price.currency}")
