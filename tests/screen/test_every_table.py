"""Every table of every screen, on the demo workshop: sorted by each of its columns, filtered, copied."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from textual.screen import Screen

from bench.dashboard.acts.act import load
from bench.dashboard.presenters.arranged_rows import Arrangement, can_sort, column_names, count_of
from bench.dashboard.presenters.pieces import EMPTY, FULL
from bench.dashboard.presenters.rows import RecordCells, Row
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.row_table import RowTable
from bench.desk import Desk
from bench.views.columns import Column
from bench.views.particulars import unit_by_tag
from bench.work.demo import make_demo
from bench.work.files import open_or_new
from tests.clocks import HandSetClock
from tests.screen.host import opened, settled

OF_THE_SHOP = (
    "stock:StockScreen",
    "week:WeekScreen",
    "journal:JournalScreen",
    "register:RegisterScreen",
    "months:MonthsScreen",
    "next_up:NextUpScreen",
    "buying:BuyingScreen",
    "lots:LotsScreen",
    "orders:OrdersScreen",
    "parts_shelf:PartsShelfScreen",
    "models:ModelsScreen",
    "faults:ShopFaultsScreen",
    "repair_jobs:JobsScreen",
    "expenses:ExpensesScreen",
    "routes:RoutesScreen",
    "trade:TradeScreen",
    "settings:SettingsScreen",
    "help:HelpScreen",
)
OF_A_UNIT = (
    "unit:UnitScreen",
    "condition:ConditionScreen",
    "wiping:WipingScreen",
    "faults:FaultsScreen",
    "parts:PartsScreen",
    "grading:GradingScreen",
    "money:MoneyScreen",
    "three_ways:ThreeWaysScreen",
    "model_page:ModelPageScreen",
    "photographs:PhotographsScreen",
)
TAG = "10428"  # listed, with readings, drives, parts and grades


@pytest.fixture(scope="module")
def demo_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("demo") / "demo.bench"
    make_demo(path, HandSetClock()).close()
    return path


@pytest.fixture
def demo_desk(demo_file: Path, tmp_path: Path, clock: HandSetClock) -> Iterator[Desk]:
    store = open_or_new(Path(shutil.copy(demo_file, tmp_path / "demo.bench")))
    yield Desk(store, clock, person_id=1)
    store.close()


@pytest.mark.parametrize("named", [*OF_THE_SHOP, *OF_A_UNIT])
async def test_every_table_is_sorted_by_each_column_and_filtered_and_loses_no_row(
    demo_desk: Desk, named: str
) -> None:
    about = (unit_by_tag(demo_desk, TAG),) if named in OF_A_UNIT else ()
    screen: Screen[Any] = load(f"bench.dashboard.screens.{named}")(*about)
    async with opened(demo_desk, screen, (120, 36)) as (app, pilot):
        await settled(pilot)
        assert isinstance(app.screen, Sheet)
        tables = list(app.screen.query(RowTable))
        assert any(count_of(table.rows.items) for table in tables), "nothing to be seen"
        for table in tables:
            looked_at(table)
        app.screen.show(app.screen.facts)
        await settled(pilot)


def looked_at(table: RowTable) -> None:
    """Sort it by each column both ways, then filter it by what its first row says and by what none says."""
    own, kept = list(table.rows.items), table.key
    for name, column in zip(column_names(table.table), table.table.columns, strict=True):
        if not can_sort(column):
            continue
        for falling in (False, True):
            table.set_arrangement(Arrangement(name, falling))
            assert sorted(map(repr, keys(table.rows.items))) == sorted(map(repr, keys(own)))
            assert table.key == kept
            in_order(table.rows.items, column, falling=falling)
    table.set_arrangement(Arrangement())
    assert keys(table.rows.items) == keys(own)
    table.filter_by("no line says xyzzy")
    assert count_of(table.rows.items) == 0, table.table.name
    for row in own[:3]:
        if row.heading or row.total:
            continue
        table.filter_by(seen_words(table, row))
        assert row.key in keys(table.rows.items), "a row is found by what is seen of it"
    table.filter_by("")
    assert keys(table.rows.items) == keys(own)


def seen_words(table: RowTable, row: Row) -> str:
    """What stands in the row's cells as it is drawn, in a table as wide as it likes."""
    told = [part.text for part in table.rows.line_of(row, 1_000)]
    return " ".join(word for one in told for word in one.split() if not set(word) & {EMPTY, FULL, "…"})


def keys(rows: Any) -> list[object]:
    return [row.key for row in rows]


def in_order(rows: Any, column: Column[Any], *, falling: bool) -> None:
    """Between two headings, the values that are known follow one another."""
    group: list[Row] = []
    for row in [*rows, None]:
        if row is not None and not row.heading:
            group.append(row)
            continue
        told = [one.cells.record for one in group if isinstance(one.cells, RecordCells) and not one.total]
        values = [column.value(one) for one in told if column.value(one) is not None]
        for first, second in pairwise(map(column.kind.order, values)):
            assert second <= first if falling else first <= second
        group = []
