"""Steps that several tests of the stock share, and looks at the file behind the use cases' backs."""

from __future__ import annotations

from bench.desk import Desk
from bench.domain.stock_levels import Issued, StockLine
from bench.views.stock import read_stock
from bench.work.change import change
from bench.work.issuing import issue
from bench.work.stock import add_consumable
from bench.work.units import add_unit

ISOPROPYL, PASTE, WIPES = 1, 2, 3  # as a new file numbers them
DAY_MINUTES = 24 * 60


def any_task(desk: Desk) -> int:
    """A task of a new unit, for stock to be issued to."""
    unit = add_unit(desk, maker="Invented", model="One", route_id=1)
    with desk.store.read() as connection:
        row = connection.execute("SELECT MIN(id) FROM task WHERE unit_id = ?", (unit.unit_id,)).fetchone()
    return int(row[0])


def take(desk: Desk, task_id: int, consumable_id: int, quantity: int) -> Issued:
    """Issue as finishing a task does."""
    with change(desk, "take") as made:
        made.tells("Took some")
        return issue(made, task_id, consumable_id, quantity)


def line(desk: Desk, consumable_id: int) -> StockLine:
    """A consumable's line of the stock book."""
    return next(one for one in read_stock(desk).lines if one.consumable_id == consumable_id)


def new_consumable(desk: Desk, name: str = "varnish", unit: str = "g", **more: str) -> int:
    """A consumable of a pack of 100, with what else is given."""
    wanted = {"pack_text": "100", "lead_days_text": "7", **more}
    return add_consumable(desk, name=name, base_unit=unit, **wanted)


def footprint(desk: Desk) -> tuple[int, int]:
    """How many movements and journal rows there are: equal before and after means nothing was written."""
    with desk.store.read() as connection:
        movements = connection.execute("SELECT COUNT(*) FROM movement").fetchone()[0]
        journal = connection.execute("SELECT COUNT(*) FROM journal").fetchone()[0]
    return int(movements), int(journal)


def last_journal(desk: Desk) -> tuple[str, str]:
    """Summary and reason of the newest journal row."""
    with desk.store.read() as connection:
        row = connection.execute("SELECT summary, reason FROM journal ORDER BY id DESC LIMIT 1").fetchone()
    return str(row[0]), str(row[1])
