"""How many of the sold units come back, what that takes, and how often each kind of test fails."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import timedelta

from bench.desk import Desk
from bench.domain.amounts import Length, Minor
from bench.domain.return_rate import (
    SETTLED_DAYS,
    ReturnRate,
    SaleBack,
    return_rate,
    sales_to_claim,
)
from bench.domain.unit_money import labour_minor
from bench.domain.weeks import local_day
from bench.errors import BadInput
from bench.views.binder import Query, value
from bench.views.outcomes import KindRate, kind_rates
from bench.views.shop import facts
from bench.views.trade import settings

MOST_SALES = 1000  # the newest tell of how the shop works now


@dataclass(frozen=True, slots=True)
class RateSheet:
    """The rate of returns and what it puts by, what a claim takes, and the rates of failing tests.

    `flat_per_10000`: the reserve that the shop has set. `claim_per_10000`, `claim_sales`: the share asked for
    and how many sales without a return more than there were would show that it is less; None: not asked, or
    more than can be counted.
    """

    returns: ReturnRate
    flat_per_10000: int
    claim_per_10000: int | None
    claim_sales: int | None
    claim_sales_without: int | None
    tests: tuple[KindRate, ...]
    currency: str
    zone: str


@dataclass(frozen=True, slots=True)
class _Back:
    """A sale that came back, with all that its returns took until the unit was sold again."""

    sale_id: int
    unit_id: int
    tag: str
    model: str
    price_minor: Minor
    money_minor: Minor
    worked_us: Length


_SALES = """
SELECT COUNT(*) FROM (SELECT id FROM sale INDEXED BY ix_sale_sold_on
                      WHERE removed = 0 AND sold_on <= :until ORDER BY sold_on DESC, id DESC LIMIT :most)
"""
# A sale that stands lost what was refunded less the fee given back; one that was undone its fee and shipping,
# and what the unit fetched less when it was sold again. Both: postage, parts and consumables since.
_BACK = Query(
    _Back,
    """
WITH recent AS MATERIALIZED (
    SELECT * FROM sale INDEXED BY ix_sale_sold_on
    WHERE removed = 0 AND sold_on <= :until ORDER BY sold_on DESC, id DESC LIMIT :most
),
back AS MATERIALIZED (
    SELECT recent.*, MIN(comeback.at_us) AS back_us, MAX(comeback.undoes) AS undone,
           SUM(comeback.refund_minor) AS refund_minor, SUM(comeback.fee_back_minor) AS fee_back_minor,
           SUM(COALESCE(comeback.postage_minor, 0)) AS postage_minor
    FROM recent CROSS JOIN comeback ON comeback.sale_id = recent.id AND comeback.removed = 0
    GROUP BY recent.id
),
again AS MATERIALIZED (
    SELECT back.*, COALESCE((SELECT MIN(later.sold_us) FROM sale AS later WHERE later.unit_id = back.unit_id
        AND later.removed = 0 AND later.sold_us > back.sold_us), 9223372036854775807) AS next_us
    FROM back
)
SELECT again.id AS sale_id, again.unit_id, unit.tag, TRIM(unit.maker || ' ' || unit.model) AS model,
       again.price_minor,
       again.postage_minor - again.fee_back_minor
       + CASE again.undone WHEN 0 THEN again.refund_minor ELSE again.fee_minor + again.shipping_minor
         + MAX(0, again.price_minor - COALESCE((SELECT next.price_minor FROM sale AS next
             WHERE next.unit_id = again.unit_id AND next.removed = 0 AND next.sold_us = again.next_us),
             again.price_minor)) END
       + COALESCE((SELECT SUM(part.cost_minor) FROM part WHERE part.to_unit_id = again.unit_id
             AND part.removed = 0 AND part.at_us >= again.back_us AND part.at_us < again.next_us), 0)
       - COALESCE((SELECT SUM(part.cost_minor) FROM part WHERE part.from_unit_id = again.unit_id
             AND part.removed = 0 AND part.at_us >= again.back_us AND part.at_us < again.next_us), 0)
       - COALESCE((SELECT SUM(movement.cost_minor) FROM task CROSS JOIN movement
             ON movement.task_id = task.id WHERE task.unit_id = again.unit_id
             AND movement.at_us >= again.back_us AND movement.at_us < again.next_us), 0) AS money_minor,
       COALESCE((SELECT SUM(entry.stopped_us - entry.started_us) FROM task CROSS JOIN time_entry AS entry
             ON entry.task_id = task.id WHERE task.unit_id = again.unit_id AND entry.attended = 1
             AND entry.stopped_us IS NOT NULL AND entry.started_us >= again.back_us
             AND entry.started_us < again.next_us), 0) AS worked_us
FROM again CROSS JOIN unit ON unit.id = again.unit_id ORDER BY again.sold_us DESC
""",
)


def returns(connection: sqlite3.Connection, now_us: int) -> ReturnRate:
    """The rate of returns of the newest sales that had time to come back, and the reserve that it makes."""
    shop = facts(connection)
    until = local_day(now_us, shop.zone) - timedelta(days=SETTLED_DAYS)
    asked = {"until": until.isoformat(), "most": MOST_SALES}
    sales = int(value(connection, _SALES, **asked))
    return return_rate(sales, tuple(_sales_back(_BACK.each(connection, **asked), shop.rate_minor_per_hour)))


def read_rates(desk: Desk, claim_per_10000: int | None = None) -> RateSheet:
    """The rates, and how many sales would show that less than the share asked for come back."""
    if claim_per_10000 is not None and not 0 < claim_per_10000 < 10_000:
        raise BadInput("That share cannot be claimed.", "Give a percentage between 0 and 100.")
    now_us = desk.clock.now_us()
    with desk.store.read() as connection:
        found, shop = returns(connection, now_us), facts(connection)
        flat, tests = settings(connection).risk_reserve_per_10000, kind_rates(connection, now_us)
    asked = claim_per_10000
    return RateSheet(
        returns=found,
        flat_per_10000=flat,
        claim_per_10000=asked,
        claim_sales=None if asked is None else sales_to_claim(asked, len(found.back)),
        claim_sales_without=None if asked is None else sales_to_claim(asked, 0),
        tests=tests,
        currency=shop.currency,
        zone=shop.zone,
    )


def _sales_back(found: Iterable[_Back], rate: int) -> Iterable[SaleBack]:
    for one in found:
        lost = one.money_minor + labour_minor(one.worked_us, rate)
        yield SaleBack(one.sale_id, one.unit_id, one.tag, one.model, one.price_minor, max(0, lost))
