"""What units of a model fetched, from the shop's own sales that stand, and how prices fall with time."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from datetime import date

from bench.desk import Desk
from bench.domain.amounts import Minor
from bench.domain.own_prices import OwnPrices, OwnSale, weekly_fall
from bench.domain.text import clean_line
from bench.domain.typed import read_field
from bench.domain.weeks import local_day
from bench.store.standing import NEWEST, UNDONE
from bench.views.binder import Query
from bench.views.particulars import no_such_unit
from bench.views.shop import facts

# The newest tell most, and all pairs of them are compared.
MOST_OF_MODEL = 100
MOST_SOLD = 200


@dataclass(frozen=True, slots=True)
class _Wanted:
    """The model of a unit, behind its maker and alone, and what is expected of the unit."""

    name: str
    model: str
    expected_minor: Minor | None


_SALE = """
SELECT sale.id AS sale_id, unit.id AS unit_id, unit.tag, TRIM(unit.maker || ' ' || unit.model) AS model,
       sale.sold_on, sale.price_minor - COALESCE((SELECT SUM(refund_minor) FROM comeback
           WHERE comeback.sale_id = sale.id AND comeback.removed = 0), 0) AS net_minor,
       (sale.sold_us - (SELECT MIN(stage_move.at_us) FROM stage_move
           JOIN stage ON stage.id = stage_move.to_stage_id AND stage.lists = 1
           WHERE stage_move.unit_id = unit.id AND stage_move.removed = 0 AND stage_move.at_us < sale.sold_us))
       / 86400000000 AS listed_days
FROM {source} AND sale.removed = 0 AND unit.removed = 0 AND {newest} AND NOT {undone}
ORDER BY sale.sold_on DESC, sale.id DESC LIMIT :most
""".replace("{newest}", NEWEST).replace("{undone}", UNDONE)
_OF_MODEL = Query(
    OwnSale,
    _SALE.replace(
        "{source}",
        """unit INDEXED BY ix_unit_model CROSS JOIN sale ON sale.unit_id = unit.id
WHERE unit.model = :model COLLATE NOCASE AND TRIM(unit.maker || ' ' || unit.model) = :name COLLATE NOCASE""",
    ),
)
_NEWEST_SALES = Query(
    OwnSale,
    _SALE.replace(
        "{source}",
        """sale INDEXED BY ix_sale_sold_on CROSS JOIN unit ON unit.id = sale.unit_id
WHERE sale.sold_on > ''""",
    ),
)
_WANTED = Query(
    _Wanted,
    """
SELECT TRIM(unit.maker || ' ' || unit.model) AS name, unit.model, purchase.expected_minor
FROM unit LEFT JOIN purchase ON purchase.unit_id = unit.id WHERE unit.id = :unit_id AND unit.removed = 0
""",
)


def read_own_prices(desk: Desk, unit_id: int, *, falls: bool = True) -> OwnPrices:
    """What units of a unit's model fetched; `falls` as in `own_prices`. NotFound without the unit."""
    with desk.store.read() as connection:
        return own_prices(connection, unit_id, desk.clock.now_us(), falls=falls)


def read_model_prices(desk: Desk, maker: str, model: str, *, falls: bool = True) -> OwnPrices:
    """What units of a model fetched, before one is bought; `falls` as in `own_prices`.

    BadInput for an empty model.
    """
    typed_maker = read_field("maker", clean_line, maker, "The maker", allow_empty=True)
    typed_model = read_field("model", clean_line, model, "The model")
    with desk.store.read() as connection:
        name = f"{typed_maker} {typed_model}".strip()
        wanted = _Wanted(name, typed_model, None)
        return _prices(connection, wanted, desk.clock.now_us(), falls=falls)


def own_prices(connection: sqlite3.Connection, unit_id: int, now_us: int, *, falls: bool = True) -> OwnPrices:
    """The same of a unit within a snapshot that other reads share.

    `falls`: how prices fall is told too, from the newest sales of all models; else it is not to be told.
    """
    wanted = _WANTED.first(connection, unit_id=unit_id)
    if wanted is None:
        raise no_such_unit(unit_id)
    return _prices(connection, wanted, now_us, falls=falls)


def _prices(connection: sqlite3.Connection, wanted: _Wanted, now_us: int, *, falls: bool) -> OwnPrices:
    shop = facts(connection)
    today: date = local_day(now_us, shop.zone)
    newest = _NEWEST_SALES.each(connection, most=MOST_SOLD) if falls else ()
    fall, repeated = weekly_fall(newest)
    return OwnPrices(
        model=wanted.name,
        sales=_OF_MODEL.all(connection, model=wanted.model, name=wanted.name, most=MOST_OF_MODEL),
        fall=fall,
        repeated=repeated,
        expected_minor=wanted.expected_minor,
        today=today,
        currency=shop.currency,
        zone=shop.zone,
    )
