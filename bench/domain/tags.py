"""What a sticker says: a tag, its last digit a check digit by ISO/IEC 7064 MOD 11,10; a code."""

from __future__ import annotations

from bench.domain.text import clean_line, quoted
from bench.errors import BadInput

SHORTEST_BODY = 4
LONGEST_BODY = 12


def check_digit(body: str) -> str:
    """The check digit for a string of digits. Source: ISO/IEC 7064, hybrid system MOD 11,10."""
    if not _is_digits(body):
        raise BadInput(f"{quoted(body)} is not digits only.", "A tag is made of the digits 0 to 9.")
    product = 10
    for digit in body:
        total = (product + int(digit)) % 10 or 10
        product = total * 2 % 11
    return str((11 - product) % 10)


def tag_from_number(number: int) -> str:
    """The tag of the unit with this running number (1, 2, 3 ...): padded to four digits, check digit last."""
    if not 1 <= number < 10**LONGEST_BODY:
        raise BadInput(f"{number} is not a number for a tag.", "Units are numbered from 1.")
    body = str(number).zfill(SHORTEST_BODY)
    return body + check_digit(body)


def read_tag(text: str) -> str:
    """The tag that was typed or scanned, blanks removed; BadInput if it cannot be one of ours."""
    tag = "".join(text.split())
    if not _is_digits(tag):
        raise BadInput(
            f"{quoted(text)} is not a tag: a tag is digits only.", "Scan it again or look at the sticker."
        )
    if not SHORTEST_BODY < len(tag) <= LONGEST_BODY + 1:
        raise BadInput(
            f"{quoted(tag)} is not a tag: it has {len(tag)} digits, a tag {SHORTEST_BODY + 1} or a few more.",
            "Scan it again or look at the sticker.",
        )
    # The digit that would fit is not offered: it would only make some other unit's tag.
    if tag[-1] != check_digit(tag[:-1]):
        raise BadInput(
            f"{tag} is not a tag: its last digit {tag[-1]} does not fit the digits before it.",
            "Scan it again or look at the sticker.",
        )
    if tag[0] == "0" and len(tag) > SHORTEST_BODY + 1:
        raise BadInput(f"{tag} is not a tag: it has a zero too many in front.", "Look at the sticker.")
    return tag


def number_of(tag: str) -> int:
    """The running number inside a tag."""
    return int(read_tag(tag)[:-1])


def _is_digits(text: str) -> bool:
    return text.isascii() and text.isdigit()


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
