"""Calendar and workbook read by libraries of others: icalendar (RFC 5545) and openpyxl (ECMA-376)."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import date, datetime, timedelta
from decimal import Decimal
from io import BytesIO
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from icalendar import Calendar
from openpyxl import load_workbook

from bench.desk import Desk
from bench.domain.localtime import local_datetime
from bench.domain.text import for_display
from bench.reports.calendar_text import LONGEST_OCTETS, calendar_text, folded
from bench.reports.workbook import Leaf, export_workbook, workbook
from bench.views.due_dates import DueDate, DueDates, read_due_dates
from bench.views.export import read_everything
from bench.views.shop import read_shop
from bench.work.demo import make_demo
from tests.clocks import HandSetClock

TEXTS = st.text(st.characters(exclude_categories=["Cs", "Cc", "Cf", "Co", "Cn", "Zl", "Zp"]), max_size=120)


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Desk:
    clock = HandSetClock()
    return Desk(make_demo(tmp_path_factory.mktemp("demo") / "demo.bench", clock), clock, 1)


def test_the_demos_days_are_read_as_they_are(demo: Desk) -> None:
    due = read_due_dates(demo)
    read = Calendar.from_ical(calendar_text(due))
    events = [(event["SUMMARY"], event.decoded("DTSTART")) for event in read.walk("VEVENT")]
    assert events == [(one.words, one.day) for one in due.days]
    lengths = {event.decoded("DTEND") - event.decoded("DTSTART") for event in read.walk("VEVENT")}
    assert lengths == {timedelta(days=1)}
    uids = [str(event["UID"]) for event in read.walk("VEVENT")]
    assert len(set(uids)) == len(uids) > 5
    assert calendar_text(read_due_dates(demo)) == calendar_text(due), "the same records have the same UIDs"
    assert not read.errors


def test_what_is_due_is_what_the_file_says(demo: Desk) -> None:
    days = {(one.what, one.number): one.day.isoformat() for one in read_due_dates(demo).days}
    with demo.store.read() as connection:
        rows = connection.execute(
            "SELECT unit.id, due_on FROM unit JOIN stage ON stage.id = unit.stage_id"
            " WHERE due_on IS NOT NULL AND stage.final = 0 AND unit.removed = 0"
        ).fetchall()
    found = {number: day for (what, number), day in days.items() if what == "unit"}
    assert found
    assert found.items() <= dict(map(tuple, rows)).items()


@given(TEXTS, st.dates(date(1970, 1, 1), date(2999, 12, 30)))
def test_any_words_come_through(words: str, day: date) -> None:
    due = DueDates((DueDate("unit", 7, day, words),), "Shop", 0, "UTC", "bench-file:x")
    text = calendar_text(due)
    assert all(len(line.encode()) <= LONGEST_OCTETS for line in text.split("\r\n"))
    [event] = Calendar.from_ical(text).walk("VEVENT")
    assert str(event["SUMMARY"]) == for_display(words)
    assert event.decoded("DTSTART") == day


@given(TEXTS)
def test_a_folded_line_unfolds_to_itself(line: str) -> None:
    assert folded(line).replace("\r\n ", "") == line


def test_the_workbook_holds_decimals_and_dates_of_every_row(demo: Desk, tmp_path: Path) -> None:
    export = read_everything(demo)
    path = tmp_path / "shop.xlsx"
    path.write_bytes(export_workbook(export, read_shop(demo).currency))
    with closing(load_workbook(path, read_only=True)) as book:
        assert book.sheetnames == [table.name[:31] for table in export.tables]
        for table in export.tables:
            rows = list(book[table.name[:31]].iter_rows(values_only=True))
            assert len(rows) == len(table.rows) + 1
        sales = list(book["sale"].iter_rows(values_only=True))
    kept = next(table for table in export.tables if table.name == "sale")
    at = {name: kept.columns.index(name) for name in ("price_minor", "sold_on", "sold_us")}
    assert sales[0][at["price_minor"]] == "price EUR"
    for row, told in zip(kept.rows, sales[1:], strict=True):
        assert Decimal(str(told[at["price_minor"]])) * 100 == row[at["price_minor"]]
        assert isinstance(told[at["sold_on"]], datetime)
        assert told[at["sold_on"]].date().isoformat() == row[at["sold_on"]]
        local = local_datetime(row[at["sold_us"]], export.zone).replace(tzinfo=None)
        assert abs(told[at["sold_us"]] - local) < timedelta(seconds=1)


@pytest.mark.parametrize("text", ["=1+1", "+1", "@SUM(A1)", "http://x.example", "0012", "-", "a\tb"])
def test_text_is_never_a_formula_a_link_or_a_number(text: str) -> None:
    book = load_workbook(BytesIO(workbook([Leaf("one", ["text"], [[text]])])))
    cell = book["one"]["A2"]
    assert (cell.data_type, cell.value) == ("s", text)
    assert cell.hyperlink is None


def test_the_export_is_whole(demo: Desk) -> None:
    with closing(sqlite3.connect(demo.store.path)) as file:
        units = file.execute("SELECT COUNT(*) FROM unit").fetchone()[0]
    assert len(next(table.rows for table in read_everything(demo).tables if table.name == "unit")) == units
