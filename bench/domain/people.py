"""The people of the shop as they are shown."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class PersonLine:
    """Someone who works at the bench."""

    person_id: int
    name: str
