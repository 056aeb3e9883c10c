"""What next: the queue ranked by what a unit still earns for the time it still takes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from bench.desk import Desk
from bench.domain.amounts import Minor
from bench.domain.margin_tax import margin_tax_minor
from bench.domain.next_up import (
    ALARM,
    NO_EXPECTATION,
    OWNERS,
    SOLD_ALREADY,
    Candidate,
    NextLine,
    NextUp,
    Ranked,
    ShippingOut,
    WaitingLine,
    hourly_minor,
    minutes_to_spend,
    rank,
    reason_for,
    shipping_out,
)
from bench.domain.safety import FINDINGS
from bench.domain.selling import hold_ends
from bench.domain.unit_money import fee_minor
from bench.domain.weeks import local_day
from bench.store.standing import IS_SOLD
from bench.views.binder import Query
from bench.views.orders import Awaited, awaited, orders_due
from bench.views.queue import NextTask, alarms_in, next_tasks
from bench.views.shop import facts
from bench.views.standing import IN_QUEUE
from bench.views.still_to_spend import StillToSpend, still_to_spend, time_left
from bench.views.trade import TradeSettings


@dataclass(frozen=True, slots=True)
class _Unit:
    """A unit of the queue. `is_sold`: its sale stands, it is back under warranty."""

    unit_id: int
    tag: str
    model: str
    stage: str
    held: str | None
    cell_finding: str | None
    due_on: date | None
    price_minor: Minor | None
    expected_minor: Minor | None
    shipping_minor: Minor | None
    donor: bool
    bought_on: date | None
    is_sold: bool
    owner_id: int | None

    @property
    def for_sale(self) -> bool:
        """Whether it is the shop's to sell."""
        return not self.is_sold and self.owner_id is None

    @property
    def nothing_to_earn(self) -> str:
        """Why nothing is expected of it."""
        if self.owner_id is not None:
            return OWNERS
        return SOLD_ALREADY if self.is_sold else NO_EXPECTATION

    def why_not(self, trade: TradeSettings, today: date) -> str:
        """Why it cannot be worked on now, or is not for sale; empty for one that can."""
        if self.cell_finding is not None:
            return f"work stopped: {FINDINGS[self.cell_finding]}"
        if self.held is not None:
            return f"on hold: {self.held}"
        free_from = hold_ends(self.bought_on, trade.hold_days)
        if free_from is not None and today < free_from:
            return f"waiting period until {free_from}"
        return "donor, kept for its parts" if self.donor else ""


@dataclass(frozen=True)
class _Earning:
    """The cash that one unit is still to bring and still takes; minor units."""

    expected_minor: Minor | None
    fees_minor: Minor
    to_spend_minor: Minor
    unpriced: tuple[str, ...]
    shipping: ShippingOut | None
    tax_known: bool

    @property
    def to_earn_minor(self) -> Minor:
        """The cash still to come; nothing expected counts as nothing earned."""
        if self.expected_minor is None:
            return 0
        return self.expected_minor - self.fees_minor - self.to_spend_minor


_UNITS = Query(
    _Unit,
    """
SELECT unit.id AS unit_id, unit.tag, TRIM(unit.maker || ' ' || unit.model) AS model,
       standing.name AS stage, unit.held_reason AS held, unit.cell_finding, unit.due_on, unit.price_minor,
       purchase.expected_minor, purchase.shipping_minor, COALESCE(purchase.donor, 0) AS donor,
       purchase.bought_on, {is_sold} AS is_sold, unit.owner_id
FROM {in_queue} LEFT JOIN purchase ON purchase.unit_id = unit.id ORDER BY unit.id
""".replace("{is_sold}", IS_SOLD).replace("{in_queue}", IN_QUEUE),
)


def read_ranking(desk: Desk) -> NextUp:
    """The units that can be worked on, in the order in which they earn most, and apart what waits and why."""
    now_us = desk.clock.now_us()
    with desk.store.read() as connection:
        shop = facts(connection)
        units = {unit.unit_id: unit for unit in _UNITS.each(connection)}
        spending = still_to_spend(connection, shop.zone)
        left_us = time_left(connection, now_us)
        coming = next_tasks(connection)
        alarms = alarms_in(connection)
        today = local_day(now_us, shop.zone)
        parts, due = awaited(connection), orders_due(connection, today)
    waiting = {
        unit: why
        for unit in units.values()
        if (why := unit.why_not(spending.trade, today) or _why_parts(unit, coming, parts))
    }
    earning = {unit.unit_id: _earning(unit, spending) for unit in units.values() if unit not in waiting}
    candidates = [
        Candidate(
            unit_id=number,
            tag=units[number].tag,
            to_earn_minor=one.to_earn_minor,
            minutes_left=minutes_to_spend(left_us.get(number, 0)),
            due_on=units[number].due_on,
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
        WaitingLine(unit.unit_id, unit.tag, unit.model, unit.stage, why)
        for unit, why in sorted(waiting.items(), key=lambda one: one[0].cell_finding is None)
    )
    return NextUp(
        now_us,
        lines,
        aside,
        shop.currency,
        shop.zone,
        parts_due=due.due_today,
        parts_late=due.late,
    )


def _why_parts(unit: _Unit, coming: Mapping[int, NextTask], parts: Mapping[int, Sequence[Awaited]]) -> str:
    """Which parts a unit waits for in all that is left to do on it; empty where a task can be done."""
    waits = parts.get(unit.unit_id, ())
    if unit.unit_id in coming or not waits:
        return ""
    return f"waits for {', '.join(dict.fromkeys(one.what for one in waits))}"


def _earning(unit: _Unit, spending: StillToSpend) -> _Earning:
    number, price, taxed = unit.unit_id, unit.price_minor, spending.trade.tax_per_10000
    # What is sold already does not earn its price again: it is repaired and handed back.
    expected = unit.expected_minor if unit.for_sale else None
    channel = spending.channel_of(number)
    fees, shipping = 0, None
    if expected is not None:
        past = spending.shipped.get(channel.channel_id, ())
        shipping = shipping_out(unit.shipping_minor, past, channel.name)
        fees = fee_minor(expected, channel.fee_per_10000, channel.fee_fixed_minor)
        fees += 0 if price is None else margin_tax_minor(price, expected, taxed)
    to_send = shipping.cost_minor if shipping is not None else 0
    return _Earning(
        expected_minor=expected,
        fees_minor=fees,
        to_spend_minor=spending.parts.get(number, 0) + spending.consumables.get(number, 0) + (to_send or 0),
        unpriced=spending.unpriced.get(number, ()),
        shipping=shipping,
        tax_known=expected is None or price is not None or not taxed,
    )


def _line(
    placed: Ranked,
    unit: _Unit,
    one: _Earning,
    coming: Mapping[int, NextTask],
    today: date,
    currency: str,
) -> NextLine:
    past_days = (today - unit.due_on).days if unit.due_on is not None and placed.past_due else 0
    task = coming.get(placed.unit_id)
    line = NextLine(
        place=placed.place,
        unit_id=placed.unit_id,
        tag=placed.tag,
        model=unit.model,
        stage=unit.stage,
        next_task=task.name if task else "",
        due_on=unit.due_on,
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
        for_sale=unit.for_sale,
        reason="",
    )
    return replace(
        line,
        reason=reason_for(
            to_earn_minor=placed.to_earn_minor,
            minutes_left=placed.minutes_left,
            days_past_due=past_days,
            nothing_to_earn=unit.nothing_to_earn,
            expectation_known=one.expected_minor is not None,
            known=not line.missing,
            currency=currency,
        ),
    )
