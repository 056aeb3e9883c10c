"""What the first screen shows, read in one go."""

from __future__ import annotations

from dataclasses import dataclass

from bench.desk import Desk
from bench.errors import NotFound
from bench.views.queue import QueueView, read_queue
from bench.views.stock import StockBook, read_stock
from bench.views.unit import UnitSheet, read_unit


@dataclass(frozen=True, slots=True)
class FirstReading:
    """The queue, the stock, and the unit under the cursor (None while there is none)."""

    queue: QueueView
    stock: StockBook
    unit: UnitSheet | None


def read_first(desk: Desk, unit_id: int | None) -> FirstReading:
    """All panels. Where no unit is named, or it left the queue: the one the person times, else the first."""
    queue = read_queue(desk)
    if unit_id is None or queue.row(unit_id) is None:
        own = (entry.unit_id for entry in queue.running() if entry.person_id == desk.person_id)
        timed = (unit for unit in own if queue.row(unit) is not None)
        rows = (row.unit_id for stage in queue.stages for row in stage.rows)
        unit_id = next(timed, None) or next(rows, None)
    return FirstReading(queue, read_stock(desk), read_under_cursor(desk, unit_id))


def read_under_cursor(desk: Desk, unit_id: int | None) -> UnitSheet | None:
    """The unit under the cursor; None when there is none or it has just gone."""
    if unit_id is None:
        return None
    try:
        return read_unit(desk, unit_id)
    except NotFound:
        return None
