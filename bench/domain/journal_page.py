"""The journal as it is shown: who did what when."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class JournalLine:
    """One change. `undone`: a later line undid it; `undoes`: the line that it undid or redid."""

    journal_id: int
    at_us: int
    person: str
    action: str
    summary: str
    reason: str
    via: str
    unit_id: int | None
    tag: str
    undone: bool
    undoes: int | None
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


@dataclass(frozen=True, slots=True)
class UndoOffer:
    """What undo, or redo where `again`, would do with a line; `refusal` says why it would not.

    `needs_reason`: what a reason is asked for; empty where none is.
    """

    journal_id: int
    at_us: int
    summary: str
    again: bool
    refusal: str
    needs_reason: str
