"""A document to be saved: what it is made from, its forms, and the name that is proposed for its file."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from bench.reports.forms import Forms
from bench.views.parts import PartLine


@dataclass(frozen=True, slots=True)
class Document:
    """What the dialog that saves it is given."""

    title: str
    view: Any
    forms: Forms
    name: str


def label_document(part: PartLine | None) -> Document | None:
    """The label of a part, to be printed; None for none."""
    from bench.reports.forms import labels_forms
    from bench.views.labels import part_label

    if part is None:
        return None
    label = part_label(part)
    return Document(f"label of {part.name}", (label,), labels_forms(), f"label-{label.code}.pdf")
