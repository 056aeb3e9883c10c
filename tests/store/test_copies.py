"""Copies of the data file: whole, verified, private, never over another; and one put back in its place."""

from __future__ import annotations

import os
import shutil
import sqlite3
import stat
from collections.abc import Iterator
from pathlib import Path

import pytest

from bench.domain.copies import BEFORE_RESTORE, BY_HAND, DAILY
from bench.errors import Conflict, StoreError
from bench.store.copies import (
    checkpoint,
    copies_folder,
    copies_of,
    copy_to,
    drop,
    make_copy,
    problem_of,
)
from bench.store.engine import Store
from bench.store.restoring import Line, Replaced
from bench.store.restoring import restore as put_back
from bench.work.files import open_existing
from tests.clocks import WEDNESDAY_MORNING_US as AT_US
from tests.store.test_files import set_revision

A_DAY_US = 86_400_000_000


def restore(path: Path, source: Path, at_us: int) -> Replaced:
    return put_back(path, source, at_us, lambda _: Line(1, "Put back"))


def named(path: Path) -> str:
    """The shop's name in a data file: what tells one state of it from another here."""
    connection = sqlite3.connect(f"{path.as_uri()}?mode=ro", uri=True)
    name = connection.execute("SELECT name FROM shop").fetchone()[0]
    connection.close()
    return str(name)


def rename(path: Path, name: str) -> None:
    connection = sqlite3.connect(path)
    connection.execute("UPDATE shop SET name = ?", (name,))
    connection.commit()
    connection.close()


def beside(path: Path) -> list[str]:
    return sorted(one.name for one in path.parent.iterdir())


@pytest.fixture
def path(store: Store) -> Path:
    """A data file that nobody has open."""
    store.close()
    return store.path


@pytest.fixture
def open_elsewhere(path: Path) -> Iterator[sqlite3.Connection]:
    """Another program that has the file open, in the mode in which the program itself writes."""
    connection = sqlite3.connect(path, isolation_level=None)
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute("UPDATE shop SET name = 'in the side file'")
    yield connection
    connection.close()


def test_a_copy_is_whole_private_and_one_file(path: Path, open_elsewhere: sqlite3.Connection) -> None:
    made = make_copy(path, DAILY, AT_US)
    copy = copies_folder(path) / made.name
    assert made.name == "2026-11-25T09-00-00Z.daily.bench"
    assert named(copy) == "in the side file"
    assert made.size_bytes == copy.stat().st_size > 0
    assert stat.S_IMODE(copy.stat().st_mode) == 0o600
    assert stat.S_IMODE(copy.parent.stat().st_mode) == 0o700
    assert beside(copy) == [made.name]
    assert problem_of(copy) == ""


def test_a_copy_never_goes_over_another(path: Path) -> None:
    first = make_copy(path, DAILY, AT_US)
    kept = (copies_folder(path) / first.name).read_bytes()
    rename(path, "later")
    second = make_copy(path, DAILY, AT_US)
    assert second.name == "2026-11-25T09-00-00Z.daily.2.bench"
    assert (copies_folder(path) / first.name).read_bytes() == kept
    target = path.with_name("mine.bench")
    target.write_text("mine")
    with pytest.raises(StoreError, match="there already"):
        copy_to(path, target)
    assert target.read_text() == "mine"
    assert not list(path.parent.rglob(".copying*"))


def test_copies_are_listed_newest_first_and_nothing_else_is(path: Path) -> None:
    assert copies_of(path) == ()
    for n, why in enumerate((DAILY, BY_HAND, BEFORE_RESTORE)):
        make_copy(path, why, AT_US + n * A_DAY_US)
    folder = copies_folder(path)
    (folder / "notes.txt").write_text("mine")
    (folder / "2026-11-29T09-00-00Z.daily.bench").touch()  # a name taken, and the plug pulled
    listed = copies_of(path)
    assert [one.why for one in listed] == [BEFORE_RESTORE, BY_HAND, DAILY]
    drop(path, listed[1:])
    assert copies_of(path) == listed[:1]
    assert (folder / "notes.txt").read_text() == "mine"


def test_a_file_reached_by_a_link_has_one_folder_of_copies(path: Path) -> None:
    link = path.with_name("link.bench")
    link.symlink_to(path)
    made = make_copy(link, DAILY, AT_US)
    assert copies_of(path) == copies_of(link) == (made,)


def test_a_damaged_file_gives_no_copy(path: Path) -> None:
    _damage(path)
    with pytest.raises(StoreError, match=r"did not verify|No copy was made"):
        make_copy(path, DAILY, AT_US)
    assert copies_of(path) == ()
    assert list(copies_folder(path).iterdir()) == []


def test_what_a_killed_program_left_half_made_is_swept(path: Path) -> None:
    make_copy(path, DAILY, AT_US)
    (copies_folder(path) / ".copying-4711").write_text("half")
    made = make_copy(path, DAILY, AT_US + A_DAY_US)
    assert made in copies_of(path)
    assert not list(copies_folder(path).glob(".copying*"))


def test_a_disk_without_hard_links_takes_copies_too(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def no_links(*_: object) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(os, "link", no_links)
    made = make_copy(path, DAILY, AT_US)
    assert copies_of(path) == (made,)
    with pytest.raises(StoreError, match="there already"):
        copy_to(path, copies_folder(path) / made.name)
    assert named(copies_folder(path) / made.name) == named(path)


def test_a_checkpoint_leaves_the_one_file_whole(path: Path, open_elsewhere: sqlite3.Connection) -> None:
    """A plain copy of the file alone, while another program has it open and does nothing."""
    alone = path.with_name("plain.bench")
    shutil.copy(path, alone)
    assert named(alone) != "in the side file"
    assert checkpoint(path)
    shutil.copy(path, alone)
    assert named(alone) == "in the side file"


def test_a_checkpoint_that_a_reader_holds_up_says_so(path: Path, open_elsewhere: sqlite3.Connection) -> None:
    reader = sqlite3.connect(path, isolation_level=None)
    reader.execute("BEGIN")
    reader.execute("SELECT name FROM shop").fetchone()
    open_elsewhere.execute("UPDATE shop SET name = 'newer'")
    assert not checkpoint(path)
    reader.close()
    assert checkpoint(path)


def test_restore_puts_a_copy_back_and_copies_what_it_replaces(path: Path) -> None:
    rename(path, "old")
    source = copies_folder(path) / make_copy(path, DAILY, AT_US).name
    rename(path, "new")
    path.chmod(0o660)
    before = path.stat().st_ino
    done = restore(path, source, AT_US + A_DAY_US)
    assert named(path) == "old"
    assert done.kept is not None
    assert named(done.kept) == "new"
    assert (done.sound, done.side_files) == (True, ())
    assert done.kept.name == "2026-11-26T09-00-00Z.before-restore.bench"
    assert named(source) == "old"
    assert path.stat().st_ino != before  # so that a program which has the old one open can notice
    assert stat.S_IMODE(path.stat().st_mode) == 0o660
    open_existing(path).close()
    assert [name for name in beside(path) if name.startswith(path.name)] == [path.name, f"{path.name}.copies"]


def test_restore_takes_the_side_file_into_the_copy_it_makes_first(path: Path) -> None:
    """A program that was killed left its last changes beside the file: kept, and not read in later."""
    source = copies_folder(path) / make_copy(path, DAILY, AT_US).name
    _leave_side_file(path, "killed")
    done = restore(path, source, AT_US)
    assert done.kept is not None
    assert named(done.kept) == "killed"
    assert named(path) == named(source) != "killed"
    assert not Path(f"{path}-wal").exists()


def test_restore_sets_a_damaged_file_aside_with_its_side_files(path: Path) -> None:
    source = copies_folder(path) / make_copy(path, DAILY, AT_US).name
    _leave_side_file(path, "killed")
    side = Path(f"{path}-wal").read_bytes()
    _damage(path)
    Path(f"{path}-wal").write_bytes(side)
    damaged = path.read_bytes()
    done = restore(path, source, AT_US)
    assert not done.sound
    assert done.kept == path.with_name(f"{path.name}.replaced-2026-11-25T09-00-00Z")
    assert done.kept.read_bytes() == damaged
    assert Path(f"{done.kept}-wal") in done.side_files
    assert named(path) == named(source)
    open_existing(path).close()


def test_restore_where_the_file_is_gone_sets_its_side_files_aside(path: Path) -> None:
    source = copies_folder(path) / make_copy(path, DAILY, AT_US).name
    _leave_side_file(path, "killed")
    path.unlink()
    done = restore(path, source, AT_US)
    assert done.kept is None
    assert [one.name for one in done.side_files if one.name.endswith("-wal")]
    assert named(path) == named(source)


def test_restore_is_refused_while_another_program_has_the_file_open(
    path: Path, open_elsewhere: sqlite3.Connection
) -> None:
    source = copies_folder(path) / make_copy(path, DAILY, AT_US).name
    rename(path, "now")
    listed = copies_of(path)
    with pytest.raises(Conflict, match="Another program has"):
        restore(path, source, AT_US + A_DAY_US)
    open_elsewhere.execute("UPDATE shop SET name = 'still writing'")
    assert named(path) == "still writing"
    assert copies_of(path) == listed
    assert not list(path.parent.glob(".restoring*"))


def test_restore_refuses_a_foreign_damaged_newer_or_missing_copy(path: Path, tmp_path: Path) -> None:
    rename(path, "stays")
    foreign, damaged, newer = (tmp_path / name for name in ("foreign", "damaged", "newer"))
    foreign.write_text("notes")
    for one in (damaged, newer):
        shutil.copy(path, one)
    _damage(damaged)
    set_revision(newer, "9999")
    for source, said in (
        (foreign, "not a bench data file"),
        (damaged, r"is damaged|cannot be opened"),
        (newer, "newer bench"),
        (tmp_path / "absent", "is not there"),
        (path, "data file itself"),
    ):
        with pytest.raises(StoreError, match=said):
            restore(path, source, AT_US)
    assert named(path) == "stays"
    assert copies_of(path) == ()


def test_restore_does_not_touch_a_foreign_file_in_the_place(path: Path, tmp_path: Path) -> None:
    target = tmp_path / "letter.txt"
    target.write_text("dear sir")
    with pytest.raises(StoreError, match="not a bench data file"):
        restore(target, path, AT_US)
    assert target.read_text() == "dear sir"


def _damage(path: Path) -> None:
    """Overwrite the middle of the file, and leave its first page and with it whose it is."""
    content = bytearray(path.read_bytes())
    content[4096 : len(content) // 2] = b"\xff" * (len(content) // 2 - 4096)
    path.write_bytes(content)


def _leave_side_file(path: Path, name: str) -> None:
    """As a killed program leaves it: the last change is in the side file only."""
    connection = sqlite3.connect(path, isolation_level=None)
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute("PRAGMA wal_autocheckpoint = 0")
    connection.execute("UPDATE shop SET name = ?", (name,))
    kept = {one: one.read_bytes() for one in (path, Path(f"{path}-wal"))}
    connection.close()
    for one, content in kept.items():
        one.write_bytes(content)
