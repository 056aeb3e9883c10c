"""Which field of a form an error speaks of, so that its sentence stands under that field."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bench.domain.text import quoted


@dataclass(frozen=True, slots=True)
class Typed:
    """A field as it was sent: its name, the words an error begins with when it means it, what was typed."""

    name: str
    says: str
    value: str


def at_fault(what: str, fields: Sequence[Typed]) -> str | None:
    """The name of the field that the sentence speaks of; None when it speaks of no one field."""
    for field in fields:
        if field.says and what.casefold().startswith(field.says.casefold()):
            return field.name
    for field in fields:
        if field.value.strip() and quoted(field.value) in what:
            return field.name
    return None
