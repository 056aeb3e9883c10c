"""Described tables: values told in one form, sorted, filtered; every getter is one of its record."""

from __future__ import annotations

import ast
import importlib
import pkgutil
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any, get_type_hints

import pytest

from bench.domain.quantities import rounded_quantity
from bench.views import tables
from bench.views.columns import Column, Scaled, Table, all_words, longest, places_by, scaled
from bench.views.kinds import (
    BAR,
    DAY,
    HOURS,
    INSTANT,
    LENGTH,
    LOCAL_DAY,
    MONEY,
    QUANTITY,
    SHARE,
    UNKNOWN,
    Amount,
    Context,
    Filled,
    Kind,
    at_least,
    at_most,
)

CONTEXT = Context("EUR", "Europe/Berlin")
HOUR_US = 3_600_000_000
AT_US = 1_795_597_200_000_000  # Wednesday 2026-11-25, 10:00 in Berlin


@pytest.mark.parametrize(
    ("kind", "value", "words"),
    [
        (MONEY, 1250, "12.50 EUR"),
        (MONEY, at_least(1250, known=False), "≥ 12.50 EUR"),
        (MONEY, at_most(1250, known=False), "≤ 12.50 EUR"),
        (MONEY, at_most(1250, known=True), "12.50 EUR"),
        (HOURS, 7 * HOUR_US + HOUR_US * 2 // 5, "7.4 h"),
        (LENGTH, 7 * HOUR_US + HOUR_US * 2 // 5, "7 h 24"),
        (QUANTITY, Amount(21_389, "ml"), "21.4 ml"),
        (QUANTITY, Amount(1_000, "piece", signed=True), "+1 piece"),
        (QUANTITY, Amount(-5_000, "ml", signed=True), "-5 ml"),
        (SHARE, 1250, "12.5 %"),
        (DAY, date(2026, 11, 5), "2026-11-05"),
        (INSTANT, AT_US, "Wed 25 Nov 10:00"),
        (LOCAL_DAY, AT_US, "2026-11-25"),
    ],
)
def test_a_value_is_told_in_one_form(kind: Kind, value: object, words: str) -> None:
    assert kind.told(value, CONTEXT) == words
    assert kind.told(None, CONTEXT) == UNKNOWN


@pytest.mark.parametrize(
    ("thousandths", "rounded"),
    [
        (999, 999),
        (1_696, 1_700),
        (12_345, 12_300),
        (121_409, 121_000),
        (1_205_400, 1_205_000),
        (-1_696, -1_700),
    ],
)
def test_a_quantity_has_three_places_but_whole_units(thousandths: int, rounded: int) -> None:
    assert rounded_quantity(thousandths) == rounded


@dataclass(frozen=True)
class One:
    name: str
    paid_minor: int | None


THINGS = Table[One](
    "things", "Things", (Column("Name", "name"), Column("Paid", "paid_minor", MONEY)), key="name"
)
ONES = (One("Birch", 900), One("acorn", None), One("Cedar", 10_000), One("Ash", 900))


def names_by(place: int, *, falling: bool = False) -> list[str]:
    return [ONES[at].name for at in places_by(THINGS.columns[place], ONES, falling=falling)]


def test_sorting_puts_the_unknown_last_either_way_and_keeps_equals_in_order() -> None:
    assert names_by(1) == ["Birch", "Ash", "Cedar", "acorn"]
    assert names_by(1, falling=True) == ["Cedar", "Birch", "Ash", "acorn"]
    assert names_by(0) == ["acorn", "Ash", "Birch", "Cedar"]


def test_what_a_record_says_is_a_line_a_column() -> None:
    assert all_words(THINGS, ONES[0], CONTEXT) == "Birch\n9.00 EUR"
    assert all_words(THINGS, ONES[1], CONTEXT) == "acorn\n–"


def test_bars_are_scaled_by_the_longest_or_by_a_whole_of_their_own() -> None:
    column: Column[Any] = Column("", lambda value: value, BAR)
    values = [3, None, -6]
    assert longest(column, values) == 6
    assert [scaled(column, value, 6) for value in values] == [Scaled(3, 6), Scaled(0, 6), Scaled(-6, 6)]
    assert scaled(column, Filled(1, 4), 6) == Scaled(1, 4, shaded=True)


def described() -> Iterator[tuple[str, type, list[str]]]:
    """Every table under bench/views/tables: where it stands, its record, and the attributes it names."""
    for found in pkgutil.iter_modules(tables.__path__):
        module = importlib.import_module(f"{tables.__name__}.{found.name}")
        for node in ast.walk(ast.parse(Path(str(module.__file__)).read_text())):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Subscript):
                assert isinstance(node.func.slice, ast.Name)
                record = getattr(module, node.func.slice.id)
                named = [word.value for word in node.keywords if word.arg == "key"]
                for call in ast.walk(node):
                    if (
                        isinstance(call, ast.Call)
                        and isinstance(call.func, ast.Name)
                        and call.func.id == "Column"
                    ):
                        named.append(call.args[1])
                names = [str(one.value) for one in named if isinstance(one, ast.Constant)]
                yield f"{found.name}: {ast.unparse(node.args[0])}", record, names


def test_every_attribute_that_a_table_names_is_one_of_its_record() -> None:
    told = list(described())
    assert len(told) >= 28
    for where, record, names in told:
        assert names, where
        for name in names:
            assert _hint(record, name.split(".")) is not None, (where, name)


def every_table() -> Iterator[Table[Any]]:
    for found in pkgutil.iter_modules(tables.__path__):
        module = importlib.import_module(f"{tables.__name__}.{found.name}")
        yield from (one for one in vars(module).values() if isinstance(one, Table))


def test_the_columns_that_a_width_shows_find_room_in_it() -> None:
    """67 cells are what a wide panel has on a screen of 120 columns; there, no table is cut on its right."""
    for table in every_table():
        for width in {column.from_width for column in table.columns}:
            shown = [column for column in table.columns if column.from_width <= width]
            assert sum(column.least + 2 for column in shown) - 2 <= max(width, 67), (table.title, width)


def _hint(record: type, path: list[str]) -> Any:
    attribute = getattr(record, path[0], None)
    if isinstance(attribute, property):
        hint = get_type_hints(attribute.fget)["return"]
    else:
        hint = get_type_hints(record)[path[0]]
    return hint if len(path) == 1 else _hint(hint, path[1:])
