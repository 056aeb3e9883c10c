"""A finding before its definition is put beside it, and the four ways in which one can stand."""

from __future__ import annotations

from typing import NamedTuple

FINE = "OK"
STATE = "state it"
ACT = "act on it"
OPEN = "not enough to say"


class Finding(NamedTuple):
    """What was found, under the name of the definition it goes by."""

    name: str
    standing: str
    words: str
