"""A lot of two hundred units goes into the file quickly: others wait five seconds for it, and no longer."""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy import event

from bench.desk import Desk
from bench.domain.lots import LotUnit
from bench.views.routes import read_routes
from bench.views.unit import read_unit
from bench.work.lots import buy_lot

UNITS = 200
OTHERS_WAIT_S = 5.0  # busy_timeout of store/engine.py
STATEMENTS_A_UNIT = 30  # 43 when each unit asked again for what all need alike


@contextmanager
def counted(desk: Desk) -> Iterator[list[str]]:
    """The SQL statements of a block."""
    said: list[str] = []

    def note(_connection: object, _cursor: object, statement: str, *_: object) -> None:
        said.append(statement)

    event.listen(desk.store.engine(), "before_cursor_execute", note)
    yield said
    event.remove(desk.store.engine(), "before_cursor_execute", note)


def test_a_large_lot_holds_the_file_shortly(desk: Desk) -> None:
    """Processor time of this thread: what it takes on a machine that does nothing else."""
    route = max(read_routes(desk), key=lambda one: one.tasks)
    units = [LotUnit("", f"M{number}", route_id=route.route_id) for number in range(UNITS)]
    with counted(desk) as statements:
        began = time.thread_time()
        lot = buy_lot(desk, name="pallet", price_text="20000", units=units)
        took = time.thread_time() - began
    assert len(lot.shares) == UNITS
    assert sum(len(read_unit(desk, share.unit_id).tasks) for share in lot.shares[::50]) == 4 * route.tasks
    assert len(statements) <= STATEMENTS_A_UNIT * UNITS, len(statements) / UNITS
    assert took < OTHERS_WAIT_S
