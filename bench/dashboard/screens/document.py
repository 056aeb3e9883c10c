"""A document to be saved: what it is made from, its forms, and the name that is proposed for its file."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from bench.reports.forms import Forms


@dataclass(frozen=True, slots=True)
class Document:
    """What the dialog that saves it is given."""

    title: str
    view: Any
    forms: Forms
    name: str
