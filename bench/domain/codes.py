"""The code on a consumable's pack: an EAN-13 with its check digit, or a word of the shop's own."""

from __future__ import annotations

from bench.domain.text import clean_line
from bench.errors import BadInput

EAN_LENGTH = 13
LONGEST = 60


def ean_check_digit(body: str) -> str:
    """The check digit of a GTIN's digits without it, such as the first 12 of an EAN-13.

    Source: GS1 General Specifications, section 7.9 (weights 3 and 1 in turn from the right, modulo 10).
    """
    total = sum(int(digit) * (1 if place % 2 else 3) for place, digit in enumerate(reversed(body)))
    return str(-total % 10)


def is_ean(text: str) -> bool:
    """Whether this is an EAN-13 whose check digit fits."""
    digits = len(text) == EAN_LENGTH and text.isascii() and text.isdigit()
    return digits and text[-1] == ean_check_digit(text[:-1])


def read_code(text: str) -> str:
    """The code typed or scanned, empty for none; BadInput for thirteen digits that are no EAN-13."""
    code = clean_line(text, "The code", longest=LONGEST, allow_empty=True)
    if len(code) == EAN_LENGTH and code.isascii() and code.isdigit() and not is_ean(code):
        raise BadInput(
            f"{code} is not an EAN-13: its last digit {code[-1]} does not fit the digits before it.",
            "Scan it again or look at the pack.",
        )
    return code
