"""The rules that JSON and CSV share: companions of times, names of quantities, cells of a spreadsheet."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import dataclass
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.domain.amounts import Instant, Length, Thousandths
from bench.domain.weeks import IsoWeek
from bench.reports import SHAPES
from bench.reports.plain_values import csv_cell, csv_text, facts_of, json_text, whole_minutes


@dataclass(frozen=True)
class Inner:
    quantity: Thousandths
    day: date | None


@dataclass(frozen=True)
class View:
    at_us: Instant
    stopped_us: Instant | None
    spent_us: Length
    hands_on_us: tuple[Length, ...]
    week: IsoWeek
    lines: tuple[Inner, ...]
    names: tuple[str, ...]
    low: bool
    days_of_cover: float | None


def test_a_view_becomes_plain_values_with_their_companions() -> None:
    view = View(
        at_us=1_795_597_200_000_001,
        stopped_us=None,
        spent_us=90_000_000,
        hands_on_us=(29_999_999, 30_000_000),
        week=IsoWeek(2026, 48),
        lines=(Inner(1500, date(2026, 11, 25)), Inner(-1, None)),
        names=("a", "b"),
        low=True,
        days_of_cover=1.5,
    )
    assert facts_of(view, "Europe/Berlin") == {
        "at_us": 1_795_597_200_000_001,
        "at_local": "2026-11-25T10:00:00+01:00",
        "stopped_us": None,
        "stopped_local": None,
        "spent_us": 90_000_000,
        "spent_minutes": 2,
        "hands_on_us": [29_999_999, 30_000_000],
        "hands_on_minutes": [0, 1],
        "week": "2026-W48",
        "lines": [
            {"quantity_thousandths": 1500, "day": "2026-11-25"},
            {"quantity_thousandths": -1, "day": None},
        ],
        "names": ["a", "b"],
        "low": True,
        "days_of_cover": 1.5,
    }


@pytest.mark.parametrize(
    ("us", "minutes"),
    [(0, 0), (29_999_999, 0), (30_000_000, 1), (-29_999_999, 0), (-30_000_000, -1), (3_600_000_000, 60)],
)
def test_a_half_minute_is_rounded_away_from_zero(us: int, minutes: int) -> None:
    assert whole_minutes(us) == minutes


def test_json_names_its_document_and_refuses_what_is_no_number() -> None:
    assert json.loads(json_text("queue", {"a": "Ü修"})) == {
        "document": "queue",
        "shape": SHAPES["queue"],
        "a": "Ü修",
    }
    assert "Ü修" in json_text("week", {"a": "Ü修"})
    with pytest.raises(ValueError, match="not JSON compliant"):
        json_text("week", {"a": float("nan")})


@pytest.mark.parametrize(
    ("value", "cell"),
    [(None, ""), (True, "true"), (False, "false"), (-5, "-5"), (1.5, "1.5"), ("-12.50", "-12.50"), ("", "")],
)
def test_cells(value: object, cell: str) -> None:
    assert csv_cell(value) == cell


@pytest.mark.parametrize("text", ["=1+1", "+x", "-x", "@x", " =1", "\t=1", "＝1"])
def test_a_formula_is_marked(text: str) -> None:
    assert csv_cell(text) == f"'{text}"


@given(st.lists(st.text(st.characters(exclude_categories=["Cs"]), max_size=30), min_size=1, max_size=5))
def test_csv_is_read_back_cell_by_cell(texts: list[str]) -> None:
    """Commas, quotes and line ends in a cell survive (RFC 4180); a marked cell keeps its text behind '."""
    columns = [f"c{number}" for number in range(len(texts))]
    text = csv_text(columns, [dict(zip(columns, texts, strict=True)), {}])
    heading, row, empty = csv.reader(io.StringIO(text, newline=""), strict=True)
    assert heading == columns
    assert [cell in (told, f"'{told}") for cell, told in zip(row, texts, strict=True)] == [True] * len(texts)
    assert empty == [""] * len(texts)
