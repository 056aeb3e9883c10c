"""Photographs erased for good: file, name and captions; the number and the day stay. It cannot be undone."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from sqlmodel import col, select

from bench.desk import Desk
from bench.domain.photographs import CAPTION_DRAFT, PhotographErased
from bench.errors import NotFound, Refused
from bench.store import photographs as files
from bench.store.copies import copies_of
from bench.store.scrubbing import scrub
from bench.store.tables import Draft, Photograph, PhotographCaption, Unit
from bench.work.change import Change, change

Erasable = tuple[str, str]  # folder and name of a file


def erase_photograph(desk: Desk, photograph_id: int) -> PhotographErased:
    """Delete a photograph's file and its captions, also of one that was removed. It cannot be undone.

    Copies of the data file, made before, keep the caption; none of them holds the file.
    """
    with change(desk, "erase photograph") as made:
        row = made.session.get(Photograph, photograph_id)
        if row is None:
            raise NotFound(
                f"There is no photograph with number {photograph_id}.", "Its unit's list shows them."
            )
        if row.erased_us is not None:
            raise Refused(f"Photograph {photograph_id} was erased already.", "There is nothing to erase.")
        unit = made.session.get(Unit, row.unit_id)
        tag, unit_id = (unit.tag if unit is not None else row.folder), row.unit_id
        made.session.connection().exec_driver_sql("PRAGMA secure_delete = ON")
        gone = _blank(made, [row])
        made.tells(f"Erased photograph {photograph_id} of {tag}; this cannot be undone", unit_id=unit_id)
    left = delete_files(desk, gone)
    path = desk.store.path
    return PhotographErased(photograph_id, tag, "; ".join(left), scrub(path), len(copies_of(path)))


def erase_of_owner(made: Change, party_id: int) -> list[Erasable]:
    """Within the erasing of a person: erase the photographs of the machines they own; answers their files.

    Whoever erases deletes the files once that is in the data file.
    """
    rows = made.session.exec(
        select(Photograph)
        .join(Unit, col(Unit.id) == Photograph.unit_id)
        .where(Unit.owner_id == party_id, col(Photograph.erased_us).is_(None))
    )
    return _blank(made, list(rows))


def delete_files(desk: Desk, gone: Iterable[Erasable]) -> tuple[str, ...]:
    """Delete the files of what was erased; answers those that could not be, each with why."""
    answers = (files.delete(desk.store.path, folder, name) for folder, name in gone)
    return tuple(one for one in answers if one)


def _blank(made: Change, rows: Sequence[Photograph]) -> list[Erasable]:
    gone = []
    for row in rows:
        gone.append((row.folder, row.name))
        draft = made.session.get(Draft, f"{CAPTION_DRAFT} {row.id}")
        if draft is not None:
            made.session.delete(draft)
        row.name, row.sha256, row.erased_us = "", "", made.now_us
        captions = select(PhotographCaption).where(PhotographCaption.photograph_id == row.id)
        for caption in made.session.exec(captions):
            caption.caption = ""
    return gone
