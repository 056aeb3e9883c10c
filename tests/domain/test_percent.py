"""Shares as typed and as shown."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.domain.percent import read_percent, show_percent
from bench.errors import BadInput


@pytest.mark.parametrize(
    ("text", "share"),
    [
        ("20", 2000),
        ("12.5", 1250),
        (" 12,5 % ", 1250),
        ("0", 0),
        ("100%", 10_000),
        ("0.05", 5),
        ("7.25%", 725),
    ],
)
def test_reading(text: str, share: int) -> None:
    assert read_percent(text, "The fee") == share


@pytest.mark.parametrize("text", ["", "-5", "20.125", "a", "100.01", "101", "1e2", "٢٠", "20 % of it"])
def test_what_is_no_share_is_named(text: str) -> None:
    with pytest.raises(BadInput, match=r"^The fee “"):
        read_percent(text, "The fee")


@pytest.mark.parametrize(("share", "text"), [(1250, "12.5 %"), (2000, "20 %"), (5, "0.05 %"), (0, "0 %")])
def test_showing(share: int, text: str) -> None:
    assert show_percent(share) == text


@given(st.integers(0, 10_000))
def test_what_is_shown_reads_back(share: int) -> None:
    assert read_percent(show_percent(share), "It") == share
