"""Reads and acts at the bench on a hundred times the demo's history, against the demo and against no history.

Three files: the demo; the demo after three years of a large shop; the demo after the last weeks of those
years alone. What a week or a month tells is the same in the last two, row for row: what three years take
longer is the history's. What both take longer than the demo is that those weeks have more jobs.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path
from statistics import median
from typing import Any

import pytest
from rich.console import RenderableType
from textual.screen import Screen

from bench.dashboard.screens.months import MonthsScreen
from bench.dashboard.screens.register import FIRST_PAGE, RegisterScreen
from bench.desk import Desk
from bench.views.buyer_sheet import read_buyer_sheet
from bench.views.expenses import read_expenses
from bench.views.fault_costs import read_fault_report
from bench.views.faults import read_faults, read_unit_faults
from bench.views.forecast import read_forecast
from bench.views.model_page import read_model_page, read_model_warnings
from bench.views.months import read_as_of_now, read_month, read_year
from bench.views.next_up import read_ranking
from bench.views.orders import read_orders, read_orders_of
from bench.views.own_prices import read_model_prices
from bench.views.parties import read_parties
from bench.views.parts import read_parts
from bench.views.photographs import read_photographs
from bench.views.queue import read_queue
from bench.views.rates import read_rates
from bench.views.register import read_register
from bench.views.shop import read_stages
from bench.views.stock import read_history, read_stock
from bench.views.suppliers import read_suppliers
from bench.views.three_ways import read_three_ways
from bench.views.timers import read_forgotten
from bench.views.unit import read_unit
from bench.views.week import read_week
from bench.work.faults import add_fault
from bench.work.moves import hold_unit, release_unit
from bench.work.outcomes import end_test
from bench.work.stock import count_stock, restock
from bench.work.timers import finish_task, start_task, stop_person
from bench.work.undo import redo, undo
from bench.work.units import add_unit
from tests.benchmarks.grown_demo import grown_demo
from tests.benchmarks.grown_memory import AT_LEAST
from tests.benchmarks.measuring import Ratio, compare
from tests.clocks import HandSetClock
from tests.screen.host import Host, settled

ROUNDS = 7
CLOCK = time.thread_time  # a busy machine does not count; nor does the disk
CALLS = 5  # of a read in each round, but of whole documents
# The week's sheet looks back furthest of those that tell of the last weeks: eight of them, and its own.
LATELY_DAYS = 70


@dataclass(frozen=True)
class Sizes:
    """The demo; the last weeks of a large shop, with no more behind them; and three years of it."""

    demo: Desk
    lately: Desk
    grown: Desk


# How many times as long each may take on three years: as on the demo, and as on the last weeks alone. Against
# the demo a week and a month have more jobs, and what goes by the newest hundreds of the past has so many to
# go by. Whole documents tell of all that was, and have the first bound alone; so has what stops at the newest
# hundreds of a model or of all sales, which the last weeks alone do not fill.
READS: dict[str, tuple[Callable[[Desk], Any], float, float | None]] = {
    "the queue": (read_queue, 1.3, 1.2),
    "the stock": (read_stock, 1.9, 1.2),
    "a consumable": (lambda desk: read_history(desk, 1), 3.9, 1.2),
    "forgotten timers": (read_forgotten, 1.2, 1.2),
    "what next": (read_ranking, 1.65, 1.2),
    "a unit": (lambda desk: read_unit(desk, 1), 1.25, 1.25),
    "its faults": (lambda desk: read_unit_faults(desk, 3), 1.25, 1.25),
    "the open faults": (read_faults, 1.25, 1.25),
    "its photographs": (lambda desk: read_photographs(desk, 42), 1.25, 1.25),
    "its parts": (lambda desk: read_parts(desk, 42), 1.25, 1.25),
    "its orders": (lambda desk: read_orders_of(desk, 42), 1.25, 1.25),
    "the orders under way": (read_orders, 1.25, 1.25),
    "the three ways": (lambda desk: read_three_ways(desk, 56), 6, None),
    "the rates": (read_rates, 18, 1.25),
    "its model's page": (lambda desk: read_model_page(desk, "Tarn", "Cairn 15 b"), 21, None),
    "an offer's warnings": (lambda desk: read_model_warnings(desk, "Tarn", "Cairn 15 b"), 37, None),
    "an offer's prices": (lambda desk: read_model_prices(desk, "Tarn", "Cairn 15 b"), 23, None),
    "general expenses": (read_expenses, 3, None),
    "its buyer's sheet": (lambda desk: read_buyer_sheet(desk, 42), 1.25, 1.25),
    "the stages": (read_stages, 1.2, 1.2),
    "the week": (read_week, 8, 1.2),
    "the month": (read_month, 3.6, 1.2),
    "the forecast": (read_forecast, 2.8, 1.2),
    "the people, first page": (lambda desk: read_parties(desk, most=FIRST_PAGE), 1.3, 1.2),
    "the register, first page": (lambda desk: read_register(desk, most=FIRST_PAGE), 1.2, 1.2),
    "a year, first page": (read_as_of_now, 1.35, 1.2),
    "the suppliers": (read_suppliers, 1000, None),
    "what faults cost": (lambda desk: read_fault_report(desk, "place"), 1000, None),
    "the people": (read_parties, 385, None),
    "the register": (read_register, 290, None),
    "a year": (read_year, 100, None),
}
# What they answer on the last weeks alone is all that they answer on three years.
SAME = {"the stock", "what next", "a unit", "the week", "the month", "the forecast"}
# From the key to the first page on the screen.
SCREENS: dict[str, tuple[Callable[[], Screen[Any]], float]] = {
    "the register's screen": (RegisterScreen, 1.3),
    "a year's screen": (lambda: MonthsScreen(whole_year=True), 1.35),
}


@pytest.fixture(scope="module")
def sizes(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Sizes]:
    folder: Path = tmp_path_factory.mktemp("grown")
    with ExitStack() as stack:
        grown = stack.enter_context(grown_demo(folder / "grown.bench"))
        lately = stack.enter_context(grown_demo(folder / "lately.bench", days=LATELY_DAYS))
        demo = stack.enter_context(grown_demo(folder / "small.bench", days=0))
        for desk in (grown, lately, demo):
            with desk.store.read() as connection:
                for table in ("unit", "time_entry", "movement", "journal", *AT_LEAST):
                    print(table, connection.execute(f"SELECT COUNT(*) FROM {table}").fetchone()[0])
        yield Sizes(demo, lately, grown)


@pytest.mark.parametrize("name", READS)
def test_read(sizes: Sizes, name: str) -> None:
    read, most, most_behind = READS[name]
    assert name not in SAME or read(sizes.grown) == read(sizes.lately)
    ours = lambda: read(sizes.grown)  # noqa: E731 - as the others are said below
    calls = CALLS if most_behind else 1
    compare(
        f"{name}, 100x", ours, lambda: read(sizes.demo), rounds=ROUNDS, calls=calls, clock=CLOCK
    ).must_be_below(most)
    if most_behind:
        lately = compare(
            f"{name}, none behind", ours, lambda: read(sizes.lately), rounds=ROUNDS, calls=calls, clock=CLOCK
        )
        lately.must_be_below(most_behind)


class Watching(Host):
    """Notes when it first drew a screen that had something to show."""

    drawn_s = 0.0

    def _display(self, screen: Screen[Any], renderable: RenderableType | None) -> None:
        super()._display(screen, renderable)
        if renderable is not None and not self.drawn_s and getattr(screen, "facts", None) is not None:
            self.drawn_s = time.perf_counter()


@pytest.mark.parametrize("name", SCREENS)
async def test_screen(sizes: Sizes, name: str) -> None:
    make, most = SCREENS[name]
    took: dict[int, list[float]] = {id(sizes.grown): [], id(sizes.demo): []}
    for _ in range(ROUNDS + 1):
        for desk in (sizes.grown, sizes.demo):
            app = Watching(desk)
            async with app.run_test(size=(120, 36)) as pilot:
                await settled(pilot)
                began = time.perf_counter()
                app.push_screen(make())
                await settled(pilot)
                took[id(desk)].append(app.drawn_s - began)
    grown, demo = (median(took[id(desk)][1:]) for desk in (sizes.grown, sizes.demo))
    Ratio(f"{name}, 100x", grown, demo).must_be_below(most)


def test_acts(sizes: Sizes) -> None:
    grown: dict[str, list[float]] = {}
    demo: dict[str, list[float]] = {}
    for _ in range(ROUNDS + 1):
        _act(sizes.grown, grown)
        _act(sizes.demo, demo)
    for name, seconds in grown.items():  # the first round does not count
        Ratio(f"{name}, 100x", median(seconds[1:]), median(demo[name][1:])).must_be_below(1.6)


def _act(desk: Desk, took: dict[str, list[float]]) -> None:
    """One round of acts, and how long each took, in seconds."""
    clock = desk.clock
    assert isinstance(clock, HandSetClock)

    def do(name: str, act: Callable[[], object]) -> None:
        clock.advance(minutes=1)
        began = CLOCK()
        act()
        took.setdefault(name, []).append(CLOCK() - began)

    unit_id = add_unit(desk, maker="Maker", model="One", route_id=1).unit_id
    task_id = read_unit(desk, unit_id).tasks[0].task_id
    do("start", lambda: start_task(desk, task_id))
    do("stop", lambda: stop_person(desk))
    start_task(desk, task_id)
    do("finish", lambda: finish_task(desk, task_id))
    do("fault", lambda: add_fault(desk, unit_id, symptom="fan rattles"))
    do("test", lambda: end_test(desk, unit_id, kind="soak", outcome="failed"))
    do("restock", lambda: restock(desk, 1, packs_text="1", price_text="9"))
    do("undo", lambda: undo(desk))
    do("redo", lambda: redo(desk))
    do("count", lambda: count_stock(desk, 1, quantity_text="300", reason="looked"))
    do("hold", lambda: hold_unit(desk, unit_id, "a part"))
    do("release", lambda: release_unit(desk, unit_id))
