"""Read what next: the queue ranked by what a unit still earns for the time it still takes."""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from bench.desk import Desk
from bench.domain.forecast import DAY_US
from bench.domain.hold_period import hold_ends
from bench.domain.margin_tax import margin_tax_minor
from bench.domain.material_cost import NO_PRICE, cost_of_use
from bench.domain.next_up import (
    ALARM,
    NO_EXPECTATION,
    OWNERS,
    SOLD_ALREADY,
    NextLine,
    NextUp,
    ShippingOut,
    WaitingLine,
    hourly_minor,
    minutes_to_spend,
    reason_for,
    shipping_out,
    time_left_us,
)
from bench.domain.ranking import Candidate, Ranked, rank
from bench.domain.safety import FINDINGS
from bench.domain.unit_money import fee_minor
from bench.domain.weeks import local_day
from bench.views import next_up as reads
from bench.views import stock as stock_reads
from bench.views import trade as trade_reads
from bench.views.past_jobs import newest_prices
from bench.views.queue import NextTask, alarms_in, next_tasks
from bench.views.shop import facts
from bench.views.trade import ChannelLine, TradeSettings

LOOK_BACK_DAYS = 365


@dataclass(frozen=True)
class _Earning:
    """The cash that one unit is still to bring and still takes; minor units."""

    expected_minor: int | None
    fees_minor: int
    to_spend_minor: int
    unpriced: tuple[str, ...]
    shipping: ShippingOut | None
    tax_known: bool

    @property
    def to_earn_minor(self) -> int:
        """The cash still to come; nothing expected counts as nothing earned."""
        if self.expected_minor is None:
            return 0
        return self.expected_minor - self.fees_minor - self.to_spend_minor


@dataclass(frozen=True)
class _Sums:
    """What the whole queue still takes, by unit, and how it is sold."""

    parts: Mapping[int, int]
    consumables: Mapping[int, int]
    unpriced: Mapping[int, tuple[str, ...]]
    shipped: Mapping[int, Sequence[int]]
    meant: Mapping[int, int]
    channels: Mapping[int, ChannelLine]
    first_channel: ChannelLine
    trade: TradeSettings


def read_ranking(desk: Desk) -> NextUp:
    """The units that can be worked on, in the order in which they earn most, and apart what waits and why."""
    now_us = desk.clock.now_us()
    with desk.store.read() as connection:
        shop = facts(connection)
        units = {row["unit_id"]: row for row in reads.units(connection)}
        sums = _sums(connection, shop.zone)
        left_us = _time_left(connection, now_us)
        coming = next_tasks(connection)
        alarms = alarms_in(connection)
    today = local_day(now_us, shop.zone)
    waiting = {number: why for number, row in units.items() if (why := _why_not(row, sums.trade, today))}
    earning = {number: _earning(row, sums) for number, row in units.items() if number not in waiting}
    candidates = [
        Candidate(
            unit_id=number,
            tag=units[number]["tag"],
            to_earn_minor=one.to_earn_minor,
            minutes_left=minutes_to_spend(left_us.get(number, 0)),
            due_on=_due(units[number]),
        )
        for number, one in earning.items()
    ]
    ranked = sorted(rank(candidates, today), key=lambda placed: placed.unit_id not in alarms)
    lines = tuple(
        _line(placed, units[placed.unit_id], earning[placed.unit_id], coming, today, shop.currency)
        for placed in (replace(one, place=place) for place, one in enumerate(ranked, start=1))
    )
    lines = tuple(
        replace(one, reason=f"{ALARM} {one.reason}") if one.unit_id in alarms else one for one in lines
    )
    aside = tuple(
        WaitingLine(number, units[number]["tag"], units[number]["model"], units[number]["stage"], why)
        for number, why in sorted(waiting.items(), key=lambda one: units[one[0]]["cell_finding"] is None)
    )
    return NextUp(now_us, lines, aside, shop.currency, shop.zone)


def _why_not(row: sqlite3.Row, trade: TradeSettings, today: date) -> str:
    """Why a unit cannot be worked on now, or is not for sale; empty for one that can."""
    if row["cell_finding"] is not None:
        return f"work stopped: {FINDINGS[row['cell_finding']]}"
    if row["held_reason"] is not None:
        return f"held: {row['held_reason']}"
    free_from = hold_ends(_day(row["bought_on"]), trade.hold_days)
    if free_from is not None and today < free_from:
        return f"hold period until {free_from}"
    return "donor, kept for its parts" if row["donor"] else ""


def _time_left(connection: sqlite3.Connection, now_us: int) -> dict[int, int]:
    """Hands-on microseconds still to spend on each unit's open tasks."""
    tasks = reads.open_tasks(connection, now_us)
    over = {name for _, name, estimate_us, spent_us in tasks if spent_us >= estimate_us}
    past = reads.past_times(connection, over, now_us - LOOK_BACK_DAYS * DAY_US, now_us) if over else {}
    left: defaultdict[int, int] = defaultdict(int)
    for unit_id, name, estimate_us, spent_us in tasks:
        left[unit_id] += time_left_us(estimate_us, spent_us, past.get(name, ()))
    return left


def _sums(connection: sqlite3.Connection, zone: str) -> _Sums:
    meant = {**reads.offered_through(connection), **reads.sold_through(connection)}
    kept = trade_reads.channels(connection)
    known = {number: trade_reads.channel(connection, number) for number in set(meant.values())}
    layers, newest = stock_reads.layers(connection, zone), newest_prices(connection)
    consumables: defaultdict[int, int] = defaultdict(int)
    unpriced: defaultdict[int, tuple[str, ...]] = defaultdict(tuple)
    for unit_id, consumable_id, name, quantity in reads.uses(connection):
        cost, basis = cost_of_use(layers.get(consumable_id, ()), quantity, newest.get(consumable_id))
        consumables[unit_id] += cost
        if basis == NO_PRICE:
            unpriced[unit_id] += (name,)
    return _Sums(
        parts=reads.parts_to_buy(connection),
        consumables=consumables,
        unpriced=unpriced,
        shipped=reads.shipped(connection),
        meant=meant,
        channels={number: one for number, one in known.items() if one is not None},
        first_channel=next(iter(kept), ChannelLine(0, "", 0, 0)),
        trade=trade_reads.settings(connection),
    )


def _earning(row: sqlite3.Row, sums: _Sums) -> _Earning:
    number, price, taxed = row["unit_id"], row["price_minor"], sums.trade.tax_per_10000
    # What is sold already does not earn its price again: it is repaired and handed back.
    expected = None if row["is_sold"] or row["owner_id"] is not None else row["expected_minor"]
    channel = sums.channels.get(sums.meant.get(number, 0), sums.first_channel)
    fees, shipping = 0, None
    if expected is not None:
        past = sums.shipped.get(channel.channel_id, ())
        shipping = shipping_out(row["shipping_minor"], past, channel.name)
        fees = fee_minor(expected, channel.fee_per_10000, channel.fee_fixed_minor)
        fees += 0 if price is None else margin_tax_minor(price, expected, taxed)
    to_send = shipping.cost_minor if shipping is not None else 0
    return _Earning(
        expected_minor=expected,
        fees_minor=fees,
        to_spend_minor=sums.parts.get(number, 0) + sums.consumables.get(number, 0) + (to_send or 0),
        unpriced=sums.unpriced.get(number, ()),
        shipping=shipping,
        tax_known=expected is None or price is not None or not taxed,
    )


def _line(
    placed: Ranked,
    row: sqlite3.Row,
    one: _Earning,
    coming: Mapping[int, NextTask],
    today: date,
    currency: str,
) -> NextLine:
    due_on = _due(row)
    past_days = (today - due_on).days if due_on is not None and placed.past_due else 0
    task = coming.get(placed.unit_id)
    line = NextLine(
        place=placed.place,
        unit_id=placed.unit_id,
        tag=placed.tag,
        model=row["model"],
        stage=row["stage"],
        next_task=task.name if task else "",
        due_on=due_on,
        past_due=placed.past_due,
        expected_minor=one.expected_minor,
        fees_minor=one.fees_minor,
        to_spend_minor=one.to_spend_minor,
        unpriced=one.unpriced,
        shipping=one.shipping,
        to_earn_minor=placed.to_earn_minor,
        minutes_left=placed.minutes_left,
        per_hour_minor=hourly_minor(placed.to_earn_minor, placed.minutes_left),
        tax_known=one.tax_known,
        for_sale=not row["is_sold"] and row["owner_id"] is None,
        reason="",
    )
    return replace(
        line,
        reason=reason_for(
            to_earn_minor=placed.to_earn_minor,
            minutes_left=placed.minutes_left,
            days_past_due=past_days,
            nothing_to_earn=_nothing_to_earn(row),
            expectation_known=one.expected_minor is not None,
            known=not line.missing,
            currency=currency,
        ),
    )


def _nothing_to_earn(row: sqlite3.Row) -> str:
    if row["owner_id"] is not None:
        return OWNERS
    return SOLD_ALREADY if row["is_sold"] else NO_EXPECTATION


def _due(row: sqlite3.Row) -> date | None:
    return _day(row["due_on"])


def _day(text: str | None) -> date | None:
    return date.fromisoformat(text) if text else None
