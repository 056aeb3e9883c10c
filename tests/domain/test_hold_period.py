"""The waiting period and the tax that is calculated."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from bench.domain.selling import hold_ends
from bench.views.trade import TradeSettings

SETTINGS = TradeSettings(True, 2000, 14, 6, 1000, 0, 365, "EUR")


@pytest.mark.parametrize(
    ("bought_on", "days", "free_from"),
    [
        (date(2026, 11, 1), 14, date(2026, 11, 15)),
        (date(2026, 12, 31), 1, date(2027, 1, 1)),
        (date(2026, 11, 1), 0, None),
        (None, 14, None),
    ],
)
def test_when_a_unit_is_free(bought_on: date | None, days: int, free_from: date | None) -> None:
    assert hold_ends(bought_on, days) == free_from


def test_no_tax_while_the_scheme_is_off() -> None:
    assert SETTINGS.tax_per_10000 == 2000
    assert replace(SETTINGS, margin_scheme=False).tax_per_10000 == 0
