"""What became of a unit: its sales, and its returns from each."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass, replace
from datetime import date

from bench.desk import Desk
from bench.domain.amounts import Instant, Length, Minor
from bench.views.binder import Query, value
from bench.views.particulars import no_such_unit


@dataclass(frozen=True, slots=True)
class ComebackLine:
    """A return. `hands_on_us`: time at the bench since, up to the next return; it counts against the sale.

    `undoes`: the sale is undone; otherwise it stands and the unit is the buyer's.
    """

    comeback_id: int
    sale_id: int
    at_us: Instant
    person: str
    reason: str
    refund_minor: Minor
    fee_back_minor: Minor
    postage_minor: Minor | None
    undoes: bool
    hands_on_us: Length


@dataclass(frozen=True, slots=True)
class SaleLine:
    """One sale of a unit and the returns from it. `tax_minor` is as calculated at the sale.

    `shipping_minor`: None where it was not typed.
    """

    sale_id: int
    sold_on: date
    sold_us: Instant
    person: str
    channel: str
    party_id: int | None
    buyer: str
    price_minor: Minor
    fee_minor: Minor
    shipping_minor: Minor | None
    tax_minor: Minor
    invoice: str
    warranty_until: date | None
    note: str
    comebacks: tuple[ComebackLine, ...] = ()

    @property
    def refund_minor(self) -> Minor:
        """All that was given back of the price."""
        return sum(one.refund_minor for one in self.comebacks)

    @property
    def undone(self) -> bool:
        """Whether a return undid it."""
        return any(one.undoes for one in self.comebacks)


@dataclass(frozen=True, slots=True)
class UnitSales:
    """Every sale of a unit, the earliest first. `out`: it has left the queue."""

    unit_id: int
    tag: str
    model: str
    stage: str
    out: bool
    currency: str
    zone: str
    sales: tuple[SaleLine, ...] = ()

    @property
    def standing(self) -> SaleLine | None:
        """The last sale while no return undid it, wherever the unit is."""
        last = self.sales[-1] if self.sales else None
        return None if last is None or last.undone else last

    @property
    def back(self) -> ComebackLine | None:
        """The last return from the last sale; None where there is none."""
        return self.sales[-1].comebacks[-1] if self.sales and self.sales[-1].comebacks else None


_UNIT = Query(
    UnitSales,
    """
SELECT unit.id AS unit_id, unit.tag, TRIM(unit.maker || ' ' || unit.model) AS model, stage.name AS stage,
       stage.final AS out, shop.currency, shop.zone
FROM unit JOIN stage ON stage.id = unit.stage_id CROSS JOIN shop
WHERE unit.id = :unit_id AND unit.removed = 0
""",
)
_SALES = Query(
    SaleLine,
    """
SELECT sale.id AS sale_id, sale.sold_on, sale.sold_us, person.name AS person,
       COALESCE(channel.name, '') AS channel, sale.party_id, COALESCE(party.name, '') AS buyer,
       sale.price_minor, sale.fee_minor,
       CASE WHEN sale.shipping_known THEN sale.shipping_minor END AS shipping_minor, sale.tax_minor,
       sale.invoice, sale.warranty_until, sale.note
FROM sale JOIN person ON person.id = sale.person_id LEFT JOIN channel ON channel.id = sale.channel_id
LEFT JOIN party ON party.id = sale.party_id
WHERE sale.unit_id = :unit_id AND sale.removed = 0 ORDER BY sale.sold_us, sale.id
""",
)
# Time belongs to the last return before it; what reaches over a return counts from there on.
_COMEBACKS = Query(
    ComebackLine,
    """
WITH own AS (
    SELECT comeback.id, comeback.sale_id, comeback.at_us, comeback.reason, comeback.refund_minor,
           comeback.fee_back_minor, comeback.postage_minor, comeback.undoes, comeback.person_id,
           LEAD(comeback.at_us, 1, 9223372036854775807) OVER (ORDER BY comeback.at_us, comeback.id) AS next_us
    FROM sale JOIN comeback ON comeback.sale_id = sale.id
    WHERE sale.unit_id = :unit_id AND sale.removed = 0 AND comeback.removed = 0
)
SELECT own.id AS comeback_id, own.sale_id, own.at_us, own.reason, own.refund_minor, own.fee_back_minor,
       own.postage_minor, own.undoes, person.name AS person,
       (SELECT COALESCE(SUM(MAX(0, MIN(entry.stopped_us, own.next_us) - MAX(entry.started_us, own.at_us))), 0)
        FROM task JOIN time_entry AS entry ON entry.task_id = task.id
        WHERE task.unit_id = :unit_id AND entry.attended = 1 AND entry.stopped_us IS NOT NULL) AS hands_on_us
FROM own JOIN person ON person.id = own.person_id ORDER BY own.at_us, own.id
""",
)
_ADDRESS = "SELECT address FROM party WHERE id = :party_id"


def read_sales(desk: Desk, unit_id: int) -> UnitSales:
    """Every sale of a unit and every return, in one snapshot. NotFound when there is no such unit."""
    with desk.store.read() as connection:
        return sales_of(connection, unit_id)


def sales_of(connection: sqlite3.Connection, unit_id: int) -> UnitSales:
    """The same within a snapshot that other reads share."""
    unit = _UNIT.first(connection, unit_id=unit_id)
    if unit is None:
        raise no_such_unit(unit_id)
    back = _COMEBACKS.all(connection, unit_id=unit_id)
    sales = (
        replace(sale, comebacks=tuple(one for one in back if one.sale_id == sale.sale_id))
        for sale in _SALES.each(connection, unit_id=unit_id)
    )
    return replace(unit, sales=tuple(sales))


def address(connection: sqlite3.Connection, party_id: int | None) -> str:
    """Where someone lives, as typed; empty where nobody is named."""
    return str(value(connection, _ADDRESS, party_id=party_id) or "")
