"""Photographs: kept beside the data file without the place where they were taken, told of, removed.

A picture's file is on the disk before its row is in the data file, and goes where the row is refused: a plug
pulled between the two leaves a file that no row names, which `bench check` tells.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from contextlib import ExitStack
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from sqlmodel import col, select

from bench.desk import Desk
from bench.domain.decoding import require_whole
from bench.domain.photographs import (
    BACK,
    KEPT,
    PUT_BACK,
    THERE,
    PhotographKept,
    PhotographsKept,
    Subject,
    caption_of,
    file_name_of,
    taken_at_us,
)
from bench.domain.pictures import Stripped, without_place
from bench.domain.typed import TypedFields, read_field
from bench.errors import BadInput, Refused
from bench.store import photographs as files
from bench.store.tables import Photograph, PhotographCaption, Unit
from bench.views.photographs import FileOnRecord, read_on_record
from bench.work.change import Change, change
from bench.work.names import tells_if_changed
from bench.work.photograph_subjects import subject_columns

_QUOTES = "'\""


@dataclass(slots=True)
class _Given:
    """A picture that someone named, as it is kept. `folder`, `name`: its file's, once that is on the disk."""

    source: Path
    stripped: Stripped
    sha256: str
    folder: str = ""
    name: str = ""
    outcome: str = KEPT


def attach_photographs(
    desk: Desk,
    unit_id: int,
    paths: Sequence[str],
    *,
    caption: str = "",
    shown: bool = False,
    move: bool = False,
    **subject: Any,
) -> PhotographsKept:
    """Keep pictures of a unit, and what each shows of it: all of them, or none.

    `subject`: what they show besides it, by the names of `Subject`; what is not given stays as it was.
    What is there already is not kept twice; one that was removed comes back, and so does a missing file.
    `move`: the originals are deleted once their copies are kept. BadInput for what is no picture of a kind
    that is kept, or not there to its end; StoreError for what the disk does not let through.
    """
    fields = TypedFields()
    words = fields.read("caption", caption_of, caption)
    given = fields.read("path", _all_given, paths)
    fields.check()
    desk.store.require_same_file()
    tag, zone, known = read_on_record(desk, unit_id)
    with ExitStack() as refused:
        for one in given:
            _bring_to_disk(desk, tag, one, known, refused)
        with change(desk, "keep photographs") as made:
            unit = made.get(Unit, unit_id, "unit")
            about = subject_columns(made, unit_id, Subject(**subject)) if subject else {}
            kept = []
            for one in given:
                row = _row_of(made, unit_id, one)
                if row is None:
                    row = made.add(_new_row(made, unit_id, tag, one, zone))
                if one.outcome in (KEPT, BACK):
                    row.shown = int(shown or row.shown)
                    _set(row, {name: number for name, number in about.items() if number is not None})
                    _say_under(made, _number(row), words or _said_under(made, _number(row)))
                kept.append(PhotographKept(_number(row), row.name, row.kind, row.size_bytes, one.outcome))
            _tell_kept(made, unit, kept)
        refused.pop_all()  # they are on record now: they stay
    folder = str(files.photographs_folder(desk.store.path) / tag)
    left = _moved_away(desk, (one.source for one in given)) if move else ()
    return PhotographsKept(unit_id, tag, folder, tuple(kept), left)


def say_of_photograph(desk: Desk, photograph_id: int, caption: str) -> None:
    """Say something else under a photograph, or nothing; what was said before can be brought back by undo."""
    with change(desk, "caption photograph") as made:
        row = _at_hand(made, photograph_id)
        words = read_field("caption", caption_of, caption)
        _say_under(made, photograph_id, words)
        tells_if_changed(made, f"Caption of photograph {photograph_id} of {_tag(made, row)}", row.unit_id)


def show_photograph(desk: Desk, photograph_id: int, *, shown: bool) -> None:
    """Have a photograph go into papers, or not."""
    with change(desk, "show photograph") as made:
        row = _at_hand(made, photograph_id)
        row.shown = int(shown)
        where = "goes into papers" if shown else "goes into no paper"
        tells_if_changed(made, f"Photograph {photograph_id} of {_tag(made, row)} {where}", row.unit_id)


def point_photograph(desk: Desk, photograph_id: int, **subject: Any) -> None:
    """Say what a photograph shows besides its unit, by the names of `Subject`; what is not given stays.

    A fault, a task, a grade is its unit's, a step is one of its model's page.
    """
    with change(desk, "photograph shows") as made:
        row = _at_hand(made, photograph_id)
        was = Subject(
            row.task_id, row.grade_id, row.fault_id, row.model_step_id, row.model_page_id is not None
        )
        if subject.get("model") is False:
            subject.setdefault("model_step_id", None)
        _set(row, subject_columns(made, row.unit_id, replace(was, **subject)))
        tells_if_changed(made, f"What photograph {photograph_id} of {_tag(made, row)} shows", row.unit_id)


def remove_photograph(desk: Desk, photograph_id: int) -> None:
    """Take a photograph off its unit. Its file stays, so that undo finds it, until it is erased."""
    with change(desk, "remove photograph") as made:
        row = made.get(Photograph, photograph_id, "photograph")
        row.removed = 1
        made.tells(f"Removed photograph {photograph_id} of {_tag(made, row)}", unit_id=row.unit_id)


def _all_given(paths: Sequence[str]) -> list[_Given]:
    """Each picture once, without its place. BadInput naming the first that cannot be kept."""
    given: dict[str, _Given] = {}
    for path in paths:
        source = _path_of(path)
        content = files.read_given(source)
        stripped = without_place(content, source.name)
        require_whole(stripped.content, source.name)
        one = _Given(source, stripped, files.hash_of(stripped.content))
        given.setdefault(one.sha256, one)
    if not given:
        raise BadInput("No picture is named.", "Give the path of at least one.", field="path")
    return list(given.values())


def _path_of(text: str) -> Path:
    """A path as typed, or as a terminal pastes a file that was dropped on it: in quotation marks."""
    typed = text.strip()
    if len(typed) > 1 and typed[0] == typed[-1] and typed[0] in _QUOTES:
        typed = typed[1:-1]
    if not typed or "\x00" in typed:
        raise BadInput("No picture is named.", "Give its path.", field="path")
    return Path(typed).expanduser()


def _bring_to_disk(
    desk: Desk, tag: str, one: _Given, known: dict[str, FileOnRecord], refused: ExitStack
) -> None:
    """Write what is not there yet, and note what became of it; what is new goes again where it is refused."""
    path, there = desk.store.path, known.get(one.sha256)
    if there is None:
        one.folder = tag
        one.name = files.write_new(
            path, tag, file_name_of(one.source.name, one.stripped.kind), one.stripped.content
        )
        refused.callback(files.delete, path, tag, one.name)
        return
    one.outcome = BACK if there.removed else THERE
    if not files.is_there(path, there.folder, there.name):
        files.put_back(path, there.folder, there.name, one.stripped.content)
        one.outcome = BACK if there.removed else PUT_BACK


def _row_of(made: Change, unit_id: int, one: _Given) -> Photograph | None:
    """The row of a picture that is on record, which stands again; None where it is new."""
    row = made.session.exec(
        select(Photograph)
        .where(Photograph.unit_id == unit_id, Photograph.sha256 == one.sha256)
        .where(col(Photograph.erased_us).is_(None))
        .order_by(col(Photograph.removed), col(Photograph.id).desc())
    ).first()
    if row is None and one.outcome != KEPT:
        raise Refused(f"Photograph {one.source.name} was erased meanwhile.", "Look at the list, and repeat.")
    if row is not None and one.outcome == KEPT:  # someone else kept the same one meanwhile
        files.delete(made.desk.store.path, one.folder, one.name)
        one.outcome = BACK if row.removed else THERE
    if row is not None:
        row.removed = 0
    return row


def _new_row(made: Change, unit_id: int, tag: str, one: _Given, zone: str) -> Photograph:
    return Photograph(
        unit_id=unit_id,
        folder=tag,
        name=one.name,
        sha256=one.sha256,
        size_bytes=len(one.stripped.content),
        kind=one.stripped.kind,
        taken_us=taken_at_us(one.stripped.taken, one.stripped.offset, zone),
        kept_us=made.now_us,
        person_id=made.desk.person_id,
    )


def _tell_kept(made: Change, unit: Unit, kept: Sequence[PhotographKept]) -> None:
    """Told by number alone: a file's name may name a person, and the journal is never changed."""
    numbers = [str(one.photograph_id) for one in kept if one.outcome in (KEPT, BACK)]
    if numbers:
        word = "photograph" if len(numbers) == 1 else "photographs"
        made.tells(f"Kept {word} {', '.join(numbers)} of {unit.tag}", unit_id=unit.id)


def _moved_away(desk: Desk, sources: Iterable[Path]) -> tuple[str, ...]:
    """Delete originals whose copies are kept; answers those that stay, each with why."""
    left = []
    for source in sources:
        if files.is_kept(desk.store.path, source):
            left.append(f"{source} (a photograph that is kept)")
            continue
        try:
            source.unlink(missing_ok=True)
        except OSError as error:
            left.append(f"{source} ({error.strerror})")
    return tuple(left)


def _set(row: Photograph, columns: Mapping[str, int | None]) -> None:
    for name, number in columns.items():
        setattr(row, name, number)


def _at_hand(made: Change, photograph_id: int) -> Photograph:
    row = made.get(Photograph, photograph_id, "photograph")
    if row.erased_us is not None:
        raise Refused(f"Photograph {photograph_id} was erased.", "Nothing is left of it but its number.")
    return row


def _said_under(made: Change, photograph_id: int) -> str:
    row = _caption_row(made, photograph_id)
    return row.caption if row is not None else ""


def _say_under(made: Change, photograph_id: int, words: str) -> None:
    """Have these words stand under a photograph, in place of those that did; none for nothing."""
    before = _caption_row(made, photograph_id)
    if words == (before.caption if before is not None else ""):
        return
    if before is not None:
        before.removed = 1
        made.session.flush()
    if words:
        made.add(PhotographCaption(photograph_id=photograph_id, caption=words))


def _caption_row(made: Change, photograph_id: int) -> PhotographCaption | None:
    statement = select(PhotographCaption).where(
        PhotographCaption.photograph_id == photograph_id, PhotographCaption.removed == 0
    )
    return made.session.exec(statement).first()


def _tag(made: Change, row: Photograph) -> str:
    return made.get(Unit, row.unit_id, "unit").tag


def _number(row: Photograph) -> int:
    assert row.id is not None
    return row.id
