"""The journal as it is shown: who did what when."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class JournalLine:
    """One change. `taken_back`: a later line took it back; `takes_back`: it took back that line."""

    journal_id: int
    at_us: int
    person: str
    action: str
    summary: str
    reason: str
    via: str
    unit_id: int | None
    tag: str
    taken_back: bool
    takes_back: int | None
    changes: str


@dataclass(frozen=True, slots=True)
class BookedLine:
    """The line that a script's key was used for. `undone`: it was taken back and not done again since."""

    journal_id: int
    at_us: int
    person: str
    summary: str
    tag: str
    undone: bool


@dataclass(frozen=True, slots=True)
class JournalPage:
    """Lines newest first; `more` says that older ones exist. `currency`: of the amounts in their changes."""

    lines: tuple[JournalLine, ...]
    zone: str
    currency: str
    more: bool
