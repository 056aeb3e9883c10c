"""What the units of the queue still take before they are sold: parts, consumables, sending, hours.

Each text is one statement over the whole queue, whatever the number of units.
"""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from bench.domain.amounts import Length, Minor, Thousandths
from bench.domain.forecast import DAY_US
from bench.domain.most_to_pay import NO_PRICE, cost_of_use
from bench.domain.next_up import parts_to_buy_minor, time_left_us
from bench.views import trade as trade_reads
from bench.views.binder import Groups, Query, pairs
from bench.views.parts import IS_LAST
from bench.views.past_jobs import newest_prices
from bench.views.standing import IN_QUEUE
from bench.views.stock import layers
from bench.views.trade import ChannelLine, TradeSettings

LOOK_BACK_DAYS = 365
# Of a channel sold through often, its newest sales tell most of what the next one costs.
MOST_SALES = 200
MOST_TASKS = 200  # of one name, the newest: how long such tasks take


@dataclass(frozen=True, slots=True)
class OrderedParts:
    """Of a unit's orders: what is still to be paid, what has come and lies there, and of how many no price is
    known."""

    to_pay_minor: Minor = 0
    lying_minor: Minor = 0
    unpriced: int = 0


@dataclass(frozen=True)
class StillToSpend:
    """What the whole queue still takes, by unit, and how it is sold; money in minor units.

    `parts`: those of `ordered` among them.
    """

    parts: Mapping[int, int]
    ordered: Mapping[int, OrderedParts]
    consumables: Mapping[int, int]
    unpriced: Mapping[int, tuple[str, ...]]
    shipped: Mapping[int, Sequence[int]]
    meant: Mapping[int, int]
    channels: Mapping[int, ChannelLine]
    first_channel: ChannelLine
    trade: TradeSettings

    def channel_of(self, unit_id: int) -> ChannelLine:
        """Through which channel a unit is meant to be sold."""
        return self.channels.get(self.meant.get(unit_id, 0), self.first_channel)


@dataclass(frozen=True, slots=True)
class _Said:
    """What an offer said of parts to buy, and what was bought and put into its unit since."""

    unit_id: int
    parts_minor: Minor
    fitted_minor: Minor


@dataclass(frozen=True, slots=True)
class _Use:
    """What a unit's open tasks still take of a consumable, in thousandths of its base unit."""

    unit_id: int
    consumable_id: int
    name: str
    quantity: Thousandths


@dataclass(frozen=True, slots=True)
class _Open:
    """An open hands-on task: its estimate, and the time spent on it."""

    unit_id: int
    name: str
    estimate_us: Length
    spent_us: Length


# What an offer said would have to be bought, and what has been bought and put into the unit since.
_SAID = Query(
    _Said,
    """
SELECT offer.unit_id, offer.parts_minor, COALESCE((
    SELECT SUM(part.cost_minor) FROM part
    WHERE part.to_unit_id = offer.unit_id AND part.from_unit_id IS NULL AND part.removed = 0), 0)
    AS fitted_minor
FROM {in_queue} CROSS JOIN offer ON offer.unit_id = unit.id WHERE offer.removed = 0
""".replace("{in_queue}", IN_QUEUE),
)
# What an order has brought is with the unit's parts only once it is fitted.
_ORDERED = Groups(
    OrderedParts,
    """
SELECT parts_order.unit_id,
       SUM(CASE WHEN parts_order.state IN ('wanted', 'ordered')
           THEN COALESCE(parts_order.price_minor, 0) + parts_order.freight_minor ELSE 0 END) AS to_pay_minor,
       COALESCE(SUM((SELECT part.cost_minor FROM part JOIN component ON component.id = part.component_id
           WHERE part.component_id = parts_order.component_id AND parts_order.state = 'arrived'
           AND part.to_unit_id IS NULL AND part.removed = 0 AND component.gone = '' AND {is_last})), 0)
           AS lying_minor,
       SUM(parts_order.state IN ('wanted', 'ordered') AND parts_order.price_minor IS NULL) AS unpriced
FROM {in_queue} CROSS JOIN parts_order INDEXED BY ix_parts_order_unit_id ON parts_order.unit_id = unit.id
WHERE parts_order.removed = 0 GROUP BY parts_order.unit_id
""".replace("{in_queue}", IN_QUEUE).replace("{is_last}", IS_LAST),
)

_USES = Query(
    _Use,
    """
SELECT task.unit_id, consumable.id AS consumable_id, consumable.name, SUM(task_use.quantity) AS quantity
FROM {in_queue} CROSS JOIN task ON task.unit_id = unit.id
CROSS JOIN task_use INDEXED BY ix_task_use_task_id ON task_use.task_id = task.id
JOIN consumable ON consumable.id = task_use.consumable_id
WHERE task.removed = 0 AND task.state = 'todo' AND consumable.removed = 0
GROUP BY task.unit_id, consumable.id
""".replace("{in_queue}", IN_QUEUE),
)
_SOLD_THROUGH = """
SELECT sale.unit_id, sale.channel_id FROM {in_queue} CROSS JOIN sale ON sale.unit_id = unit.id
WHERE sale.removed = 0 AND sale.channel_id IS NOT NULL ORDER BY sale.sold_us, sale.id
""".replace("{in_queue}", IN_QUEUE)

_OFFERED_THROUGH = """
SELECT offer.unit_id, offer.channel_id FROM {in_queue} CROSS JOIN offer ON offer.unit_id = unit.id
WHERE offer.removed = 0 AND offer.channel_id IS NOT NULL ORDER BY offer.id
""".replace("{in_queue}", IN_QUEUE)

# What sending cost in the newest sales of each channel, of those of which it was typed.
_SHIPPED = """
SELECT shipping_minor FROM sale WHERE channel_id = :channel_id AND removed = 0 AND shipping_known = 1
ORDER BY sold_us DESC, id DESC LIMIT :most
"""

_SPENT = """COALESCE((SELECT SUM(MAX(0, COALESCE(entry.stopped_us, :now) - entry.started_us))
    FROM time_entry AS entry WHERE entry.task_id = task.id AND entry.attended = 1), 0)"""

_OPEN = Query(
    _Open,
    """
SELECT task.unit_id, task.name, task.estimate_minutes * 60000000 AS estimate_us, {spent} AS spent_us
FROM {in_queue} CROSS JOIN task ON task.unit_id = unit.id
WHERE task.removed = 0 AND task.state = 'todo' AND task.unattended = 0
""".replace("{in_queue}", IN_QUEUE).replace("{spent}", _SPENT),
)
_PAST = """
SELECT {spent} FROM task
WHERE task.name = :name AND task.ended_us >= :since AND task.state = 'done' AND task.removed = 0
ORDER BY task.ended_us DESC LIMIT :most
""".replace("{spent}", _SPENT)


def still_to_spend(connection: sqlite3.Connection, zone: str) -> StillToSpend:
    """What each unit of the queue still takes in money, and through which channel it is meant to be sold."""
    meant = {**pairs(connection, _OFFERED_THROUGH), **pairs(connection, _SOLD_THROUGH)}
    known = {number: trade_reads.channel(connection, number) for number in set(meant.values())}
    in_stock, newest = layers(connection, zone), newest_prices(connection)
    consumables: defaultdict[int, int] = defaultdict(int)
    unpriced: defaultdict[int, tuple[str, ...]] = defaultdict(tuple)
    for use in _USES.each(connection):
        priced = newest.get(use.consumable_id)
        cost, basis = cost_of_use(in_stock.get(use.consumable_id, ()), use.quantity, priced)
        consumables[use.unit_id] += cost
        if basis == NO_PRICE:
            unpriced[use.unit_id] += (use.name,)
    ordered = {number: rows[0] for number, rows in _ORDERED.by_key(connection).items()}
    return StillToSpend(
        parts=_parts(_SAID.all(connection), ordered),
        ordered=ordered,
        consumables=consumables,
        unpriced=unpriced,
        shipped=_shipped(connection),
        meant=meant,
        channels={number: one for number, one in known.items() if one is not None},
        first_channel=next(iter(trade_reads.channels(connection)), ChannelLine(0, "", 0, 0)),
        trade=trade_reads.settings(connection),
    )


def time_left(connection: sqlite3.Connection, now_us: int) -> dict[int, int]:
    """Hands-on microseconds still to spend on each unit's open tasks."""
    tasks = _OPEN.all(connection, now=now_us)
    over = {task.name for task in tasks if task.spent_us >= task.estimate_us}
    past = _past_times(connection, over, now_us)
    left: defaultdict[int, int] = defaultdict(int)
    for task in tasks:
        left[task.unit_id] += time_left_us(task.estimate_us, task.spent_us, past.get(task.name, ()))
    return left


def _parts(said: Iterable[_Said], ordered: Mapping[int, OrderedParts]) -> dict[int, int]:
    """What parts each unit still takes; an order for what an offer spoke of is not counted twice."""
    offered = {one.unit_id: one for one in said}
    left = {}
    for number in {*offered, *ordered}:
        one, orders = offered.get(number, _Said(number, 0, 0)), ordered.get(number, OrderedParts())
        had = one.fitted_minor + orders.lying_minor
        left[number] = parts_to_buy_minor(one.parts_minor, had, orders.to_pay_minor)
    return left


def _shipped(connection: sqlite3.Connection) -> dict[int, list[int]]:
    """What sending a unit cost in the newest sales of each channel."""
    channels = [row[0] for row in connection.execute("SELECT id FROM channel")]
    costs = {
        one: [row[0] for row in connection.execute(_SHIPPED, {"channel_id": one, "most": MOST_SALES})]
        for one in channels
    }
    return {channel_id: paid for channel_id, paid in costs.items() if paid}


def _past_times(connection: sqlite3.Connection, names: Iterable[str], now_us: int) -> dict[str, list[int]]:
    """How long the newest tasks of these names took, finished within the last year, in microseconds."""
    asked = {"since": now_us - LOOK_BACK_DAYS * DAY_US, "now": now_us, "most": MOST_TASKS}
    found: dict[str, list[int]] = {}
    for name in sorted(names):
        times = [row[0] for row in connection.execute(_PAST, {**asked, "name": name}) if row[0]]
        if times:
            found[name] = times
    return found
