"""The invented workshop of the folder demo/, loaded into a new data file of its own."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from sqlmodel import Session, SQLModel, insert

from bench.desk import Clock
from bench.domain.money import read_money
from bench.domain.orders import SENT_BACK
from bench.errors import StoreError
from bench.store.demo_data import Demo, demo_folder, first_person, read_demo
from bench.store.demo_repairs import read_repairs
from bench.store.engine import Store
from bench.store.files import made_whole
from bench.store.tables import Journal, Shop
from bench.store.upgrade import make_tables
from bench.work.demo.buying import buying_rows
from bench.work.demo.condition import condition_rows
from bench.work.demo.drives import drive_rows
from bench.work.demo.faults import fault_rows
from bench.work.demo.ground import ground_of
from bench.work.demo.models import add_model_pages
from bench.work.demo.orders import order_rows
from bench.work.demo.parts import part_rows
from bench.work.demo.photographs import photograph_rows, point_photographs, write_photographs
from bench.work.demo.repair_jobs import add_repairs
from bench.work.demo.sales import sale_rows
from bench.work.demo.specifications import specification_rows
from bench.work.demo.stock import stock_rows
from bench.work.demo.story import happenings
from bench.work.demo.terms import terms_of
from bench.work.demo.units import unit_rows
from bench.work.starting_set import add_starting_set


def who_acts() -> str:
    """The person whose screen the demo is: at the bench, one timer running."""
    return first_person(demo_folder())


def make_demo(path: Path, clock: Clock) -> Store:
    """The demo workshop as it stands now, in a new file at `path`, open.

    Every instant is counted back from now, so that timers run and this week is filled up to this minute.
    Raises StoreError when there is a file at `path` already; it is left as it is.
    """
    if path.exists():
        raise StoreError(f"{path} is there already and was left as it is.", "Name a new file for the demo.")
    demo = read_demo(demo_folder())
    with made_whole(path) as scratch:
        names = write_photographs(path, demo.trade.photographs)
        make_tables(scratch)
        store = Store(scratch)
        try:
            with store.write() as session:
                _load(session, demo, clock.now_us(), names)
        finally:
            store.close()
    return Store(path)


def _load(session: Session, demo: Demo, now_us: int, names: Sequence[str]) -> None:
    session.add(
        Shop(
            name=demo.name,
            currency=demo.currency,
            zone=demo.zone,
            rate_minor_per_hour=read_money(demo.rate, demo.currency),
            next_tag_number=max(unit.number for unit in demo.units) + 1,
        )
    )
    add_starting_set(session)
    ground = ground_of(session, demo, now_us, terms_of(session, demo))
    units = unit_rows(ground, happenings(demo, now_us))
    tasks, moments = units.tasks, units.moments
    stock = stock_rows(ground, tasks.taken)
    buying, drives = buying_rows(ground, moments), drive_rows(ground, moments)
    condition = condition_rows(ground, moments, drives)
    specified = specification_rows(ground, moments)
    parts, sales = part_rows(ground, moments, drives.numbers()), sale_rows(ground, moments)
    photographs = photograph_rows(ground, moments, names)
    faults = fault_rows(ground, moments, tasks.tasks, parts.parts, sales.comebacks)
    orders = order_rows(ground, tasks.tasks, len(parts.components) + 1)
    in_order: Sequence[Sequence[SQLModel]] = (
        units.units,
        units.moves,
        units.checks,
        tasks.tasks,
        tasks.uses,
        tasks.entries,
        tasks.corrections,
        stock.movements,
        buying.lots,
        (*buying.purchases, *buying.offers),
        drives.drives,
        (*drives.wipes, *drives.unwiped),
        (*condition.readings, *condition.grades, *parts.components, *orders.components),
        (*parts.parts, *orders.parts, *specified.specifications),
        orders.orders,
        orders.waits,
        sales.sales,
        sales.comebacks,
        sales.ways_out,
        sales.listings,
        photographs.photographs,
        photographs.captions,
        faults.faults,
        faults.runs,
    )
    repairs = read_repairs(demo_folder())
    cells = [(unit, unit.cell_finding) for unit in units.units if unit.cell_finding]
    for unit, _ in cells:
        unit.cell_finding = None  # what was done on it was done before its cell was found bad
    outside = [(drive, drive.outside_us) for drive in drives.drives if drive.outside_us is not None]
    for drive, _ in outside:
        drive.outside_us = None  # its unit was sold on a wipe that counted then
    for rows in in_order:
        session.add_all(rows)
        session.flush()
    faults.join()
    session.flush()
    add_repairs(session, ground, repairs, units.units, sales.ways_out)
    for unit, finding in cells:
        unit.cell_finding = finding
    for drive, came_back_us in outside:
        drive.outside_us = came_back_us
    for component, sent_us, bears_unit_id in orders.gone:
        component.gone, component.gone_us, component.bears_unit_id = SENT_BACK, sent_us, bears_unit_id
    session.flush()
    add_model_pages(session, demo)
    session.flush()
    point_photographs(session, photographs)
    told = (units, tasks, stock, buying, drives, condition, parts, photographs, specified, faults, orders)
    lines = [line for one in told for line in one.lines]
    session.execute(insert(Journal), ground.journal(lines))
