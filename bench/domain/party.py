"""Someone units are bought from or sold to, as typed."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class PartyTyped:
    """What was typed of a person or firm. `identity_seen`: which paper was looked at, where a code asks it.

    `private`: a private person, whose data are erased when the law's time is over.
    """

    name: str
    address: str = ""
    contact: str = ""
    identity_seen: str = ""
    private: bool = True
