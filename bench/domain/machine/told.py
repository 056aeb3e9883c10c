"""What tools say, as it may be kept: words that mean something, whole numbers that can be."""

from __future__ import annotations

import re
from collections.abc import Iterator

from bench.domain.text import clean_line
from bench.errors import BadInput

LONGEST = 120

# What firmware says where its maker filled nothing in: common practice, no source.
_PLACEHOLDERS = frozenset(
    (
        *(
            "",
            "none",
            "n/a",
            "na",
            "unknown",
            "not specified",
            "not available",
            "not applicable",
            "no enclosure",
        ),
        *("default string", "to be filled by o.e.m.", "to be filled by oem", "o.e.m.", "oem", "invalid"),
        *(
            "system manufacturer",
            "system product name",
            "system serial number",
            "system version",
            "undefined",
        ),
        *("0123456789", "123456789", "1234567890", "empty", "not provided", "bad index", "<bad index>"),
        *("chassis serial number", "base board serial number", "type1productconfigid", "(null)", "null"),
    )
)
_ALL_ALIKE = re.compile(r"([0xX.*\-])\1*")


def words(text: object) -> str:
    """The text where it says something that may be shown; else empty."""
    if not isinstance(text, str):
        return ""
    plain = " ".join(text.split())[:LONGEST]
    if plain.casefold() in _PLACEHOLDERS or _ALL_ALIKE.fullmatch(plain):
        return ""
    try:
        return clean_line(plain, "It", LONGEST, allow_empty=True) if "\ufffd" not in plain else ""
    except BadInput:
        return ""


def whole(text: object, least: int, most: int) -> int | None:
    """A whole number within the limits; None for anything else."""
    if isinstance(text, bool):
        return None
    if isinstance(text, int):
        number = text
    elif isinstance(text, str) and re.fullmatch(r"\s*[0-9]{1,20}\s*", text):
        number = int(text)
    else:
        return None
    return number if least <= number <= most else None


def pairs(text: str, between: str) -> Iterator[tuple[str, str]]:
    """The lines that have a name and a value, both stripped."""
    for line in text.split("\n"):
        name, found, value = line.partition(between)
        if found and name.strip():
            yield name.strip(), value.strip()
