"""Months and years: their days, their edges in a zone, and what follows them."""

from __future__ import annotations

from calendar import monthrange
from datetime import date, datetime
from zoneinfo import ZoneInfo

import pytest

from bench.domain.localtime import LAST_YEAR
from bench.domain.spans import Span
from bench.errors import BadInput

HOUR_US = 3_600_000_000


@pytest.mark.parametrize(
    ("text", "span"),
    [("2026-11", Span(2026, 11)), (" 2026 ", Span(2026)), ("2024-2", Span(2024, 2))],
)
def test_what_is_written(text: str, span: Span) -> None:
    assert Span.parse(text) == span
    assert Span.parse(str(span)) == span


@pytest.mark.parametrize(
    "text", ["", "November", "2026-13", "2026-0", "26", "1899", "2026-11-25", "９９９９"]
)
def test_what_is_neither_month_nor_year(text: str) -> None:
    with pytest.raises(BadInput):
        Span.parse(text)


def test_days_by_the_calendar() -> None:
    """Against the standard library's calendar, over leap years by both rules (1900, 2000)."""
    for year in (1900, 1999, 2000, 2024, 2026, LAST_YEAR):
        months = Span(year).months()
        for month in months:
            assert month.last == date(year, month.month or 0, monthrange(year, month.month or 0)[1])
        assert (Span(year).first, Span(year).last) == (months[0].first, months[-1].last)
        assert (
            sum((month.last - month.first).days + 1 for month in months)
            == (date(year, 12, 31) - date(year, 1, 1)).days + 1
        )


def test_its_edges_are_midnights_in_the_zone_and_months_fill_the_year() -> None:
    """Berlin 2026: March is 743 h long, October 745 (clocks change on 29 March and 25 October, zoneinfo)."""
    zone = "Europe/Berlin"
    lengths = {}
    edge_us = Span(2026).bounds_us(zone)[0]
    for month in Span(2026).months():
        lo, hi = month.bounds_us(zone)
        assert lo == edge_us
        midnight = datetime(2026, month.month or 0, 1, tzinfo=ZoneInfo(zone))
        assert lo == round(midnight.timestamp()) * 1_000_000
        lengths[month.month] = (hi - lo) // HOUR_US
        edge_us = hi
    assert edge_us == Span(2026).bounds_us(zone)[1]
    assert (lengths[3], lengths[10], lengths[11]) == (743, 745, 720)


def test_what_comes_before_and_after() -> None:
    assert Span(2026, 12).next() == Span(2027, 1)
    assert Span(2026, 1).next(-1) == Span(2025, 12)
    assert Span(2026, 5).next(-17) == Span(2024, 12)
    assert Span(2026).next(-1) == Span(2025)
    assert Span.month_of(date(2026, 11, 25)) == Span(2026, 11)
    assert (Span(2026, 11).words, Span(2026).words) == ("November 2026", "2026")
    assert Span(2026, 11).months() == (Span(2026, 11),)
