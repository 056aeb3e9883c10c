"""What is done at the bench does not go through the history: no plan of SQLite's scans a table that grows.

The plans are those of a file without statistics, as the program leaves it (sqlite.org/eqp.html: a step that
begins with SCAN goes through all rows; AUTOMATIC INDEX is made of all rows, again at every statement).
"""

from __future__ import annotations

import re
import shutil
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from bench.dashboard.screens.register import FIRST_PAGE
from bench.desk import Desk
from bench.domain.safety import OPENING
from bench.store.connecting import connect_reading
from bench.views.condition import read_condition
from bench.views.drives import read_drives
from bench.views.entries import read_unit_entries
from bench.views.expenses import read_expenses
from bench.views.fault_costs import read_fault
from bench.views.faults import read_faults, read_unit_faults
from bench.views.finding import NamesKept
from bench.views.forecast import read_forecast
from bench.views.grades import read_grades
from bench.views.journal import read_journal
from bench.views.listing import read_listing
from bench.views.model_page import read_model_page, read_model_warnings
from bench.views.months import read_as_of_now, read_month
from bench.views.next_up import read_ranking
from bench.views.offers import read_offers
from bench.views.orders import read_orders, read_orders_of
from bench.views.own_prices import read_model_prices
from bench.views.parties import read_parties
from bench.views.parts import read_parts, read_shelf
from bench.views.photographs import read_photographs, read_tag_at_hand
from bench.views.queue import read_queue
from bench.views.rates import read_rates
from bench.views.register import read_register
from bench.views.repair_jobs import read_job, read_jobs
from bench.views.routes import read_routes
from bench.views.safety import read_safety
from bench.views.sales import read_sales
from bench.views.shop import read_stages
from bench.views.specification import read_specification
from bench.views.stock import read_history, read_stock
from bench.views.three_ways import read_three_ways
from bench.views.timers import read_forgotten
from bench.views.unit import read_unit
from bench.views.unit_money import read_unit_money
from bench.views.week import read_week
from bench.work import intake
from bench.work.arrivals import take_in
from bench.work.expenses import add_expense
from bench.work.faults import add_fault
from bench.work.files import open_or_new
from bench.work.moves import hold_unit, move_unit, release_unit
from bench.work.orders import order_part
from bench.work.outcomes import end_test
from bench.work.parts import fit_from_shelf, fit_part
from bench.work.photographs import (
    attach_photographs,
    point_photograph,
    remove_photograph,
    say_of_photograph,
)
from bench.work.quotes import add_line, answer_quote, give_quote
from bench.work.repair_jobs import tell_ready
from bench.work.safety import tick
from bench.work.specification import set_specification
from bench.work.stock import count_stock, restock
from bench.work.timers import finish_task, start_task, stop_person
from bench.work.undo import read_offers_to_undo, redo, undo
from bench.work.units import add_unit
from bench.work.unlocking import keep_access_word
from tests.clocks import HandSetClock
from tests.machine_files import machine_file
from tests.pictures import jpeg

GROWING = {
    *("unit", "task", "task_use", "time_entry", "movement", "safety_check", "journal", "journal_row"),
    "stage_move",
    *("sale", "purchase", "party", "drive", "wipe", "reading", "grade", "part", "way_out", "unwiped"),
    *("offer", "photograph", "photograph_caption", "specification", "comeback", "lot"),
    *("fault", "test_run", "repair_job", "quote_line", "access_word", "expense"),
    *("component", "parts_order", "task_wait"),
}
# A table that a statement makes for itself.
OF_ITS_OWN = re.compile(r"\b(\w+)\s*(?:\([^()]*\))?\s+AS\s+(?:MATERIALIZED\s+)?\(")
# The few rows of a table that are open: their indexes hold no others.
OF_THE_OPEN = (
    *("ix_fault_open", "ix_time_entry_open", "uq_time_entry_open", "ix_time_entry_runs"),
    *("ix_time_entry_long", "uq_repair_job_open"),
    "ix_parts_order_under_way",
)


class Watched:
    """A desk on the demo, and every statement that its file was asked since the last look."""

    def __init__(self, path: Path, clock: HandSetClock, said: list[str]) -> None:
        self.clock, self.said = clock, said
        self.desk = Desk(open_or_new(path), clock, person_id=1)
        self.unit_id = add_unit(self.desk, maker="Maker", model="One", route_id=1).unit_id
        jobs = read_jobs(self.desk).jobs
        self.repaired_id = next(one.unit_id for one in jobs if one.quoted_on is not None)
        self.job_id = next(one.job_id for one in jobs if one.quoted_on is None)
        self.task_id, self.other_id = (task.task_id for task in read_unit(self.desk, self.unit_id).tasks[:2])

    def newest_order(self) -> int:
        """The order that was placed last."""
        return read_orders_of(self.desk, self.unit_id).lines[-1].order_id

    def scans(self, act: Callable[[], object]) -> list[str]:
        """The steps of its statements' plans that go through a table that grows."""
        self.said.clear()
        act()
        asking = re.compile(r"\s*(SELECT|WITH|UPDATE|DELETE)\b")
        asked = [text for text in dict.fromkeys(self.said) if asking.match(text)]
        assert asked, "nothing was asked"
        with closing(connect_reading(self.desk.store.path)) as file:
            return [f"{step}: {text}" for text in asked for step in _scans(file, text)]


def _scans(file: sqlite3.Connection, text: str) -> Iterator[str]:
    of_its_own = {one[1] for one in OF_ITS_OWN.finditer(text)}
    named = {alias: table for table, alias in re.findall(r"\b(\w+) AS (\w+)\b", text)}
    for *_, step in file.execute(f"EXPLAIN QUERY PLAN {text}"):
        found = re.match(r"(SCAN|SEARCH) (\w+)", step)
        name = found[2] if found and found[2] not in of_its_own else ""
        scanned = found is not None and found[1] == "SCAN" and named.get(name, name) in GROWING
        grows = scanned and not any(index in step for index in OF_THE_OPEN)
        if grows or (name and "AUTOMATIC" in step):
            yield step


@pytest.fixture
def watched(demo_file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Watched]:
    said: list[str] = []
    connect = sqlite3.connect

    def listening(*arguments: Any, **named: Any) -> sqlite3.Connection:
        connection = connect(*arguments, **named)
        connection.set_trace_callback(said.append)
        return connection

    monkeypatch.setattr(sqlite3, "connect", listening)
    monkeypatch.setattr("sqlite3.dbapi2.connect", listening)
    watched = Watched(Path(shutil.copy(demo_file, tmp_path)), HandSetClock(), said)
    yield watched
    watched.desk.store.close()


READS: dict[str, Callable[[Watched], object]] = {
    "the queue": lambda at: read_queue(at.desk),
    "the week": lambda at: read_week(at.desk),
    "the stock": lambda at: read_stock(at.desk),
    "a consumable": lambda at: read_history(at.desk, 1),
    "forgotten timers": lambda at: read_forgotten(at.desk),
    "what next": lambda at: read_ranking(at.desk),
    "a unit": lambda at: read_unit(at.desk, at.unit_id),
    "its safety": lambda at: read_safety(at.desk, at.unit_id),
    "its money": lambda at: read_unit_money(at.desk, at.unit_id),
    "its condition": lambda at: read_condition(at.desk, at.unit_id),
    "its model's page": lambda at: read_model_page(at.desk, "Tarn", "Cairn 15 b"),
    "an offer's warnings": lambda at: read_model_warnings(at.desk, "Tarn", "Cairn 15 b"),
    "an offer's prices": lambda at: read_model_prices(at.desk, "Tarn", "Cairn 15 b"),
    "a fault": lambda at: read_fault(at.desk, 1),
    "the rates": lambda at: read_rates(at.desk),
    "the three ways": lambda at: read_three_ways(at.desk, at.unit_id),
    "the shelf": lambda at: read_shelf(at.desk),
    "its drives": lambda at: read_drives(at.desk, at.unit_id),
    "its parts": lambda at: read_parts(at.desk, at.unit_id),
    "its specification": lambda at: read_specification(at.desk, at.unit_id),
    "its faults": lambda at: read_unit_faults(at.desk, at.unit_id),
    "the open faults": lambda at: read_faults(at.desk),
    "its grades": lambda at: read_grades(at.desk, at.unit_id),
    "its photographs": lambda at: read_photographs(at.desk, at.unit_id),
    "what is on the bench": lambda at: read_tag_at_hand(at.desk),
    "its hours": lambda at: read_unit_entries(at.desk, at.unit_id),
    "its sales": lambda at: read_sales(at.desk, at.unit_id),
    "its listing": lambda at: read_listing(at.desk, at.unit_id),
    "the orders": lambda at: read_orders(at.desk),
    "its orders": lambda at: read_orders_of(at.desk, at.unit_id),
    "the journal": lambda at: read_journal(at.desk),
    "what can be undone": lambda at: read_offers_to_undo(at.desk),
    "the offers open": lambda at: read_offers(at.desk),
    "the routes": lambda at: read_routes(at.desk),
    "the stages": lambda at: read_stages(at.desk),
    "its repair": lambda at: read_job(at.desk, at.unit_id),
    "a repair with its quote": lambda at: read_job(at.desk, at.repaired_id),
    "the repairs that last": lambda at: read_jobs(at.desk),
    "general expenses": lambda at: read_expenses(at.desk),
    "the forecast": lambda at: read_forecast(at.desk),
    "the month": lambda at: read_month(at.desk),
    "a year, first page": lambda at: read_as_of_now(at.desk),
}
# Each goes down the index by which it is ordered, and stops after so many.
FIRST_PAGES: dict[str, tuple[Callable[[Watched], object], str]] = {
    "the register": (lambda at: read_register(at.desk, most=FIRST_PAGE), "SCAN unit"),
    "the people": (lambda at: read_parties(at.desk, most=FIRST_PAGE), "SCAN party USING INDEX ix_party_name"),
}


@pytest.mark.parametrize("name", READS)
def test_no_read_at_the_bench_goes_through_the_history(watched: Watched, name: str) -> None:
    assert watched.scans(lambda: READS[name](watched)) == []


@pytest.mark.parametrize("name", FIRST_PAGES)
def test_a_first_page_is_read_in_its_order_and_nothing_else_is_gone_through(
    watched: Watched, name: str
) -> None:
    """A scan in the order that is asked for ends with the LIMIT; a sort would go through all rows first."""
    read, ordered = FIRST_PAGES[name]
    [scan] = watched.scans(lambda: read(watched))
    step, _, text = scan.partition(": ")
    assert step == ordered
    wanted = text[text.index("(SELECT id") if "(SELECT id" in text else text.index("(\n    SELECT id") :]
    page = wanted[1 : wanted.index(")")]
    assert f"LIMIT {FIRST_PAGE}" in page
    with closing(connect_reading(watched.desk.store.path)) as file:
        assert [row[3] for row in file.execute(f"EXPLAIN QUERY PLAN {page}")] == [ordered]


def test_finding_goes_through_the_history_once_and_not_at_every_key(watched: Watched) -> None:
    """The names are read into memory; a key looks there, and asks the file for the lines it found."""
    names = NamesKept()
    assert watched.scans(lambda: names.find(watched.desk, "fenn", patience_seconds=60)) != []
    found = ("fenn", "petra", "keybaord", "charger", "10629", "q7176", "ch-65")
    lines = [names.find(watched.desk, one) for one in found]
    assert all(page.whole and page.lines for page in lines)
    assert watched.scans(lambda: [names.find(watched.desk, one) for one in found]) == []


def test_no_act_at_the_bench_goes_through_the_history(watched: Watched) -> None:
    at, desk = watched, watched.desk
    stages = [stage.stage_id for stage in read_stages(desk)]
    picture = desk.store.path.with_name("picture.jpg")
    picture.write_bytes(jpeg())

    def newest_photograph() -> int:
        return read_photographs(desk, at.unit_id).lines[-1].photograph_id

    acts: dict[str, Callable[[], object]] = {
        "add one with a number": lambda: add_unit(desk, maker="Maker", model="Two", serial="X 1"),
        "add": lambda: add_unit(desk, maker="Maker", model="Two", route_id=1),
        "start": lambda: start_task(desk, at.task_id),
        "stop": lambda: stop_person(desk),
        "start again": lambda: start_task(desk, at.task_id),
        "finish": lambda: finish_task(desk, at.task_id),
        "restock": lambda: restock(desk, 1, packs_text="1", price_text="9"),
        "undo": lambda: undo(desk),
        "redo": lambda: redo(desk),
        "count": lambda: count_stock(desk, 1, quantity_text="300", reason="looked"),
        "hold": lambda: hold_unit(desk, at.unit_id, "a part"),
        "release": lambda: release_unit(desk, at.unit_id),
        "specify": lambda: set_specification(desk, at.unit_id, {"memory": "16"}),
        "take a file in": lambda: intake.take_in(
            desk, data=machine_file(), tag_text=read_unit(desk, at.unit_id).tag
        ),
        "take another in": lambda: intake.take_in(desk, data=machine_file(at="2026-11-29T08:00:00Z")),
        "undo that too": lambda: undo(desk, reason="wrong stick"),
        "undo that": lambda: undo(desk, reason="wrong stick"),
        "fit": lambda: fit_part(desk, at.unit_id, name="fan", cost_text="10"),
        "photograph": lambda: attach_photographs(desk, at.unit_id, [str(picture)], caption="lid"),
        "caption": lambda: say_of_photograph(desk, newest_photograph(), "the lid"),
        "show the step": lambda: point_photograph(desk, newest_photograph(), model=True),
        "undo what it shows": lambda: undo(desk),
        "undo the caption": lambda: undo(desk),
        "undo the photograph": lambda: undo(desk),
        "redo the photograph": lambda: redo(desk),
        "remove the photograph": lambda: remove_photograph(desk, newest_photograph()),
        "fault": lambda: add_fault(desk, at.unit_id, symptom="fan rattles"),
        "test fails": lambda: end_test(desk, at.unit_id, kind="soak", outcome="failed"),
        "test passes": lambda: end_test(desk, at.unit_id, kind="soak", outcome="passed"),
        "order": lambda: order_part(desk, at.unit_id, what="lid", task_ids=[at.other_id]),
        "take in": lambda: take_in(desk, at.newest_order(), price_text="9"),
        "fit off the shelf": lambda: fit_from_shelf(desk, read_shelf(desk).lines[-1].part_id, at.unit_id),
        "move": lambda: move_unit(desk, at.unit_id, stages[1]),
        "undo the move": lambda: undo(desk),
        "redo the move": lambda: redo(desk),
        "ready": lambda: tell_ready(desk, at.job_id),
        "quote line": lambda: add_line(desk, at.job_id, what="fan", kind="parts", price_text="4"),
        "quote": lambda: give_quote(desk, at.job_id),
        "answer": lambda: answer_quote(desk, at.job_id, answer="accepted"),
        "access word": lambda: keep_access_word(desk, at.job_id, "word"),
        "expense": lambda: add_expense(desk, category="rent", amount_text="480"),
        "undo the expense": lambda: undo(desk),
        "tick": lambda: tick(desk, at.unit_id, OPENING, ["shut_down"]),
    }
    found = {}
    for name, act in acts.items():
        at.clock.advance(minutes=1)
        if scans := at.scans(act):
            found[name] = scans
    assert found == {}


def test_a_scan_is_seen(watched: Watched) -> None:
    """So that the others could fail."""
    with watched.desk.store.read() as connection:
        assert watched.scans(lambda: connection.execute("SELECT COUNT(*) FROM task WHERE state = 'x'")) != []
