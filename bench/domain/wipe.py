"""Wiping drives in the words of NIST SP 800-88: methods, records, the certificate's fields in order.

Clear, purge and destroy are the methods of both Rev. 1 and Rev. 2 (2025-09-26), which replaces it and leaves
techniques to IEEE 2883. The certificate follows Rev. 1, section 4.8 and its sample certificate: the labels
were read there; the text of Rev. 2 was not at hand to compare.
"""

from __future__ import annotations

import re
from datetime import date

from bench.domain.weeks import day_bounds_us, local_day
from bench.errors import BadInput

CLEAR, PURGE, DESTROY = "clear", "purge", "destroy"
METHODS: dict[str, str] = {
    CLEAR: "Logical techniques over the drive's ordinary interface, on all storage a user can address; "
    "protects against simple recovery without opening the drive.",
    PURGE: "Physical or logical techniques that make recovery infeasible even with laboratory means; "
    "the drive may stay usable.",
    DESTROY: "Recovery is infeasible even with laboratory means, and the drive can no longer store data.",
}
METHODS_SOURCE = "after NIST SP 800-88, definitions of clear, purge and destroy"

PASSED, FAILED, NOT_VERIFIED = "passed", "failed", "not verified"

STANDARD = (
    "Fields after NIST SP 800-88 Rev. 1, section 4.8 and sample certificate; "
    "Rev. 2 of 2025-09-26 replaces Rev. 1."
)
STATEMENT = (
    "This records what was done and what the verification found. It is no statement of conformity with any "
    "standard."
)
ENDED = "wiped before its last owner had it"


def counts(result: str, wiped_us: int, outside_until_us: int) -> bool:
    """Whether a wipe counts: its verification passed, and nobody outside the shop had the drive since."""
    return result == PASSED and wiped_us >= outside_until_us


def check_method(method: str) -> str:
    """The same method, if it is one of the standard's; BadInput otherwise."""
    if method not in METHODS:
        raise BadInput(f"{method or 'Nothing'} is not a method.", f"Choose one of: {', '.join(METHODS)}.")
    return method


def check_result(result: str) -> str:
    """The same result, if a verification can have it; BadInput otherwise."""
    if result not in (PASSED, FAILED):
        raise BadInput(
            f"{result or 'Nothing'} is not the result of a verification.", "Choose passed or failed."
        )
    return result


def outside_until_us(outside_us: int | None, came_us: int | None, bought_on: date | None, zone: str) -> int:
    """The instant, in microseconds UTC; 0 where nobody outside is known to have had it.

    `outside_us`: when it last came back from a buyer. `came_us` and `bought_on`: when the unit in which it
    came was recorded and bought. Of these a day is known at best: a wipe of the same day is later.
    """
    last_us = outside_us or 0
    if bought_on is not None:
        return max(last_us, day_bounds_us(bought_on, zone)[0])
    if came_us is not None:
        return max(last_us, day_bounds_us(local_day(came_us, zone), zone)[0])
    return last_us


WORDS = frozenset(
    ("drive", "drives", "disk", "disks", "harddisk", "hdd", "ssd", "sshd", "nvme", "m.2", "msata", "emmc")
)
_BETWEEN = re.compile(r"[^\w.]+")


def may_be_drive(name: str) -> bool:
    """Whether one of the words of a part's name is one for a drive."""
    return any(word.strip(".") in WORDS for word in _BETWEEN.split(name.casefold()))


def serial_key(serial: str) -> str:
    """A serial number as it is compared: without spaces, in one case."""
    return "".join(serial.split()).casefold()
