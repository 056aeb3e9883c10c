"""Codes on packs: a wrong EAN-13 is refused, a word of the shop's own is kept."""

from __future__ import annotations

import pytest

from bench.domain.tags import is_ean, read_code
from bench.errors import BadInput


def test_an_ean_13_needs_its_check_digit() -> None:
    assert read_code(" 4006381333931 ") == "4006381333931"
    with pytest.raises(BadInput, match="does not fit"):
        read_code("4006381333932")


def test_other_codes_are_kept_as_they_are() -> None:
    assert read_code("IPA-500") == "IPA-500"
    assert read_code("") == ""
    assert not is_ean("400638133393x")
