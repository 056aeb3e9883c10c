"""Whether a part so named may be a drive: common practice, no source. It only decides what is asked."""

from __future__ import annotations

import re

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
