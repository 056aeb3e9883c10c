"""Files that come into a watched folder: which are there to their end and not yet asked about."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

# What a phone or camera writes, kinds that are refused in a sentence too; one being received has another.
ENDINGS = frozenset((".jpg", ".jpeg", ".png", ".webp", ".heic", ".heif", ".tif", ".tiff", ".dng"))


class Stamp(NamedTuple):
    """By what a file is seen to grow: its size, and when it was last written, in nanoseconds."""

    size_bytes: int
    written_ns: int


Seen = Mapping[str, Stamp]


def is_picture(name: str) -> bool:
    """Whether a file's name is one of a finished picture; what begins with a point is being written."""
    stem, point, ending = name.rpartition(".")
    return bool(stem) and not name.startswith(".") and f"{point}{ending}".casefold() in ENDINGS


def come_to_rest(before: Seen, now: Seen, known: Seen) -> tuple[str, ...]:
    """The names of files that are as they were at the look before, not empty and not known as they are."""
    return tuple(
        sorted(
            name
            for name, stamp in now.items()
            if before.get(name) == stamp and stamp.size_bytes and known.get(name) != stamp
        )
    )
