"""The money ledger: every sum of money adds the same lines, and each line can be opened."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path

import pytest

from bench.desk import Desk
from bench.domain.unit_money import TIME
from bench.views import ledger
from bench.views.ledger import COST, PROCEEDS_SIDE
from bench.views.money_rows import read_money_rows
from bench.views.months import read_year
from bench.views.unit_money import read_unit_money
from bench.views.units_sold import units_sold
from bench.work.files import open_existing
from tests.clocks import HandSetClock


@pytest.fixture(scope="module")
def demo(demo_file: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    store = open_existing(Path(shutil.copy(demo_file, tmp_path_factory.mktemp("demo"))))
    yield Desk(store, HandSetClock(), person_id=1)
    store.close()


@contextmanager
def reading(desk: Desk) -> Iterator[sqlite3.Connection]:
    with desk.store.read() as connection:
        yield connection


def unit_ids(desk: Desk) -> list[int]:
    with reading(desk) as connection:
        return [row[0] for row in connection.execute("SELECT id FROM unit WHERE removed = 0 ORDER BY id")]


def test_a_units_money_is_the_sum_of_its_lines(demo: Desk) -> None:
    told = 0
    for unit_id in unit_ids(demo):
        with reading(demo) as connection:
            lines = ledger.lines_of(connection, unit_id)
        money = read_unit_money(demo, unit_id)
        cost = -sum(line.amount_minor or 0 for line in lines if line.side == COST)
        brought = sum(line.amount_minor or 0 for line in lines if line.side == PROCEEDS_SIDE)
        assert (money.cost_so_far_minor, money.proceeds_minor) == (cost, brought), money.tag
        absent = sum(line.amount_minor is None for line in lines)
        assert len(money.missing) == absent, money.tag
        told += len(lines)
    assert told > 400  # the demo has a trade worth adding up


def test_what_a_line_opens_adds_up_to_it(demo: Desk) -> None:
    opened = 0
    for unit_id in unit_ids(demo):
        money = read_unit_money(demo, unit_id)
        lines = (*money.cost_so_far, *money.proceeds)
        for opens in {line.opens for line in lines}:
            rows = read_money_rows(demo, unit_id, opens)
            of_them = sum(line.amount_minor or 0 for line in lines if line.opens == opens)
            assert rows.amount_minor == of_them, (money.tag, opens)
            opened += len(rows.rows)
        assert read_money_rows(demo, unit_id, TIME).length_us == money.hands_on_us
    assert opened > 300


def test_a_year_is_the_sum_of_what_was_sold_in_it(demo: Desk) -> None:
    year = read_year(demo)
    with reading(demo) as connection:
        sold, sums = units_sold(connection, year.first, year.last)
    assert year.total.margin_minor == ledger.total(sums) == sum(one.margin_minor for one in sold)
    assert sum(line.amount_minor or 0 for line in year.lines) == year.total.margin_minor
    for one in sold:
        assert one.margin_minor == read_unit_money(demo, one.unit_id).margin_minor, one.tag


def test_sums_are_the_same_lines_whoever_asks(demo: Desk) -> None:
    ids = unit_ids(demo)
    with reading(demo) as connection:
        for one in ledger.totals_of(connection, ids):
            lines = [line for line in ledger.lines_of(connection, one.unit_id) if line.kind == one.kind]
            assert one.amount_minor == sum(line.amount_minor or 0 for line in lines)
            assert one.absent == sum(line.amount_minor is None for line in lines)
            assert one.rows == sum(line.amount_minor != 0 for line in lines)
        nobody = ledger.totals_of_sold(connection, date(1999, 1, 1), date(1999, 12, 31))
    assert nobody == ()
