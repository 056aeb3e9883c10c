"""Photographs kept, told of, removed and erased; and what becomes of them when something fails."""

from __future__ import annotations

import hashlib
import json
import signal
import sqlite3
import stat
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from bench.desk import Desk
from bench.domain.party import PartyTyped
from bench.domain.photographs import BACK, KEPT, PUT_BACK, THERE
from bench.errors import BadInput, Conflict, NotFound, Refused, StoreError
from bench.store.photographs import photographs_folder
from bench.views.journal import read_journal
from bench.views.parties import read_parties
from bench.views.photographs import PhotographLine, read_photographs
from bench.views.shop import read_draft
from bench.work import photographs
from bench.work.check import check_file
from bench.work.drafts import save_draft
from bench.work.grades import set_grade
from bench.work.parties import erase_party, set_owner
from bench.work.photograph_erasing import erase_photograph
from bench.work.photographs import attach_photographs, remove_photograph, say_of_photograph, show_photograph
from bench.work.photographs_on_disk import PhotographCheck
from bench.work.undo import redo, undo
from bench.work.units import add_unit, edit_unit
from tests.pictures import SECRET, jpeg, png


@pytest.fixture
def unit_id(desk: Desk) -> int:
    return add_unit(desk, maker="Maker", model="M", tag_text="10014", route_id=1).unit_id


@pytest.fixture
def front(tmp_path: Path) -> Path:
    return given(tmp_path, "front.jpg", jpeg())


def given(folder: Path, name: str, content: bytes) -> Path:
    path = folder / "phone" / name
    path.parent.mkdir(exist_ok=True)
    path.write_bytes(content)
    return path


def lines(desk: Desk, unit_id: int) -> tuple[PhotographLine, ...]:
    return read_photographs(desk, unit_id).lines


def newest(desk: Desk) -> int:
    return read_journal(desk).lines[0].journal_id


def kept_files(desk: Desk) -> list[str]:
    root = photographs_folder(desk.store.path)
    return sorted(str(one.relative_to(root)) for one in root.rglob("*") if one.is_file())


def checked(desk: Desk) -> PhotographCheck:
    found = check_file(desk.store)
    assert found.sound
    assert found.photographs is not None
    return found.photographs


def test_a_picture_is_kept_beside_the_file_with_what_is_known_of_it(
    desk: Desk, unit_id: int, front: Path
) -> None:
    kept = attach_photographs(desk, unit_id, [str(front)], caption="as it came", shown=True)
    (line,) = lines(desk, unit_id)
    assert [one.outcome for one in kept.photographs] == [KEPT]
    assert (line.name, line.kind, line.caption, line.shown, line.there) == (
        "front.jpg",
        "jpeg",
        "as it came",
        True,
        True,
    )
    content = (desk.store.path.with_name("workshop.photographs") / "10014" / "front.jpg").read_bytes()
    assert Path(line.path).read_bytes() == content
    assert line.sha256 == hashlib.sha256(content).hexdigest()
    assert line.size_bytes == len(content)
    assert SECRET not in content
    assert line.taken_us == 1_777_623_072_000_000  # 2026-05-01T10:11:12+02:00
    assert front.exists()
    assert checked(desk).agrees


def test_the_same_picture_twice_is_said_and_not_kept_twice(desk: Desk, unit_id: int, front: Path) -> None:
    again = given(front.parent.parent, "again.jpg", jpeg())
    first = attach_photographs(desk, unit_id, [str(front)])
    lines_before = read_journal(desk).lines
    second = attach_photographs(desk, unit_id, [str(again)])
    assert second.photographs[0].outcome == THERE
    assert second.photographs[0].photograph_id == first.photographs[0].photograph_id
    assert kept_files(desk) == ["10014/front.jpg"]
    assert read_journal(desk).lines == lines_before
    other = add_unit(desk, maker="Maker", model="N").unit_id
    assert attach_photographs(desk, other, [str(front)]).photographs[0].outcome == KEPT


def test_other_pictures_of_one_name_are_numbered(desk: Desk, unit_id: int, tmp_path: Path) -> None:
    for shade in (0, 9, 18):
        attach_photographs(desk, unit_id, [str(given(tmp_path, "IMG.jpg", jpeg(shade=shade)))])
    assert [line.name for line in lines(desk, unit_id)] == ["IMG.jpg", "IMG-2.jpg", "IMG-3.jpg"]


def test_all_of_several_are_kept_or_none(desk: Desk, unit_id: int, front: Path) -> None:
    bad = given(front.parent.parent, "odd.heic", b"\x00\x00\x00\x18ftypheic")
    with pytest.raises(BadInput, match=r"odd\.heic.* is not a JPEG, PNG or WebP picture"):
        attach_photographs(desk, unit_id, [str(front), str(bad)])
    assert kept_files(desk) == []
    good = given(front.parent.parent, "back.png", png())
    kept = attach_photographs(desk, unit_id, [str(front), str(good), f"'{front}'"], caption="both")
    assert [one.name for one in kept.photographs] == ["front.jpg", "back.png"]
    undo(desk, newest(desk))
    assert lines(desk, unit_id) == ()


def test_what_cannot_be_kept_changes_nothing(desk: Desk, unit_id: int, tmp_path: Path, front: Path) -> None:
    empty, cut = given(tmp_path, "empty.jpg", b""), given(tmp_path, "cut.jpg", jpeg()[:300])
    for paths in ([], [""], [str(tmp_path)], [str(tmp_path / "gone.jpg")], [str(empty)], [str(cut)]):
        with pytest.raises(BadInput):
            attach_photographs(desk, unit_id, paths)
    with pytest.raises(BadInput, match="caption"):
        attach_photographs(desk, unit_id, [str(front)], caption="x" * 300)
    with pytest.raises(NotFound):
        attach_photographs(desk, 999, [str(front)])
    assert lines(desk, unit_id) == ()
    assert kept_files(desk) == []


def test_a_row_that_is_refused_leaves_no_file(
    desk: Desk, unit_id: int, front: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    other = add_unit(desk, maker="Maker", model="N", route_id=1).unit_id
    task_id = _task_of(desk, other)
    with pytest.raises(BadInput, match="another unit's"):
        attach_photographs(desk, unit_id, [str(front)], task_id=task_id)
    assert kept_files(desk) == []

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(StoreError, match="No space left"):
        attach_photographs(desk, unit_id, [str(front)])
    assert kept_files(desk) == []


def _task_of(desk: Desk, unit_id: int) -> int:
    with desk.store.read() as connection:
        return int(connection.execute("SELECT MIN(id) FROM task WHERE unit_id = ?", (unit_id,)).fetchone()[0])


def test_a_picture_shows_a_task_or_a_graded_part(desk: Desk, unit_id: int, front: Path) -> None:
    task_id = _task_of(desk, unit_id)
    grade = set_grade(desk, unit_id, "lid", looks_step_id=None, tested=True, sentence="scratched")
    attach_photographs(desk, unit_id, [str(front)], task_id=task_id, grade_id=grade.grade_id)
    (line,) = lines(desk, unit_id)
    assert line.task_id == task_id
    assert line.task
    assert line.grade == "lid"


def test_a_removed_one_keeps_its_file_and_comes_back(desk: Desk, unit_id: int, front: Path) -> None:
    number = attach_photographs(desk, unit_id, [str(front)], caption="lid").photographs[0].photograph_id
    remove_photograph(desk, number)
    assert lines(desk, unit_id) == ()
    assert kept_files(desk) == ["10014/front.jpg"]
    assert checked(desk).agrees
    undo(desk, newest(desk))
    assert [(line.caption, line.there) for line in lines(desk, unit_id)] == [("lid", True)]
    redo(desk)
    assert lines(desk, unit_id) == ()
    kept = attach_photographs(desk, unit_id, [str(front)])
    assert (kept.photographs[0].photograph_id, kept.photographs[0].outcome) == (number, BACK)
    assert [(line.photograph_id, line.caption) for line in lines(desk, unit_id)] == [(number, "lid")]
    undo(desk, newest(desk))
    attach_photographs(desk, unit_id, [str(front)], caption="the hinge", shown=True)
    assert [(line.caption, line.shown) for line in lines(desk, unit_id)] == [("the hinge", True)]
    assert checked(desk).agrees


def test_keeping_is_undone_and_redone_and_the_file_is_found(desk: Desk, unit_id: int, front: Path) -> None:
    attach_photographs(desk, unit_id, [str(front)], caption="lid")
    undo(desk, newest(desk))
    assert lines(desk, unit_id) == ()
    redo(desk)
    assert [(line.caption, line.there) for line in lines(desk, unit_id)] == [("lid", True)]
    assert checked(desk).agrees


def test_a_caption_said_anew_is_undone_and_stands_in_no_line_of_the_journal(
    desk: Desk, unit_id: int, front: Path
) -> None:
    number = attach_photographs(desk, unit_id, [str(front)], caption="Quendolin's lid").photographs[0]
    say_of_photograph(desk, number.photograph_id, "Orla's desk")
    assert lines(desk, unit_id)[0].caption == "Orla's desk"
    before = read_journal(desk).lines
    say_of_photograph(desk, number.photograph_id, "Orla's desk")
    assert read_journal(desk).lines == before
    undo(desk, newest(desk))
    assert lines(desk, unit_id)[0].caption == "Quendolin's lid"
    say_of_photograph(desk, number.photograph_id, "")
    assert lines(desk, unit_id)[0].caption == ""
    told = "".join(line.changes + line.summary + line.reason for line in read_journal(desk).lines)
    assert '"photograph_caption"' in told
    for words in ("Quendolin", "Orla", "front"):
        assert words not in told
    assert checked(desk).agrees


def test_going_into_papers_is_undone(desk: Desk, unit_id: int, front: Path) -> None:
    number = attach_photographs(desk, unit_id, [str(front)]).photographs[0].photograph_id
    show_photograph(desk, number, shown=True)
    assert lines(desk, unit_id)[0].shown
    undo(desk, newest(desk))
    assert not lines(desk, unit_id)[0].shown


def test_what_was_said_later_stands_on_keeping(desk: Desk, unit_id: int, front: Path) -> None:
    number = attach_photographs(desk, unit_id, [str(front)]).photographs[0].photograph_id
    kept = newest(desk)
    say_of_photograph(desk, number, "lid")
    with pytest.raises(Conflict, match="stands on it"):
        undo(desk, kept)


def test_an_erased_one_leaves_its_number_and_day_alone(desk: Desk, unit_id: int, front: Path) -> None:
    number = attach_photographs(desk, unit_id, [str(front)], caption="Quendolin's lid").photographs[0]
    say_of_photograph(desk, number.photograph_id, "Orla's desk")
    save_draft(desk, f"caption {number.photograph_id}", {"caption": "Orla again"})
    erased = erase_photograph(desk, number.photograph_id)
    (line,) = lines(desk, unit_id)
    assert erased.left == ""
    assert erased.not_rewritten == ""
    assert (line.photograph_id, line.name, line.caption, line.sha256) == (number.photograph_id, "", "", "")
    assert line.kept_us == line.erased_us == desk.clock.now_us()
    assert kept_files(desk) == []
    content = desk.store.path.read_bytes()
    for words in (b"Quendolin", b"Orla", b"front.jpg"):
        assert words not in content
    assert read_draft(desk, f"caption {number.photograph_id}") == {}
    with pytest.raises((Conflict, Refused)):
        undo(desk, newest(desk))
    for act in (erase_photograph, lambda desk, number: say_of_photograph(desk, number, "more")):
        with pytest.raises(Refused, match="erased"):
            act(desk, number.photograph_id)
    assert attach_photographs(desk, unit_id, [str(front)]).photographs[0].outcome == KEPT
    assert checked(desk).agrees


def test_one_that_was_removed_can_be_erased_and_undo_brings_no_picture_back(
    desk: Desk, unit_id: int, front: Path
) -> None:
    number = attach_photographs(desk, unit_id, [str(front)], caption="lid").photographs[0].photograph_id
    remove_photograph(desk, number)
    removed = newest(desk)
    erase_photograph(desk, number)
    undo(desk, removed)
    assert [(line.caption, line.there) for line in lines(desk, unit_id)] == [("", False)]
    assert kept_files(desk) == []
    assert checked(desk).agrees


def test_erasing_a_person_erases_the_photographs_of_their_machines(
    desk: Desk, unit_id: int, front: Path
) -> None:
    other = add_unit(desk, maker="Maker", model="N", tag_text="10022").unit_id
    attach_photographs(desk, unit_id, [str(front)], caption="Quendolin's sticker")
    attach_photographs(desk, other, [str(front)], caption="the shop's own")
    set_owner(desk, unit_id, PartyTyped("Quendolin Owner"))
    party_id = read_parties(desk)[0].party_id
    erased = erase_party(desk, party_id, "asked for it", early=True)
    assert (erased.photographs, erased.photographs_left) == (1, ())
    assert kept_files(desk) == ["10022/front.jpg"]
    assert b"Quendolin" not in desk.store.path.read_bytes()
    assert [line.erased_us is None for line in lines(desk, unit_id)] == [False]
    assert [line.caption for line in lines(desk, other)] == ["the shop's own"]


def test_check_tells_what_is_missing_unknown_and_changed(
    desk: Desk, unit_id: int, front: Path, tmp_path: Path
) -> None:
    paths = [str(given(tmp_path, f"{n}.jpg", jpeg(shade=n * 9))) for n in range(3)]
    attach_photographs(desk, unit_id, paths)
    folder = photographs_folder(desk.store.path) / "10014"
    (folder / "0.jpg").unlink()
    (folder / "1.jpg").write_bytes(b"changed")
    (folder / "mine.jpg").write_bytes(b"put there by hand")
    found = checked(desk)
    assert not found.agrees
    assert (found.missing, found.unknown, found.changed) == (
        ("10014/0.jpg",),
        ("10014/mine.jpg",),
        ("10014/1.jpg",),
    )
    kept = attach_photographs(desk, unit_id, [paths[0]])
    assert kept.photographs[0].outcome == PUT_BACK
    assert checked(desk).missing == ()


KILLED = """
import os, signal, sys
from pathlib import Path
from bench.desk import Desk, SystemClock
from bench.work import photographs
from bench.work.files import open_existing

def killed(*_):
    os.kill(os.getpid(), signal.SIGKILL)

photographs.change = killed
desk = Desk(open_existing(Path(sys.argv[1])), SystemClock(), 1)
photographs.attach_photographs(desk, int(sys.argv[2]), [sys.argv[3]])
"""


def test_a_kill_before_the_row_leaves_a_file_that_check_tells(desk: Desk, unit_id: int, front: Path) -> None:
    told = [sys.executable, "-c", KILLED, str(desk.store.path), str(unit_id), str(front)]
    assert subprocess.run(told, check=False).returncode == -signal.SIGKILL
    assert lines(desk, unit_id) == ()
    assert checked(desk).unknown == ("10014/front.jpg",)
    assert attach_photographs(desk, unit_id, [str(front)]).photographs[0].name == "front-2.jpg"
    assert checked(desk).unknown == ("10014/front.jpg",)


def test_two_who_keep_the_same_picture_at_once_keep_one(
    desk: Desk, unit_id: int, front: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    change = photographs.change

    def after_someone_else(*given: Any) -> Any:
        monkeypatch.setattr(photographs, "change", change)
        other = given_again(front)
        assert attach_photographs(desk, unit_id, [str(other)]).photographs[0].outcome == KEPT
        return change(*given)

    monkeypatch.setattr(photographs, "change", after_someone_else)
    kept = attach_photographs(desk, unit_id, [str(front)])
    assert kept.photographs[0].outcome == THERE
    assert [line.there for line in lines(desk, unit_id)] == [True]
    assert kept_files(desk) == ["10014/front-2.jpg"]
    assert checked(desk).agrees


def given_again(path: Path) -> Path:
    """The same picture under another path."""
    return given(path.parent.parent, path.name, path.read_bytes())


def test_a_file_that_several_people_share_has_photographs_they_share(
    desk: Desk, unit_id: int, front: Path
) -> None:
    desk.store.path.chmod(0o660)
    attach_photographs(desk, unit_id, [str(front)])
    kept = Path(lines(desk, unit_id)[0].path)
    assert stat.S_IMODE(kept.stat().st_mode) == 0o660
    assert [stat.S_IMODE(one.stat().st_mode) for one in list(kept.parents)[:2]] == [0o770, 0o770]


def test_a_kept_photograph_is_never_taken_for_an_original(desk: Desk, unit_id: int, front: Path) -> None:
    attach_photographs(desk, unit_id, [str(front)])
    kept = Path(lines(desk, unit_id)[0].path)
    again = attach_photographs(desk, unit_id, [str(kept)], move=True)
    assert again.photographs[0].outcome == THERE
    assert "a photograph that is kept" in again.left[0]
    assert kept.exists()


def test_originals_are_moved_where_that_is_asked(desk: Desk, unit_id: int, front: Path) -> None:
    kept = attach_photographs(desk, unit_id, [str(front)], move=True)
    assert kept.left == ()
    assert not front.exists()
    assert lines(desk, unit_id)[0].there


def test_another_tag_leaves_the_photographs_where_they_are(desk: Desk, unit_id: int, front: Path) -> None:
    attach_photographs(desk, unit_id, [str(front)])
    blank = dict.fromkeys(("serial", "note", "due_text", "price_text"), "")
    edit_unit(desk, unit_id, maker="Maker", model="M", tag_text="10022", **blank)
    attach_photographs(desk, unit_id, [str(given(front.parent.parent, "back.png", png()))])
    assert kept_files(desk) == ["10014/front.jpg", "10022/back.png"]
    assert all(line.there for line in lines(desk, unit_id))


@pytest.mark.parametrize(
    "change",
    [
        "kind = 'heic'",
        "size_bytes = 0",
        "sha256 = 'short'",
        "name = ''",
        "erased_us = 1",
        "shown = 2",
    ],
)
def test_the_database_itself_refuses_what_no_photograph_is(
    desk: Desk, unit_id: int, front: Path, change: str
) -> None:
    attach_photographs(desk, unit_id, [str(front)])
    with sqlite3.connect(desk.store.path) as connection, pytest.raises(sqlite3.IntegrityError):
        connection.execute(f"UPDATE photograph SET {change}")
    assert json.loads(read_journal(desk).lines[0].changes)
