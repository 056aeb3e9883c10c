"""What a model fetched: sales that stand, refunds taken off; nothing suggested from too few."""

from __future__ import annotations

import pytest

from bench.desk import Desk
from bench.errors import BadInput, NotFound
from bench.reports.three_ways import own_prices_text
from bench.views.own_prices import read_model_prices, read_own_prices
from bench.work.comebacks import take_return
from bench.work.purchases import edit_purchase
from bench.work.units import add_unit
from tests.work.sale_steps import sell, stage, stocked, trading


@pytest.fixture
def sold(desk: Desk) -> list[int]:
    """Three of one model, sold for 300, 400 and 500."""
    trading(desk, margin_scheme=False)
    units = [stocked(desk) for _ in range(3)]
    for unit_id, price in zip(units, ("300", "400", "500"), strict=True):
        sell(desk, unit_id, price)
    return units


def test_the_middle_of_what_they_fetched_is_suggested(desk: Desk, sold: list[int]) -> None:
    unit_id = add_unit(desk, maker="maker", model="MODEL").unit_id  # as another hand typed it
    prices = read_own_prices(desk, unit_id)
    assert [one.unit_id for one in prices.sales] == sold[::-1]
    assert prices.suggested_minor == prices.price_minor == 40_000
    # by hand, type 7 of Hyndman and Fan: 300 + 0.2 * 100 and 400 + 0.8 * 100
    assert prices.range_minor == (32_000, 48_000)
    assert "3 sold, today" in prices.words
    assert "cannot be told: 3 of 8" in prices.fall_words
    edit_purchase(desk, unit_id, expected_text="450", bought_on_text="", invoice="")
    assert read_own_prices(desk, unit_id).price_minor == 45_000


def test_what_was_given_back_is_taken_off_and_an_undone_sale_is_none(desk: Desk, sold: list[int]) -> None:
    take_return(
        desk, sold[0], reason="scratched", refund_text="50", stage_id=stage(desk, "inspected"), ours=False
    )
    fetched = {one.unit_id: one.net_minor for one in read_own_prices(desk, sold[1]).sales}
    assert fetched[sold[0]] == 25_000
    take_return(
        desk, sold[2], reason="another one", refund_text="500", stage_id=stage(desk, "inspected"), ours=True
    )
    prices = read_own_prices(desk, sold[1])
    assert sold[2] not in {one.unit_id for one in prices.sales}
    assert prices.suggested_minor is None
    assert "too few to go by" in prices.words


def test_another_maker_is_another_model(desk: Desk, sold: list[int]) -> None:
    assert read_model_prices(desk, "Other", "Model").sales == ()
    assert len(read_model_prices(desk, "Maker", " model ").sales) == len(sold)
    assert "None of this model was sold yet." in own_prices_text(read_model_prices(desk, "Other", "Model"))


def test_an_unknown_unit_and_an_empty_model_are_refused(desk: Desk) -> None:
    with pytest.raises(NotFound):
        read_own_prices(desk, 999)
    with pytest.raises(BadInput):
        read_model_prices(desk, "Maker", " ")
