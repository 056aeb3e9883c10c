"""Every text of the program fills its record; values become what their fields say."""

from __future__ import annotations

import pkgutil
import re
import sqlite3
from collections.abc import Iterator
from dataclasses import FrozenInstanceError, dataclass
from datetime import date
from importlib import import_module

import pytest

import bench.views
from bench.desk import Desk
from bench.views import stands_on
from bench.views.binder import Groups, Query, by_column, misfits, pairs, shared, value
from bench.views.invariants import pointing_at_removed
from bench.views.undo import Later


@dataclass(frozen=True, slots=True)
class Told:
    """A record with a field of each kind."""

    number: int
    flag: bool
    day: date | None
    names: tuple[str, ...]
    note: str = ""


@dataclass(frozen=True, slots=True)
class LaterAgain(Later):
    """A record whose fields are not all its own."""

    again: bool


@dataclass(frozen=True)
class WithoutSlots(Later):
    """A record whose own fields have no slots."""

    again: bool


def in_memory() -> sqlite3.Connection:
    return sqlite3.connect(":memory:")


def queries() -> Iterator[tuple[str, Query[object]]]:
    for module in pkgutil.iter_modules(bench.views.__path__):
        for name, found in vars(import_module(f"bench.views.{module.name}")).items():
            for at, one in enumerate(found if isinstance(found, tuple) else [found]):
                query = one.later if isinstance(one, stands_on.Rule) else one
                if isinstance(query, Query):
                    yield f"{module.name}.{name}" + (f"[{at}]" if at else ""), query
    for child, key in (("task", "unit_id"), ("sale", "party_id")):
        for query in pointing_at_removed(child, key, key.removesuffix("_id"), removable=True):
            yield f"invariants.{child}", query


def test_a_row_fills_its_record_by_the_names_of_its_columns() -> None:
    text = "SELECT '2026-02-28' AS day, :number AS number, 1 AS flag, '[\"a\", \"b\"]' AS names"
    told = Query(Told, text)
    assert told.the(in_memory(), number=7) == Told(7, True, date(2026, 2, 28), ("a", "b"))
    assert told.all(in_memory(), number=8) == (Told(8, True, date(2026, 2, 28), ("a", "b")),)


def test_what_is_filled_is_the_record_itself() -> None:
    """It is made another way, and must not be told from one made by its class."""
    filled = Query(Later, "SELECT 2 AS row_id, 'sale' AS table_name").the(in_memory())
    assert type(filled) is Later
    assert filled == Later("sale", 2)
    assert hash(filled) == hash(Later("sale", 2))
    assert repr(filled) == repr(Later("sale", 2))
    with pytest.raises(FrozenInstanceError):
        setattr(filled, "row_id", 3)  # noqa: B010 - what no type checker lets pass


def test_a_record_made_of_another_is_filled_whole() -> None:
    text = "SELECT 'sale' AS table_name, 2 AS row_id, 1 AS again"
    assert Query(LaterAgain, text).the(in_memory()) == LaterAgain("sale", 2, again=True)
    with pytest.raises(TypeError, match="without slots"):
        Query(WithoutSlots, text).the(in_memory())


def test_a_record_takes_from_another_what_has_the_same_name() -> None:
    told = Told(7, True, None, ("a",), "kept")
    assert shared(Told, told) == {"number": 7, "flag": True, "day": None, "names": ("a",), "note": "kept"}
    assert shared(LaterAgain, Later("sale", 2)) == {"table_name": "sale", "row_id": 2}


def test_nothing_stays_nothing() -> None:
    text = "SELECT 1 AS number, 0 AS flag, NULL AS day, '[]' AS names, 'x' AS note"
    assert Query(Told, text).the(in_memory()) == Told(1, False, None, (), "x")


def test_no_row_is_no_record() -> None:
    text = "SELECT 1 AS number, 0 AS flag, NULL AS day, '[]' AS names WHERE FALSE"
    assert Query(Told, text).first(in_memory()) is None
    assert Query(Told, text).all(in_memory()) == ()
    assert value(in_memory(), "SELECT 1 WHERE FALSE") is None


def test_single_values_and_pairs() -> None:
    assert value(in_memory(), "SELECT :a + 1", a=2) == 3
    assert pairs(in_memory(), "SELECT 1, 'a' UNION SELECT 2, 'b'") == {1: "a", 2: "b"}


def test_the_first_column_says_to_what_a_record_belongs() -> None:
    flags = "(SELECT 0 AS flag UNION SELECT 1)"
    text = f"SELECT 'k' || flag AS key, 1 AS number, flag, NULL AS day, '[]' AS names FROM {flags}"
    groups = Groups(Told, text).by_key(in_memory())
    assert groups["k0"] == (Told(1, False, None, ()),)
    assert groups["k1"] == (Told(1, True, None, ()),)
    assert groups["k2"] == ()


def test_rows_of_any_shape_are_told_by_their_columns() -> None:
    assert list(by_column(in_memory(), "SELECT :a AS a, 'x' AS b", a=2)) == [{"a": 2, "b": "x"}]


def test_a_text_may_convert_a_field_its_own_way() -> None:
    text = "SELECT 1 AS number, 0 AS flag, NULL AS day, 'a b' AS names"
    told = Query(Told, text, names=lambda words: tuple(words.split()))
    assert told.the(in_memory()).names == ("a", "b")


@pytest.mark.parametrize(
    ("columns", "fault"),
    [
        (["number", "flag", "day", "names", "colour"], "colour is no field of Told"),
        (["number", "flag", "names"], "no column fills day of Told"),
        (["number", "number", "flag", "day", "names"], "number stands twice"),
    ],
)
def test_columns_that_do_not_fit_are_named(columns: list[str], fault: str) -> None:
    assert misfits(Told, columns) == [fault]
    text = "SELECT " + ", ".join(f"1 AS {name}" for name in columns)
    with pytest.raises(TypeError, match=fault):
        Query(Told, text).all(in_memory())


@pytest.mark.parametrize("query", [pytest.param(query, id=name) for name, query in queries()])
def test_every_text_fills_its_record(query: Query[object], desk: Desk) -> None:
    asked = dict.fromkeys(re.findall(r":(\w+)", query.text), 0)
    with desk.store.read() as connection:
        cursor = connection.execute(query.text, asked)
        assert misfits(query.record, query.columns(cursor)) == []
