"""Quantities read and shown, to the thousandth."""

from decimal import ROUND_HALF_UP, Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.domain.quantities import (
    MOST_UNITS,
    UNITS,
    check_unit,
    plain_number,
    read_quantity,
    rounded_quantity,
    short_quantity,
    show_quantity,
    unit_label,
)
from bench.errors import BadInput


@given(st.integers(min_value=1, max_value=MOST_UNITS * 1000), st.sampled_from(["ml", "g", "m"]))
def test_what_is_shown_can_be_read_again(thousandths, unit):
    assert read_quantity(show_quantity(thousandths, unit), unit) == thousandths
    assert read_quantity(plain_number(thousandths), unit) == thousandths


@given(st.integers(min_value=-MOST_UNITS * 1000, max_value=MOST_UNITS * 1000))
def test_on_the_screen_a_quantity_has_three_significant_places_at_most(thousandths: int) -> None:
    """Reference: Decimal.quantize at the third place that is not 0, halves away from 0; whole units stay."""
    exact = Decimal(thousandths) / 1000
    place = max(min(exact.adjusted() - 2, 0), -3) if exact else 0
    wanted = exact.quantize(Decimal(1).scaleb(place), ROUND_HALF_UP)
    assert Decimal(rounded_quantity(thousandths)) / 1000 == wanted
    number = short_quantity(thousandths, "ml").removesuffix(" ml")
    assert Decimal(number) == wanted
    assert len(number.lstrip("-").replace(".", "").lstrip("0")) <= max(3, len(str(abs(int(wanted)))))


@given(st.integers(min_value=1000, max_value=999_499))
def test_from_1_to_1000_it_is_as_the_format_g_has_it(thousandths: int) -> None:
    """Reference: the built-in format .3g, but where a half is met: that goes to even digits, ours away."""
    if thousandths % 10 != 5 and thousandths % 100 != 50 and thousandths % 1000 != 500:
        assert short_quantity(thousandths, "g") == f"{thousandths / 1000:.3g} g"


@given(st.integers(min_value=1, max_value=MOST_UNITS))
def test_pieces_are_shown_and_read_again(pieces):
    assert read_quantity(show_quantity(pieces * 1000, "piece"), "piece") == pieces * 1000


@pytest.mark.parametrize(
    ("typed", "unit", "thousandths"),
    [
        ("12.5", "ml", 12_500),
        ("12,5", "ml", 12_500),
        ("12.5 ml", "ml", 12_500),
        ("12.5ml", "ml", 12_500),
        (" 12 ", "g", 12_000),
        ("0.125", "g", 125),
        ("0,125", "g", 125),
        ("1.125", "g", 1_125),
        ("250 mm", "m", 250),
        ("25 cm", "m", 250),
        ("2.5 cm", "m", 25),
        ("1.5 m", "m", 1_500),
        ("1.5 l", "ml", 1_500_000),
        ("0.25 kg", "g", 250_000),
        ("3", "piece", 3_000),
        ("1 piece", "piece", 1_000),
        ("3.0 pieces", "piece", 3_000),
        ("1000000000", "ml", 10**12),
    ],
)
def test_quantities_are_read(typed, unit, thousandths):
    assert read_quantity(typed, unit) == thousandths


@pytest.mark.parametrize(
    ("typed", "unit", "why"),
    [
        ("", "ml", "is not an amount"),
        ("ml", "ml", "is not an amount"),
        ("NaN", "ml", "is not an amount"),
        ("inf", "ml", "is not an amount"),
        ("1e3", "ml", "is not an amount"),
        ("1 200", "ml", "is not an amount"),
        ("١٢", "ml", "is not an amount"),
        ("12.", "ml", "is not an amount"),
        ("9" * 5000, "ml", "is not an amount"),
        ("-5", "ml", "is negative"),
        ("−5", "ml", "is negative"),
        ("0", "ml", "is nothing"),
        ("0.000", "ml", "is nothing"),
        ("1.2345", "ml", "more than 3 decimals"),
        ("1." + "0" * 5000, "ml", "more than 3 decimals"),
        ("0.5 mm", "m", "finer than a thousandth of one m"),
        ("1000000000.001", "ml", "is more than 1000000000 ml"),
        ("2000000 l", "ml", "is more than 1000000000 ml"),
        ("5 g", "ml", "is in g, but this is kept in ml"),
        ("5 mm", "ml", "is in mm, but this is kept in ml"),
        ("5 ML", "ml", "is in ML, but this is kept in ml"),
        ("1,200", "ml", "may mean 1200 or 1.200"),
        ("1.5", "piece", "not a whole number of pieces"),
        ("5", "litre", "is not a base unit"),
    ],
)
def test_what_cannot_be_used_gets_a_sentence(typed, unit, why):
    with pytest.raises(BadInput, match=why) as refused:
        read_quantity(typed, unit)
    assert refused.value.remedy
    assert len(str(refused.value)) < 200


def test_nothing_can_be_asked_for():
    assert read_quantity("0", "ml", allow_zero=True) == 0


@pytest.mark.parametrize(
    ("thousandths", "unit", "shown"),
    [
        (12_500, "ml", "12.5 ml"),
        (12_000, "g", "12 g"),
        (100_000, "g", "100 g"),
        (1, "m", "0.001 m"),
        (0, "ml", "0 ml"),
        (-12_500, "ml", "-12.5 ml"),
        (-1, "ml", "-0.001 ml"),
        (1_000, "piece", "1 piece"),
        (-1_000, "piece", "-1 piece"),
        (0, "piece", "0 pieces"),
        (3_000, "piece", "3 pieces"),
    ],
)
def test_quantities_are_shown(thousandths, unit, shown):
    assert show_quantity(thousandths, unit) == shown


def test_units_keep_their_order_and_labels():
    assert tuple(UNITS) == ("ml", "g", "m", "piece")
    assert [unit_label(unit, 2_000) for unit in UNITS] == ["ml", "g", "m", "pieces"]
    assert [check_unit(unit) for unit in UNITS] == list(UNITS)
