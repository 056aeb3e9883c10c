"""Tags: made from numbers, read from a scanner or a hand, wrong digits refused."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.domain.tags import LONGEST_BODY, check_digit, number_of, read_tag, tag_from_number
from bench.errors import BadInput

NUMBERS = st.integers(min_value=1, max_value=10**LONGEST_BODY - 1)


@given(NUMBERS)
def test_a_tag_gives_its_number_back(number):
    tag = tag_from_number(number)

    assert read_tag(tag) == tag
    assert number_of(tag) == number


@given(NUMBERS, st.data())
def test_any_single_wrong_digit_is_noticed(number, data):
    tag = tag_from_number(number)
    place = data.draw(st.integers(0, len(tag) - 1))
    wrong = data.draw(st.sampled_from([digit for digit in "0123456789" if digit != tag[place]]))

    with pytest.raises(BadInput):
        read_tag(tag[:place] + wrong + tag[place + 1 :])


@pytest.mark.parametrize("typed", [" {} ", "\t{}\n", "{0[0]} {0[1]}{0[2]} {0[3]}{0[4]}"])
def test_blanks_do_not_matter(typed):
    tag = tag_from_number(1)

    assert read_tag(typed.format(tag)) == tag
    assert len(tag) == 5


def test_a_wrong_check_digit_is_named_and_the_right_one_is_not_offered():
    tag = tag_from_number(42)
    wrong = str((int(tag[-1]) + 1) % 10)

    with pytest.raises(
        BadInput, match=f"{tag[:-1]}{wrong} .* last digit {wrong} .* Scan it again"
    ) as refused:
        read_tag(tag[:-1] + wrong)
    assert tag not in str(refused.value)


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ("", "digits only"),
        ("   ", "digits only"),
        ("12a45", "digits only"),
        ("-1234", "digits only"),
        ("١٢٣٤٥", "digits only"),
        ("²²²²²", "digits only"),
        ("1234", "4 digits"),
        ("1" * 14, "14 digits"),
        ("9" * 5000, "5000 digits"),
    ],
)
def test_what_cannot_be_a_tag_is_refused_in_one_short_sentence(typed, why):
    with pytest.raises(BadInput, match=why) as refused:
        read_tag(typed)
    assert len(str(refused.value)) < 200


def test_a_zero_too_many_in_front_would_be_a_second_tag_for_one_unit():
    body = "0" + "1234"

    with pytest.raises(BadInput, match="a zero too many"):
        read_tag(body + check_digit(body))


@pytest.mark.parametrize("number", [0, -1, 10**LONGEST_BODY])
def test_numbers_without_a_tag(number):
    with pytest.raises(BadInput, match="numbered from 1"):
        tag_from_number(number)


def test_only_digits_have_a_check_digit():
    with pytest.raises(BadInput, match="digits 0 to 9"):
        check_digit("12x")
