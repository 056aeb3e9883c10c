"""A small workshop for screen tests: a unit on its route, its tasks by name, a shelf with stock."""

from __future__ import annotations

from bench.desk import Desk
from bench.domain.safety import CLOSING, CLOSING_ITEMS, OPENING, OPENING_ITEMS
from bench.domain.starting_set import ISOPROPYL
from bench.domain.stock_levels import StockLine
from bench.views.routes import read_routes
from bench.views.shop import read_stages
from bench.views.stock import read_stock
from bench.views.tasks import TaskLine
from bench.views.unit import read_unit
from bench.work.safety import tick
from bench.work.stock import restock
from bench.work.units import add_unit

FULL = "full refurbish"
CLEANING = "clean with isopropyl"
LOOK_OVER = "look over and note faults"


def new_unit(desk: Desk, model: str = "Model 9") -> int:
    """A unit at the first stage with the tasks of the full route."""
    route = next(one for one in read_routes(desk) if one.name == FULL)
    return add_unit(desk, maker="Maker", model=model, route_id=route.route_id).unit_id


def task(desk: Desk, unit_id: int, name: str) -> TaskLine:
    """The unit's task of that name."""
    return next(one for one in read_unit(desk, unit_id).tasks if one.name == name)


def stage(desk: Desk, name: str) -> int:
    """The number of the stage of that name."""
    return next(one.stage_id for one in read_stages(desk) if one.name == name)


def level(desk: Desk, name: str = ISOPROPYL) -> StockLine:
    """A consumable as it is on the shelf."""
    return next(one for one in read_stock(desk).lines if one.name == name)


def fill_shelf(desk: Desk) -> None:
    """One pack of everything."""
    for line in read_stock(desk).lines:
        restock(desk, line.consumable_id, packs_text="1", price_text="10")


def open_cover(desk: Desk, unit_id: int, screws: int = 9) -> None:
    """The opening checklist ticked through."""
    tick(desk, unit_id, OPENING, list(OPENING_ITEMS), screws=screws)


def close_cover(desk: Desk, unit_id: int, screws: int) -> None:
    """The closing checklist ticked through."""
    tick(desk, unit_id, CLOSING, list(CLOSING_ITEMS), screws=screws)
