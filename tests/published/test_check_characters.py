"""Check digits of tags against a reference library and printed examples.

Sources: python-stdnum, stdnum.iso7064.mod_11_10 (another implementation of the same standard);
"Berechnung der Prüfziffer", zahlungsverkehrsfragen.de, after DIN ISO 7064 MOD 11,10 (100845456115 -> 8);
kryptografie.de, "Steuer-Identifikationsnummer" (1234567899 -> 5);
ISO/IEC 7064:2003 clause 1.3, what such systems detect (read in the scope of CAN/CSA-ISO/IEC 7064-04).
Tolerance: none, these are digits.
"""

import random

import pytest
from stdnum.iso7064 import mod_11_10

from bench.domain.tags import check_digit, read_tag, tag_from_number
from bench.errors import BadInput


def test_every_four_digit_body_agrees_with_the_reference_library():
    bodies = [f"{number:04}" for number in range(10_000)]

    assert [check_digit(body) for body in bodies] == [mod_11_10.calc_check_digit(body) for body in bodies]


def test_bodies_of_other_lengths_agree_with_the_reference_library():
    dice = random.Random(7064)
    bodies = ["".join(dice.choices("0123456789", k=length)) for length in range(1, 13) for _ in range(500)]

    assert [check_digit(body) for body in bodies] == [mod_11_10.calc_check_digit(body) for body in bodies]


@pytest.mark.parametrize(("body", "printed"), [("100845456115", "8"), ("1234567899", "5")])
def test_printed_examples(body, printed):
    assert check_digit(body) == printed


def test_a_tag_is_valid_for_the_reference_library():
    assert all(mod_11_10.is_valid(tag_from_number(number)) for number in range(1, 10_000))


def test_all_single_substitutions_are_detected():
    # Clause 1.3 a: all. Every digit of every tenth tag is changed to each of the nine others.
    for number in range(1, 10_000, 10):
        tag = tag_from_number(number)
        for place, right in enumerate(tag):
            for wrong in set("0123456789") - {right}:
                with pytest.raises(BadInput):
                    read_tag(tag[:place] + wrong + tag[place + 1 :])


def test_nearly_all_adjacent_transpositions_are_detected():
    # Clause 1.3 b: "all or nearly all". Counted over every tag, and what passes the reference library passes.
    swapped = []
    for number in range(1, 10_000):
        tag = tag_from_number(number)
        for place in range(len(tag) - 1):
            if tag[place] != tag[place + 1]:
                swapped.append(tag[:place] + tag[place + 1] + tag[place] + tag[place + 2 :])
    missed = [tag for tag in swapped if tag[-1] == check_digit(tag[:-1])]

    assert missed == [tag for tag in swapped if mod_11_10.is_valid(tag)]
    # "Nearly all" has no number in the standard; 97 % is what this test takes it to mean.
    assert len(missed) / len(swapped) < 0.03
