"""Shares as a person types them, kept as whole parts per 10,000."""

import re

from bench.domain.text import quoted
from bench.errors import BadInput

PER = 10_000

_PERCENT = re.compile(r"([0-9]{1,3})(?:[.,]([0-9]{1,2}))?\s*%?")


def read_percent(text: str, what: str) -> int:
    """Parts per 10,000 from 20, 12.5, 12,5 or 12.5 %; BadInput, naming `what`, outside 0 to 100 %."""
    found = _PERCENT.fullmatch(text.strip())
    if found is None:
        raise BadInput(f"{what} {quoted(text)} is not a share.", "Type a percentage, such as 20 or 12.5.")
    share = int(found[1]) * 100 + int((found[2] or "").ljust(2, "0"))
    if share > PER:
        raise BadInput(f"{what} {quoted(text)} is more than the whole.", "Give a percentage from 0 to 100.")
    return share


def percent_or(per_10000: int | None, otherwise: str = "") -> str:
    """The share, or `otherwise` where there is none."""
    return otherwise if per_10000 is None else show_percent(per_10000)


def show_percent(per_10000: int) -> str:
    """The share with no needless zeros, such as 12.5 %."""
    whole, hundredths = divmod(per_10000, 100)
    return f"{whole}.{hundredths:02}".rstrip("0").rstrip(".") + " %"
