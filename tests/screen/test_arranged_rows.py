"""Rows that a person filtered and sorted: by values, under their headings, totals told for what they are."""

from __future__ import annotations

from dataclasses import replace

from bench.dashboard.presenters.arranged_rows import (
    Arrangement,
    arranged_columns,
    column_names,
    count_of,
    filtered_rows,
    searchable_rows,
    sorted_rows,
)
from bench.dashboard.presenters.pieces import Part
from bench.dashboard.presenters.rows import (
    RecordRows,
    Row,
    cell,
    column_at,
    heading,
    rows_of,
    total_row,
    widths,
)
from bench.views.columns import Column, Table
from bench.views.kinds import COUNT, MONEY, Context

NOW_US = 1_794_000_000_000_000
Thing = tuple[str, int | None]
THINGS = Table[Thing](
    "things",
    "Things",
    (
        Column("Name", lambda one: one[0], width=10, grow=1),
        Column("Paid", lambda one: one[1], MONEY, from_width=60),
        Column("", lambda one: len(one[0]), COUNT),
    ),
    key=lambda one: one[0],
)
CONTEXT = Context("EUR")
ONES: list[Thing] = [("Birch", 900), ("acorn", None), ("Cedar", 10_000), ("Ash", 900)]


def names(rows: object) -> list[object]:
    return [row.key for row in rows]  # type: ignore[attr-defined]


def test_sorted_by_the_value_and_not_by_its_words() -> None:
    rows = rows_of(THINGS, ONES, CONTEXT)
    by_paid = sorted_rows(rows, THINGS, Arrangement("Paid"))
    assert isinstance(by_paid, RecordRows)
    assert names(by_paid) == ["Birch", "Ash", "Cedar", "acorn"]
    assert names(sorted_rows(rows, THINGS, Arrangement("Paid", falling=True))) == [
        "Cedar",
        "Birch",
        "Ash",
        "acorn",
    ]
    assert sorted_rows(rows, THINGS, Arrangement("a column of old")) is rows


def test_rows_stay_under_their_heading_and_totals_last() -> None:
    rows = [
        heading("one", "One"),
        *rows_of(THINGS, ONES[:2], CONTEXT),
        heading("two", "Two"),
        *rows_of(THINGS, ONES[2:], CONTEXT),
        total_row(THINGS, ("total", 11_800), CONTEXT),
    ]
    by_name = sorted_rows(rows, THINGS, Arrangement("Name"))
    assert names(by_name) == ["one", "acorn", "Birch", "two", "Ash", "Cedar", "total"]


def test_rows_without_records_keep_their_order() -> None:
    made = (Row("b", (cell("b"), cell(""), cell(""))), Row("a", (cell("a"), cell(""), cell(""))))
    assert sorted_rows(made, THINGS, Arrangement("Name")) == made


def test_filtering_wants_every_word_whatever_its_case_and_keeps_headings_with_rows() -> None:
    rows = [
        heading("one", "One"),
        *rows_of(THINGS, ONES[:2], CONTEXT),
        heading("two", "Two"),
        *rows_of(THINGS, ONES[2:], CONTEXT),
        total_row(THINGS, ("total", 11_800), CONTEXT),
    ]
    said = searchable_rows(rows, THINGS, NOW_US, bare=False)
    found = filtered_rows(rows, said, "9.00 AS")
    assert names(found) == ["two", "Ash", "total"]
    assert found[-1].cells[0] == Part("total (of all)", "strong")
    assert count_of(found) == 1
    assert count_of(rows) == 4
    assert filtered_rows(rows, said, "  ") is rows
    assert names(filtered_rows(rows, said, "nowhere")) == ["total"]


def test_records_are_filtered_as_records() -> None:
    rows = rows_of(THINGS, ONES, CONTEXT)
    found = filtered_rows(rows, searchable_rows(rows, THINGS, NOW_US, bare=False), "a")
    assert isinstance(found, RecordRows)
    assert found.records == (ONES[1], ONES[2], ONES[3])


def test_columns_are_hidden_and_shown_whatever_the_width() -> None:
    assert column_names(THINGS) == ("Name", "Paid", "column 3")
    narrow = widths(THINGS.columns, 40)
    assert narrow[1] == 0
    shown = arranged_columns(THINGS, Arrangement().turned("Paid", seen=False))
    assert widths(shown, 40)[1] > 0
    hidden = arranged_columns(THINGS, Arrangement().turned("Name", seen=True))
    assert widths(hidden, 400)[0] == 0
    assert Arrangement().turned("Paid", seen=True).turned("Paid", seen=False).hidden == frozenset()


def test_the_column_that_is_sorted_by_bears_a_mark() -> None:
    rising = Arrangement().sorted_next("Paid")
    falling = rising.sorted_next("Paid")
    assert [one.heading for one in arranged_columns(THINGS, rising)] == ["Name", "▲Paid", ""]
    assert [one.heading for one in arranged_columns(THINGS, falling)] == ["Name", "▼Paid", ""]
    assert falling.sorted_next("Paid") == Arrangement()
    assert falling.sorted_next("Name") == replace(rising, by="Name")


def test_a_cell_of_the_names_is_a_columns() -> None:
    first, _paid, last = widths(THINGS.columns, 40)
    assert column_at(THINGS.columns, 40, 0) == 0
    assert column_at(THINGS.columns, 40, first - 1) == 0
    assert column_at(THINGS.columns, 40, first) is None
    assert column_at(THINGS.columns, 40, 39) == 2
    assert column_at(THINGS.columns, 40, first + 2 + last) is None


def test_columns_of_one_heading_are_told_apart() -> None:
    twice = replace(THINGS, columns=(*THINGS.columns, THINGS.columns[0]))
    assert column_names(twice) == ("Name", "Paid", "column 3", "Name 2")
