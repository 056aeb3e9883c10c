"""Lots: units bought together for one price, each one's share of it, and the cost still on each."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from bench.desk import Desk
from bench.domain.amounts import Minor
from bench.domain.lots import SHARING_RULE
from bench.errors import NotFound
from bench.store.standing import IS_SOLD
from bench.views import ledger, shop
from bench.views.binder import Query


@dataclass(frozen=True, slots=True)
class LotLine:
    """A lot in the list of lots. `sold`: units that have been sold and have not come back."""

    lot_id: int
    name: str
    bought_on: date
    price_minor: Minor
    seller: str
    units: int
    sold: int
    donors: int


@dataclass(frozen=True, slots=True)
class LotUnitLine:
    """A unit of a lot. `left_minor`: the cost still on it, its share and parts in less parts given away.

    `sold`: it has been sold, if only to come back, and so keeps its share.
    """

    unit_id: int
    tag: str
    model: str
    serial: str
    stage: str
    expected_minor: Minor | None
    share_minor: Minor
    left_minor: Minor
    donor: bool
    sold: bool


@dataclass(frozen=True, slots=True)
class LotSheet:
    """A lot opened. Its units' shares add up to its price. Totals leave out what was not typed."""

    lot_id: int
    name: str
    bought_on: date
    price_minor: Minor
    seller: str
    note: str
    currency: str
    lines: tuple[LotUnitLine, ...] = ()
    rule: str = SHARING_RULE

    @property
    def unexpected(self) -> tuple[str, ...]:
        """Tags of the units of which no expected price was typed; a donor needs none."""
        return tuple(line.tag for line in self.lines if line.expected_minor is None and not line.donor)

    @property
    def expected_minor(self) -> Minor:
        """What all are expected to sell for; at least as much where `unexpected` names any."""
        return sum(line.expected_minor or 0 for line in self.lines)

    @property
    def left_minor(self) -> Minor:
        """The cost still on all."""
        return sum(line.left_minor for line in self.lines)


@dataclass(frozen=True, slots=True)
class LotBook:
    """Every lot, the newest first."""

    lots: tuple[LotLine, ...]
    currency: str


_LOTS = Query(
    LotLine,
    """
SELECT lot.id AS lot_id, lot.name, lot.bought_on, lot.price_minor, COALESCE(party.name, '') AS seller,
       COUNT(unit.id) AS units,
       COALESCE(SUM(unit.id IS NOT NULL AND {is_sold}), 0) AS sold,
       COALESCE(SUM(unit.id IS NOT NULL AND purchase.donor), 0) AS donors
FROM lot LEFT JOIN party ON party.id = lot.party_id
LEFT JOIN purchase ON purchase.lot_id = lot.id
LEFT JOIN unit ON unit.id = purchase.unit_id AND unit.removed = 0
WHERE lot.removed = 0 GROUP BY lot.id ORDER BY lot.bought_on DESC, lot.id DESC
""".replace("{is_sold}", IS_SOLD),
)
_LOT = Query(
    LotSheet,
    """
SELECT lot.id AS lot_id, lot.name, lot.bought_on, lot.price_minor, COALESCE(party.name, '') AS seller,
       lot.note, shop.currency
FROM lot CROSS JOIN shop LEFT JOIN party ON party.id = lot.party_id WHERE lot.id = :id AND lot.removed = 0
""",
)
_UNITS = Query(
    LotUnitLine,
    ledger.over(
        "SELECT unit_id FROM purchase WHERE lot_id = :id",
        """,
cost AS (
    SELECT unit_id, -SUM(amount_minor) AS left_minor
    FROM ledger WHERE side = 'cost' AND kind <> 'consumable' GROUP BY unit_id
)
SELECT unit.id AS unit_id, unit.tag, TRIM(unit.maker || ' ' || unit.model) AS model, unit.serial,
       stage.name AS stage, purchase.expected_minor, COALESCE(unit.price_minor, 0) AS share_minor,
       COALESCE(cost.left_minor, 0) AS left_minor, purchase.donor,
       EXISTS (SELECT 1 FROM sale WHERE sale.unit_id = unit.id AND sale.removed = 0) AS sold
FROM purchase JOIN unit ON unit.id = purchase.unit_id JOIN stage ON stage.id = unit.stage_id
LEFT JOIN cost ON cost.unit_id = unit.id
WHERE purchase.lot_id = :id AND unit.removed = 0 ORDER BY purchase.id
""",
    ),
)


def read_lots(desk: Desk) -> LotBook:
    """Every lot, the newest first."""
    with desk.store.read() as connection:
        return LotBook(_LOTS.all(connection), shop.facts(connection).currency)


def read_lot(desk: Desk, lot_id: int) -> LotSheet:
    """One lot with its units' shares. NotFound when there is none of that number."""
    with desk.store.read() as connection:
        lot = _LOT.first(connection, id=lot_id)
        if lot is None:
            raise NotFound(f"There is no lot with number {lot_id}.", "It may have been undone.")
        return replace(lot, lines=_UNITS.all(connection, id=lot_id))
