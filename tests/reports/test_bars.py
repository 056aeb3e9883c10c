"""Bars: the largest is as wide as asked, the others in proportion, a loss is marked without colour."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from bench.reports.bars import bars

EIGHTHS = " ▏▎▍▌▋▊▉█"


def eighths(bar: str) -> int:
    return sum(EIGHTHS.index(character) for character in bar)


def test_by_hand() -> None:
    assert bars([8, 4, 1, 0, None], 4) == ("████", "██", "▌", "", "")
    assert bars([-4, 8], 4) == ("-▒", "████")
    assert bars([], 4) == bars([None, 0], 4)[:0] == ()
    assert bars([None, 0], 4) == ("", "")


@given(st.lists(st.integers(0, 10**12), min_size=1, max_size=20), st.integers(4, 30))
def test_lengths_are_in_proportion_to_an_eighth(figures: list[int], width: int) -> None:
    drawn = bars(figures, width)
    longest = max(figures)
    for figure, bar in zip(figures, drawn, strict=True):
        assert cell_len(bar) <= width
        assert bool(bar) == bool(figure)
        if figure:
            assert abs(eighths(bar) - max(1, figure * width * 8 / longest)) < 1


@given(st.lists(st.integers(-(10**9), -1), min_size=1, max_size=9), st.integers(4, 30))
def test_what_is_below_nothing_begins_with_a_minus(figures: list[int], width: int) -> None:
    for bar in bars(figures, width):
        assert bar.startswith("-▒")
        assert cell_len(bar) <= width
