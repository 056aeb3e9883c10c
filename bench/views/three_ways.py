"""Repairing a unit, selling it as it is, parting it out: what each still brings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from bench.desk import Desk
from bench.domain.amounts import Minor
from bench.domain.faults import OPEN
from bench.domain.margin_tax import margin_tax_minor
from bench.domain.money import show_money
from bench.domain.next_up import OWNERS, SOLD_ALREADY, ShippingOut, minutes_to_spend, shipping_out
from bench.domain.own_prices import OwnPrices
from bench.domain.percent import show_percent
from bench.domain.three_ways import (
    AS_IS,
    CONSUMABLES,
    FEES,
    PART_OUT,
    PARTS,
    PRICE,
    REPAIR,
    SHIPPING,
    TAX,
    ThreeWays,
    Way,
    WayEstimate,
    WayLine,
)
from bench.domain.unit_money import fee_minor
from bench.errors import Refused
from bench.store.standing import IS_SOLD
from bench.views.binder import Query
from bench.views.faults import faults_of
from bench.views.own_prices import own_prices
from bench.views.particulars import no_such_unit
from bench.views.shop import ShopFacts, facts
from bench.views.still_to_spend import StillToSpend, still_to_spend, time_left

TYPED, NOT_TYPED = "as typed", "not typed"
AT_ONCE = "as if all of it were sold together; take the postage of single parts off what you type"


@dataclass(frozen=True, slots=True)
class _Unit:
    """The unit itself. `queued`: it is in the queue. `is_sold`: its sale stands."""

    unit_id: int
    tag: str
    model: str
    price_minor: Minor | None
    expected_minor: Minor | None
    shipping_minor: Minor | None
    owner_id: int | None
    queued: bool
    is_sold: bool


_UNIT = Query(
    _Unit,
    """
SELECT unit.id AS unit_id, unit.tag, TRIM(unit.maker || ' ' || unit.model) AS model, unit.price_minor,
       purchase.expected_minor, purchase.shipping_minor, unit.owner_id, NOT stage.final AS queued,
       {is_sold} AS is_sold
FROM unit JOIN stage ON stage.id = unit.stage_id LEFT JOIN purchase ON purchase.unit_id = unit.id
WHERE unit.id = :unit_id AND unit.removed = 0
""".replace("{is_sold}", IS_SOLD),
)
_ESTIMATES = Query(
    WayEstimate,
    "SELECT way, price_minor, minutes, note FROM way_estimate WHERE unit_id = :unit_id AND removed = 0",
)


@dataclass(frozen=True)
class _Ground:
    """What the three ways rest on."""

    unit: _Unit
    shop: ShopFacts
    spending: StillToSpend
    minutes: int
    prices: OwnPrices

    def sold_for(self, price_minor: int | None, rests_on: str, *, ships: bool) -> tuple[WayLine, ...]:
        """What a price brings: the price itself, its fees, tax, and sending it."""
        channel, tax = self.spending.channel_of(self.unit.unit_id), self.spending.trade.tax_per_10000
        price = WayLine(PRICE, price_minor, rests_on)
        if price_minor is None:
            return (price,)
        fees = fee_minor(price_minor, channel.fee_per_10000, channel.fee_fixed_minor)
        lines = [price, WayLine(FEES, -fees, channel.name or "no channel")]
        if tax:
            paid = self.unit.price_minor
            due = None if paid is None else -margin_tax_minor(paid, price_minor, tax)
            rests = f"{show_percent(tax)} of the margin" if due is not None else "the price paid is not typed"
            lines.append(WayLine(TAX, due, rests))
        if ships:
            sent = self._shipping()
            lines.append(WayLine(SHIPPING, None if sent.cost_minor is None else -sent.cost_minor, sent.basis))
        return tuple(lines)

    def _shipping(self) -> ShippingOut:
        channel = self.spending.channel_of(self.unit.unit_id)
        past = self.spending.shipped.get(channel.channel_id, ())
        return shipping_out(self.unit.shipping_minor, past, channel.name)


def read_three_ways(desk: Desk, unit_id: int) -> ThreeWays:
    """The three ways of a unit of the queue. NotFound when there is no such unit.

    Refused for an owner's machine, and for one whose sale stands: neither is the shop's to sell.
    """
    now_us = desk.clock.now_us()
    with desk.store.read() as connection:
        unit = _UNIT.first(connection, unit_id=unit_id)
        if unit is None:
            raise no_such_unit(unit_id)
        _is_the_shops(unit)
        shop = facts(connection)
        left_us = time_left(connection, now_us).get(unit_id, 0)
        estimates = _ESTIMATES.all(connection, unit_id=unit_id)
        faults = tuple(one.told for one in faults_of(connection, unit_id) if one.state == OPEN)
        ground = _Ground(
            unit=unit,
            shop=shop,
            spending=still_to_spend(connection, shop.zone),
            minutes=minutes_to_spend(left_us),
            prices=own_prices(connection, unit_id, now_us, falls=False),
        )
    by_way = {one.way: one for one in estimates}
    return ThreeWays(
        unit_id=unit.unit_id,
        tag=unit.tag,
        model=unit.model,
        ways=(_repair(ground), _as_is(ground, by_way), _part_out(ground, by_way)),
        estimates=estimates,
        faults=faults,
        rate_minor_per_hour=shop.rate_minor_per_hour,
        currency=shop.currency,
        zone=shop.zone,
    )


def _is_the_shops(unit: _Unit) -> None:
    if unit.owner_id is not None:
        raise Refused(f"Unit {unit.tag} is not for sale: {OWNERS}.", "Finish or decline its repair instead.")
    if unit.is_sold:
        raise Refused(f"Unit {unit.tag} is not for sale: {SOLD_ALREADY}.", "Record its return first.")
    if not unit.queued:
        raise Refused(f"Unit {unit.tag} has left.", "Move it back to a stage first.")


def _repair(ground: _Ground) -> Way:
    unit, spending = ground.unit, ground.spending
    price, rests_on = unit.expected_minor, TYPED
    if price is None:
        price = ground.prices.suggested_minor
        rests_on = ground.prices.words if price is not None else NOT_TYPED
    unpriced = spending.unpriced.get(unit.unit_id, ())
    takes = "as the open tasks say" + (f"; no price known of {', '.join(unpriced)}" if unpriced else "")
    return Way(
        REPAIR,
        (
            *ground.sold_for(price, rests_on, ships=True),
            WayLine(PARTS, -spending.parts.get(unit.unit_id, 0), _parts_rest_on(ground)),
            WayLine(CONSUMABLES, -spending.consumables.get(unit.unit_id, 0), takes),
        ),
        ground.minutes,
        "estimates of the open tasks, less the time spent on them",
    )


def _parts_rest_on(ground: _Ground) -> str:
    """The offer, and the orders under way, which are of the same parts as far as can be told."""
    orders = ground.spending.ordered.get(ground.unit.unit_id)
    words = "as its offer said, less what was bought since"
    if orders is None:
        return words
    if orders.to_pay_minor:
        on_order = show_money(orders.to_pay_minor, ground.shop.currency)
        words = f"{words}; at least the {on_order} of its parts on order"
    return f"{words}; no price known of {orders.unpriced} on order" if orders.unpriced else words


def _as_is(ground: _Ground, typed: Mapping[str, WayEstimate]) -> Way:
    return _estimated(ground, AS_IS, typed.get(AS_IS), ships=True)


def _part_out(ground: _Ground, typed: Mapping[str, WayEstimate]) -> Way:
    return _estimated(ground, PART_OUT, typed.get(PART_OUT), ships=False)


def _estimated(ground: _Ground, way: str, estimate: WayEstimate | None, *, ships: bool) -> Way:
    if estimate is None:
        return Way(way, ground.sold_for(None, NOT_TYPED, ships=ships), None, NOT_TYPED)
    rests_on = f"{TYPED}: {estimate.note}" if estimate.note else TYPED
    if not ships:
        rests_on = f"{rests_on}; {AT_ONCE}"
    lines = ground.sold_for(estimate.price_minor, rests_on, ships=ships)
    return Way(way, lines, estimate.minutes, NOT_TYPED if estimate.minutes is None else TYPED)
