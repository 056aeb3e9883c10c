"""Stock layers: what is drawn is what is there, in quantity and in cost."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.domain.layers import Draw, Layer, draw_oldest, expired, left_after, value_minor
from bench.errors import BadInput, OutOfStock

LAYERS = st.lists(
    st.builds(
        Layer,
        receipt_id=st.integers(1, 10**6),
        quantity=st.integers(1, 10**9),
        cost_minor=st.integers(0, 10**9),
        received_us=st.integers(0, 50),
    ),
    min_size=1,
    max_size=8,
    unique_by=lambda layer: layer.receipt_id,
)


@given(LAYERS, st.data())
def test_draws_and_what_is_left_make_up_what_was_there(layers, data):
    on_hand = sum(layer.quantity for layer in layers)
    quantity = data.draw(st.integers(1, on_hand))
    draws = draw_oldest(layers, quantity)
    left = left_after(layers, draws)

    assert sum(draw.quantity for draw in draws) == quantity
    assert sum(layer.quantity for layer in left) == on_hand - quantity
    assert value_minor(left) + sum(draw.cost_minor for draw in draws) == value_minor(layers)
    assert all(layer.quantity > 0 and layer.cost_minor >= 0 for layer in left)


@given(LAYERS, st.data())
def test_drawn_bit_by_bit_a_receipt_gives_exactly_what_was_paid(layers, data):
    paid = {layer.receipt_id: layer.cost_minor for layer in layers}
    given_back = dict.fromkeys(paid, 0)
    left = tuple(layers)
    while left:
        on_hand = sum(layer.quantity for layer in left)
        step = data.draw(st.integers(max(1, on_hand // 3), on_hand))
        draws = draw_oldest(left, step)
        for draw in draws:
            given_back[draw.receipt_id] += draw.cost_minor
        left = left_after(left, draws)

    assert given_back == paid


@given(LAYERS, st.data())
def test_nothing_newer_goes_while_something_older_is_left(layers, data):
    quantity = data.draw(st.integers(1, sum(layer.quantity for layer in layers)))
    draws = draw_oldest(layers, quantity)
    order = [
        layer.receipt_id for layer in sorted(layers, key=lambda layer: (layer.received_us, layer.receipt_id))
    ]
    left = {layer.receipt_id for layer in left_after(layers, draws)}

    assert [draw.receipt_id for draw in draws] == order[: len(draws)]
    assert not left & {draw.receipt_id for draw in draws[:-1]}


def test_half_a_minor_unit_goes_up_and_the_rest_stays():
    layer = Layer(receipt_id=1, quantity=2_000, cost_minor=5, received_us=0)
    first = draw_oldest([layer], 1_000)
    rest = left_after([layer], first)

    assert first == (Draw(1, 1_000, 3),)
    assert draw_oldest(rest, 1_000) == (Draw(1, 1_000, 2),)


def test_of_two_received_together_the_lower_number_goes_first_and_empty_ones_never():
    layers = [Layer(3, 10, 1, 5), Layer(2, 10, 1, 5), Layer(1, 0, 0, 5)]

    assert [draw.receipt_id for draw in draw_oldest(layers, 15)] == [2, 3]


def test_more_than_there_is_says_how_much_there_is():
    with pytest.raises(OutOfStock, match=r"12\.5 asked for, 10 on hand\. Count"):
        draw_oldest([Layer(1, 10_000, 100, 0)], 12_500)
    with pytest.raises(OutOfStock, match="1 asked for, 0 on hand"):
        draw_oldest([], 1_000)


@pytest.mark.parametrize("quantity", [0, -1_000])
def test_nothing_and_less_cannot_be_drawn(quantity):
    with pytest.raises(BadInput, match="cannot be taken out of stock"):
        draw_oldest([Layer(1, 10_000, 100, 0)], quantity)


def test_a_layer_is_good_until_the_end_of_its_date():
    today = date(2026, 11, 25)
    past = Layer(1, 10, 1, 0, date(2026, 11, 24))
    layers = [past, Layer(2, 10, 1, 0, today), Layer(3, 10, 1, 0, None), Layer(4, 0, 0, 0, date(2020, 1, 1))]

    assert expired(layers, today) == (past,)


def test_the_value_is_what_was_paid_for_what_is_left():
    assert value_minor([Layer(1, 10, 250, 0), Layer(2, 10, 4, 0)]) == 254
    assert value_minor([]) == 0
