"""The word that opens an owner's machine: kept apart, shown by one act, erased when the machine goes back.

It stands in no journal, no draft, no paper and no export. The journal says only that one was kept, looked at
or erased, and none of that can be undone.
"""

from __future__ import annotations

from sqlmodel import select

from bench.desk import Desk
from bench.domain.text import clean_line
from bench.domain.typed import read_field
from bench.errors import NotFound, Refused
from bench.store.scrubbing import scrub
from bench.store.tables import AccessWord, RepairJob, Unit
from bench.work.change import AFTER_COMMIT, Change, change

LONGEST = 200


def keep_access_word(desk: Desk, job_id: int, word: str) -> None:
    """Keep the word for a repair that lasts, in place of the one before. BadInput for an empty one."""
    with change(desk, "keep access word") as made:
        unit = _unit_here(made, job_id)
        text = read_field("word", clean_line, word, "The access word", LONGEST)
        forget_within(made, job_id)
        made.add(AccessWord(job_id=job_id, word=text, kept_us=made.now_us))
        made.tells(f"Kept an access word for {unit.tag}", unit_id=unit.id)


def show_access_word(desk: Desk, job_id: int) -> str:
    """The word, and a line in the journal that it was looked at. NotFound where none is kept."""
    with change(desk, "show access word") as made:
        unit = _unit_of(made, job_id)
        row = _row(made, job_id)
        if row is None:
            raise NotFound(f"No access word is kept for unit {unit.tag}.", "Ask its owner.")
        made.tells(f"Looked at the access word of {unit.tag}", unit_id=unit.id)
        return row.word


def erase_access_word(desk: Desk, job_id: int) -> str:
    """Erase the word, out of the file's free pages too. NotFound where none is kept.

    Answers why the file could not be rewritten at once, so that old bytes may be left in it; nothing else.
    """
    with change(desk, "erase access word") as made:
        unit = _unit_of(made, job_id)
        if not forget_within(made, job_id):
            raise NotFound(f"No access word is kept for unit {unit.tag}.", "There is nothing to erase.")
        made.session.info.pop(AFTER_COMMIT)
        made.tells(f"Erased the access word of {unit.tag}; this cannot be undone", unit_id=unit.id)
    return scrub(desk.store.path)


def forget_within(made: Change, job_id: int) -> bool:
    """Erase the word inside a transaction that does more; once it is committed the file is rewritten."""
    row = _row(made, job_id)
    if row is None:
        return False
    made.session.connection().exec_driver_sql("PRAGMA secure_delete = ON")
    made.session.delete(row)
    made.session.flush()
    store = made.desk.store
    made.session.info[AFTER_COMMIT] = lambda: scrub(store.path)
    return True


def _row(made: Change, job_id: int) -> AccessWord | None:
    return made.session.exec(select(AccessWord).where(AccessWord.job_id == job_id)).first()


def _unit_of(made: Change, job_id: int) -> Unit:
    return made.get(Unit, made.get(RepairJob, job_id, "repair job").unit_id, "unit")


def _unit_here(made: Change, job_id: int) -> Unit:
    unit = _unit_of(made, job_id)
    if made.get(RepairJob, job_id, "repair job").collected_on is not None:
        raise Refused(f"Unit {unit.tag} was handed back.", "No access word is kept after that.")
    return unit
