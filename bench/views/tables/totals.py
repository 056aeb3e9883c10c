"""A sum: its lines in words, each with what it amounts to."""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass

from bench.views.kinds import SumAmount


@dataclass(frozen=True, slots=True)
class TotalLine:
    """A line of a sum. `key`: what it opens; `amount`: None, not known; `note`: what it rests on."""

    key: Hashable
    words: str
    amount: SumAmount | None
    look: str = ""
    note: str = ""


def words_look(line: TotalLine) -> str:
    """The words of a sum's result are as strong as its amount."""
    return "strong" if line.look == "strong" else ""


def gain_look(minor: int | None) -> str:
    """The look of what was gained: a loss is an alert; beside it stands the sign, or words."""
    return "alert" if minor is not None and minor < 0 else "good"
