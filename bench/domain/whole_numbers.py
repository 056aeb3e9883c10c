"""Whole numbers as a person types them: packs, days, how many times."""

import re

from bench.domain.text import quoted
from bench.errors import BadInput

_DIGITS = re.compile(r"[0-9]{1,12}")


def read_whole(text: str, what: str, least: int, most: int) -> int:
    """The whole number typed; BadInput, naming `what`, for anything else and outside least to most."""
    typed = text.strip()
    if not _DIGITS.fullmatch(typed):
        raise BadInput(
            f"{what} {quoted(text)} is not a whole number.", f"Type digits only, from {least} to {most}."
        )
    number = int(typed)
    if not least <= number <= most:
        raise BadInput(f"{what} {number} cannot be.", f"Give a number from {least} to {most}.")
    return number
