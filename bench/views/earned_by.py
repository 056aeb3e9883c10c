"""By what units are gathered to see which kind earned most: route, source, maker."""

from __future__ import annotations

import json
import sqlite3
from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

from bench.domain.unit_money import Earned, SoldUnit, earned
from bench.views.binder import Query

NO_ROUTE, NO_SOURCE, NO_MAKER = "no route", "source not noted", "maker not noted"


@dataclass(frozen=True, slots=True)
class UnitKind:
    """What a unit has in common with others."""

    unit_id: int
    maker: str
    route_id: int | None
    route: str
    lot_id: int | None
    lot: str
    party_id: int | None
    party: str


Told = tuple[object, str]  # by what units are gathered, and how it is called

_KINDS = Query(
    UnitKind,
    """
SELECT unit.id AS unit_id, unit.maker, unit.route_id, COALESCE(route.name, '') AS route, lot.id AS lot_id,
       COALESCE(lot.name, '') AS lot, party.id AS party_id, COALESCE(party.name, '') AS party
FROM json_each(:ids) AS wanted JOIN unit ON unit.id = wanted.value
LEFT JOIN route ON route.id = unit.route_id LEFT JOIN purchase ON purchase.unit_id = unit.id
LEFT JOIN lot ON lot.id = purchase.lot_id AND lot.removed = 0
LEFT JOIN party ON party.id = purchase.party_id
""",
)


def kinds_of(connection: sqlite3.Connection, unit_ids: Iterable[int]) -> tuple[UnitKind, ...]:
    """Route, maker, lot and seller of these units."""
    return _KINDS.all(connection, ids=json.dumps(sorted(unit_ids)))


def route(unit: UnitKind) -> Told:
    """Its route."""
    return unit.route_id, unit.route or NO_ROUTE


def source(unit: UnitKind) -> Told:
    """The lot it came with, or who sold it."""
    if unit.lot_id is not None:
        return ("lot", unit.lot_id), f"lot {unit.lot}"
    return ("party", unit.party_id), unit.party or NO_SOURCE


def maker(unit: UnitKind) -> Told:
    """Its maker, however it was typed."""
    return unit.maker.casefold(), unit.maker or NO_MAKER


def earned_by(
    tell: Callable[[UnitKind], Told],
    kinds: Sequence[UnitKind],
    sold: Iterable[SoldUnit],
    spent_us: Mapping[int, int],
) -> tuple[Earned, ...]:
    """What each kind earned, the largest margin first; kinds that only took hours come after.

    `spent_us`: hands-on time within the span, by unit.
    """
    told = {unit.unit_id: tell(unit) for unit in kinds}
    names: dict[object, str] = {}
    for key, name in told.values():
        names.setdefault(key, name)
    units: defaultdict[object, list[SoldUnit]] = defaultdict(list)
    for one in sold:
        units[told[one.unit_id][0]].append(one)
    hours: defaultdict[object, int] = defaultdict(int)
    for unit_id, us in spent_us.items():
        hours[told[unit_id][0]] += us
    lines = [earned(name, units[key], hours[key]) for key, name in names.items()]
    return tuple(
        sorted(lines, key=lambda line: (not line.units, -line.margin_minor, -line.spent_us, line.name))
    )
