"""A unit's photographs as a list to read through."""

from __future__ import annotations

from bench.reports.plain_tables import sections, told
from bench.views.kinds import context_of
from bench.views.photographs import UnitPhotographs
from bench.views.tables.photographs import PHOTOGRAPHS

NOT_IN_COPIES = "Copies of the data file do not hold the pictures: copy this folder too."


def photographs_text(found: UnitPhotographs) -> str:
    """The table, and where the files lie."""
    head = f"Photographs of {found.tag} {found.model}".rstrip()
    if not found.lines:
        return sections(head, PHOTOGRAPHS.empty)
    return sections(
        head,
        told(PHOTOGRAPHS, found.lines, context_of(found)),
        f"Folder: {found.folder}\n{NOT_IN_COPIES}",
    )
