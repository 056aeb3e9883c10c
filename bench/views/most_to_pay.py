"""The most to pay of a unit that is looked at: from the shop's own times, stock and settings."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass

from bench.desk import Desk
from bench.domain.durations import MINUTE_US
from bench.domain.money import read_money
from bench.domain.most_to_pay import (
    CONSUMABLES,
    FEES,
    FEW_JOBS,
    MARGIN,
    NO_PRICE,
    RESERVE,
    TAX,
    TIME,
    Basis,
    MostToPay,
    TimeGuess,
    UseCost,
    cost_of_use,
    most_to_pay_for,
)
from bench.domain.percent import read_percent, show_percent
from bench.domain.price_sheet import Fetched, PastJob, PriceSheet, RouteCost, price_at_risk, risk_words
from bench.domain.return_rate import FEW_SALES, ReturnRate
from bench.domain.statistics_of_work import spread
from bench.errors import NotFound
from bench.views import past_jobs as reads
from bench.views import rates as rate_reads
from bench.views import routes as route_reads
from bench.views import stock as stock_reads
from bench.views import trade as trade_reads
from bench.views.offers import offer as read_one_offer
from bench.views.routes import RouteSheet
from bench.views.shop import ShopFacts, facts
from bench.views.trade import ChannelLine, TradeSettings

SETTING = "the shop's setting"
TYPED = "typed for this unit"


@dataclass(frozen=True)
class PriceGround:
    """All that the file has to say about a unit on this route, sold through this channel."""

    shop: ShopFacts
    trade: TradeSettings
    channel: ChannelLine | None
    route: RouteSheet | None
    jobs: tuple[PastJob, ...]
    cost: RouteCost
    fetched: tuple[Fetched, ...]
    returns: ReturnRate

    @property
    def reserve_per_10000(self) -> int:
        """What is put by of a price: by the shop's returns where enough sales tell, else its flat share."""
        known = self.returns.reserve_per_10000
        return self.trade.risk_reserve_per_10000 if known is None else known


def read_most_to_pay(
    desk: Desk,
    *,
    expected_text: str,
    route_id: int | None,
    channel_id: int | None,
    parts_text: str = "",
    shipping_text: str = "",
    freight_text: str = "",
    premium_text: str = "",
    reserve_text: str = "",
    wanted_text: str = "",
    asking_text: str = "",
) -> PriceSheet:
    """The most to pay for a unit expected to sell for so much, with every line and how sure it is.

    `shipping_text`: to the buyer. `freight_text`: to bring it here. `premium_text`: on the price, in percent.
    Nothing typed of these is not known, and said so.
    Nothing typed for the reserve (in percent) takes what the shop's returns say, or its setting while too few
    sales tell; for the margin wanted, its setting. BadInput for what cannot be read, NotFound for a route or
    channel that is not there.
    """
    with desk.store.read() as connection:
        ground = ground_of(connection, route_id, channel_id, desk.clock.now_us())
    currency = ground.shop.currency
    return _sheet(
        ground,
        expected_minor=read_money(expected_text, currency),
        parts_minor=_amount(parts_text, currency) or 0,
        shipping_minor=_amount(shipping_text, currency),
        freight_minor=_amount(freight_text, currency),
        premium=read_percent(premium_text, "The buyer's premium") if premium_text.strip() else None,
        reserve=read_percent(reserve_text, "The risk reserve") if reserve_text.strip() else None,
        wanted_minor=_amount(wanted_text, currency),
        asking_minor=_amount(asking_text, currency),
    )


def read_offer_price(desk: Desk, offer_id: int) -> PriceSheet:
    """The most to pay of an offer as it stands in the file. NotFound when there is no such offer."""
    with desk.store.read() as connection:
        offer = read_one_offer(connection, offer_id)
        ground = ground_of(connection, offer.route_id, offer.channel_id, desk.clock.now_us())
    return _sheet(
        ground,
        expected_minor=offer.expected_minor,
        parts_minor=offer.parts_minor,
        shipping_minor=offer.shipping_minor,
        freight_minor=offer.freight_minor,
        premium=offer.premium_per_10000,
        reserve=None,
        wanted_minor=None,
        asking_minor=offer.asking_minor,
    )


def ground_of(
    connection: sqlite3.Connection, route_id: int | None, channel_id: int | None, now_us: int
) -> PriceGround:
    """All that the sum rests on. NotFound for a route or channel that is not there."""
    route = None if route_id is None else route_reads.sheet(connection, route_id)
    channel = None if channel_id is None else trade_reads.channel(connection, channel_id)
    if route_id is not None and route is None:
        raise NotFound(f"There is no route with number {route_id}.", "Choose one that is there.")
    if channel_id is not None and channel is None:
        raise NotFound(f"There is no channel with number {channel_id}.", "Choose one that is there.")
    return PriceGround(
        shop=facts(connection),
        trade=trade_reads.settings(connection),
        channel=channel,
        route=route,
        jobs=() if route_id is None else reads.past_jobs(connection, route_id),
        cost=_cost(connection, route),
        fetched=reads.fetched(connection),
        returns=rate_reads.returns(connection, now_us),
    )


def _cost(connection: sqlite3.Connection, route: RouteSheet | None) -> RouteCost:
    """The route's consumables at what they would cost now, several tasks' use of one taken together."""
    if route is None:
        return RouteCost(())
    layers = stock_reads.layers(connection, facts(connection).zone)
    newest = reads.newest_prices(connection)
    wanted: dict[int, tuple[str, str, int]] = {}
    for use in (use for task in route.tasks for use in task.uses):
        before = wanted.get(use.consumable_id, ("", "", 0))[2]
        wanted[use.consumable_id] = (use.name, use.base_unit, before + use.quantity)
    uses = []
    for number, (name, base_unit, quantity) in wanted.items():
        cost, basis = cost_of_use(layers.get(number, ()), quantity, newest.get(number))
        uses.append(UseCost(number, name, base_unit, quantity, cost, basis))
    return RouteCost(tuple(uses))


def _sheet(
    ground: PriceGround,
    *,
    expected_minor: int,
    parts_minor: int,
    shipping_minor: int | None,
    freight_minor: int | None,
    premium: int | None,
    reserve: int | None,
    wanted_minor: int | None,
    asking_minor: int | None,
) -> PriceSheet:
    time = _time(ground)
    share = ground.reserve_per_10000 if reserve is None else reserve
    wanted = ground.trade.wanted_margin_minor if wanted_minor is None else wanted_minor
    answer = most_to_pay_for(
        expected_minor=expected_minor,
        fee_per_10000=ground.channel.fee_per_10000 if ground.channel else 0,
        fee_fixed_minor=ground.channel.fee_fixed_minor if ground.channel else 0,
        parts_minor=parts_minor,
        shipping_minor=shipping_minor,
        freight_minor=freight_minor,
        premium_per_10000=premium,
        consumables_minor=ground.cost.cost_minor,
        time=time,
        rate_minor_per_hour=ground.shop.rate_minor_per_hour,
        reserve_per_10000=share,
        wanted_margin_minor=wanted,
        tax_per_10000=ground.trade.tax_per_10000,
        basis=_basis(ground, share, reserve is None, wanted_minor is None),
    )
    risk = price_at_risk(
        expected_minor=expected_minor,
        fetched=ground.fetched,
        times_us=_times(ground),
        costs_minor=parts_minor + ground.cost.cost_minor + (shipping_minor or 0) + (freight_minor or 0),
        premium_per_10000=premium or 0,
        fee_per_10000=ground.channel.fee_per_10000 if ground.channel else 0,
        fee_fixed_minor=ground.channel.fee_fixed_minor if ground.channel else 0,
        rate_minor_per_hour=ground.shop.rate_minor_per_hour,
        tax_per_10000=ground.trade.tax_per_10000,
        chance_per_10000=ground.trade.loss_chance_per_10000,
    )
    untyped = _untyped(
        {
            "shipping to the buyer": shipping_minor,
            "inward freight": freight_minor,
            "buyer's premium": premium,
        }
    )
    return PriceSheet(
        route_id=ground.route.route_id if ground.route else None,
        route=ground.route.name if ground.route else "",
        channel_id=ground.channel.channel_id if ground.channel else None,
        channel=ground.channel.name if ground.channel else "",
        time=time,
        answer=answer,
        risk=risk,
        doubts=(*_doubts(ground, answer), *untyped, risk_words(risk, ground.shop.currency)),
        asking_minor=asking_minor,
        currency=ground.shop.currency,
    )


def _time(ground: PriceGround) -> TimeGuess:
    """Median and 80th percentile of past jobs; the route's own estimate while there are few."""
    spent = spread([job.hands_on_us for job in ground.jobs])
    if spent is not None and spent.count >= FEW_JOBS:
        return TimeGuess(spent.median_us, spent.p80_us, spent.count)
    estimate_us = ground.route.hands_on_minutes * MINUTE_US if ground.route else 0
    return TimeGuess(estimate_us, estimate_us, len(ground.jobs))


def _times(ground: PriceGround) -> tuple[int, ...]:
    """How long past jobs of the route took; the route's own estimate while there are few."""
    if len(ground.jobs) >= FEW_JOBS:
        return tuple(job.hands_on_us for job in ground.jobs)
    return (ground.route.hands_on_minutes * MINUTE_US if ground.route else 0,)


def _basis(ground: PriceGround, share: int, reserve_set: bool, wanted_set: bool) -> dict[str, Basis]:
    jobs, trade = len(ground.jobs), ground.trade
    tasks = sum(1 for task in ground.route.tasks if not task.unattended) if ground.route else 0
    on_history = jobs >= FEW_JOBS
    words = f"{jobs} finished jobs" if on_history else f"the route's estimate, {jobs} finished so far"
    reserve = f"{show_percent(share)} of the expected price"
    return {
        FEES: Basis(1, ground.channel.name) if ground.channel else Basis(0, "no channel chosen"),
        CONSUMABLES: Basis(len(ground.cost.uses), _price_words(ground.cost)),
        TIME: Basis(jobs if on_history else tasks, words) if ground.route else Basis(0, "no route chosen"),
        RESERVE: _reserve_basis(ground, reserve) if reserve_set else Basis(0, f"{reserve}, {TYPED}"),
        MARGIN: Basis(1, SETTING) if wanted_set else Basis(0, TYPED),
        TAX: Basis(1, f"{show_percent(trade.margin_tax_per_10000)} on sale less purchase, {SETTING}"),
    }


def _reserve_basis(ground: PriceGround, reserve: str) -> Basis:
    """Which of the two the reserve is, and by how many returns."""
    returns = ground.returns
    if returns.reserve_per_10000 is None:
        few = f"{returns.sales} of {FEW_SALES} sales tell yet"
        return Basis(1, f"{reserve}, {SETTING}" + (f"; {few}" if returns.sales else ""))
    back = len(returns.back)
    return Basis(max(back, 1), f"{reserve}, by {back} returns of {returns.sales} sales")


def _price_words(cost: RouteCost) -> str:
    unknown = sum(1 for use in cost.uses if use.basis == NO_PRICE)
    if not cost.uses:
        return "the route takes none"
    return f"{unknown} of {len(cost.uses)} without a known price" if unknown else "at stock and newest prices"


def _doubts(ground: PriceGround, answer: MostToPay) -> tuple[str, ...]:
    doubts = []
    if ground.route is None:
        doubts.append("No route is chosen: neither time nor consumables are in the price.")
    else:
        doubts.append(answer.based_on)
    if ground.channel is None:
        doubts.append("No channel is chosen: no fees are in the price.")
    names = [use.name for use in ground.cost.uses if use.basis == NO_PRICE]
    if names:
        doubts.append(f"No price is known of {', '.join(names)}: the price leaves that out.")
    if not ground.shop.rate_minor_per_hour:
        doubts.append("The shop's hourly rate is 0: time costs nothing in the price.")
    return tuple(doubts)


def _untyped(typed: dict[str, int | None]) -> tuple[str, ...]:
    """A sentence on what was not typed; none where all was."""
    names = [name for name, value in typed.items() if value is None]
    return (f"Not typed and left out of the price: {', '.join(names)}.",) if names else ()


def _amount(text: str, currency: str) -> int | None:
    return read_money(text, currency) if text.strip() else None
