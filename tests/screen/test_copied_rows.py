"""Rows as they are copied: cells apart by tabs, what people typed literally, no cell that would run."""

from __future__ import annotations

import csv
import io

from bench.dashboard.presenters.copied_rows import cell_texts, copied_rows
from bench.dashboard.presenters.rows import Bar, Row, cell, heading, rows_of
from bench.views.columns import Column, Table
from bench.views.kinds import BAR, MONEY, Context

PAIRS = Table[tuple[str, int]](
    "pairs",
    "Pairs",
    (
        Column("Name", lambda one: one[0]),
        Column("", lambda one: one[1], BAR),
        Column("Paid", lambda one: one[1], MONEY),
    ),
    key=lambda one: one[0],
)
FAMILY = 'family \U0001f469\u200d\U0001f469\u200d\U0001f467 [b]14" laptop[/]'


def of(*names: str) -> list[Row]:
    return list(rows_of(PAIRS, [(name, -1_250) for name in names], Context("EUR")))


def test_a_row_is_its_cells_with_tabs_between_and_a_bar_is_none() -> None:
    assert copied_rows(of("Fenn 14"), PAIRS.columns) == "Fenn 14\t-12.50 EUR".replace("-", "'-", 1)
    assert copied_rows(of("a", "b"), PAIRS.columns, names=True).split("\n")[0] == "Name\tPaid"
    assert copied_rows(of("a"), PAIRS.columns, hidden=frozenset({2})) == "a"


def test_what_was_typed_is_copied_as_typed() -> None:
    assert cell_texts(of(FAMILY)[0], PAIRS.columns)[0] == FAMILY
    assert copied_rows(of(FAMILY), PAIRS.columns).split("\t")[0] == FAMILY


def test_a_cell_that_a_spreadsheet_would_run_is_marked_as_in_csv() -> None:
    for name in ("=1+1", "+SUM(A1)", "-cmd", "@x"):
        assert copied_rows(of(name), PAIRS.columns).startswith(f"'{name}\t")
    assert copied_rows(of("-12.50"), PAIRS.columns).startswith("-12.50\t")


def test_tabs_line_ends_and_a_leading_quotation_mark_come_back_from_a_reader_of_tab_separated_text() -> None:
    typed = ["two\tcells", "two\nlines", '"said" so', 'plain 14"']
    text = copied_rows(of(*typed), PAIRS.columns)
    read = list(csv.reader(io.StringIO(text), delimiter="\t"))
    assert [row[0] for row in read] == typed


def test_rows_of_a_presenter_are_copied_by_what_they_say() -> None:
    made = Row("one", (cell("=x"), Bar(1, 2), cell("9.00")))
    assert copied_rows([heading("h", "Group"), made], PAIRS.columns) == "Group\n'=x\t9.00"
