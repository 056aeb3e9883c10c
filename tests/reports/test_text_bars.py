"""Bars: the largest is as wide as asked, the others in proportion, a loss is marked without colour."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from bench.reports.plain_tables import bar

EIGHTHS = " ▏▎▍▌▋▊▉█"


def eighths(drawn: str) -> int:
    return sum(EIGHTHS.index(character) for character in drawn)


def test_by_hand() -> None:
    assert [bar(part, 8, 4) for part in (8, 4, 1, 0)] == ["████", "██", "▌", ""]
    assert [bar(part, 8, 4) for part in (-4, 8)] == ["-▒", "████"]
    assert (bar(9, 8, 4), bar(1, 0, 4)) == ("████", "")


@given(st.lists(st.integers(0, 10**12), min_size=1, max_size=20), st.integers(4, 30))
def test_lengths_are_in_proportion_to_an_eighth(figures: list[int], width: int) -> None:
    longest = max(figures)
    for figure in figures:
        drawn = bar(figure, longest, width)
        assert cell_len(drawn) <= width
        assert bool(drawn) == bool(figure)
        if figure:
            assert abs(eighths(drawn) - max(1, figure * width * 8 / longest)) < 1


@given(st.lists(st.integers(-(10**9), -1), min_size=1, max_size=9), st.integers(4, 30))
def test_what_is_below_nothing_begins_with_a_minus(figures: list[int], width: int) -> None:
    longest = max(map(abs, figures))
    for figure in figures:
        drawn = bar(figure, longest, width)
        assert drawn.startswith("-▒")
        assert cell_len(drawn) <= width
