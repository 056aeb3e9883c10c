"""The file under the program removed, moved, replaced or written over: nothing confirmed is lost."""

from __future__ import annotations

import os
import shutil
import sqlite3
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import pytest

from bench.desk import Desk
from bench.errors import FileLost, StoreError
from bench.store.copies import checkpoint, copy_to
from bench.store.engine import Store
from bench.views.queue import read_queue
from bench.work.check import check_file
from bench.work.files import open_existing, open_or_new, save_what_is_open
from bench.work.units import add_unit
from tests.clocks import HandSetClock


def tags(path: Path) -> set[str]:
    connection = sqlite3.connect(path)
    assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    found = {row[0] for row in connection.execute("SELECT tag FROM unit")}
    connection.close()
    return found


def add(desk: Desk) -> str:
    return add_unit(desk, maker="", model="M").tag


def removed(path: Path) -> None:
    path.unlink()


def removed_with_its_side_files(path: Path) -> None:
    for one in path.parent.glob(f"{path.name}*"):
        one.unlink()


def moved(path: Path) -> None:
    path.rename(path.with_name("moved.bench"))


def replaced(path: Path) -> None:
    shutil.copy(path.with_name("older.bench"), path.with_name("scratch"))
    path.with_name("scratch").replace(path)


def written_over(path: Path) -> None:
    shutil.copy(path.with_name("older.bench"), path)
    os.utime(path, ns=(1, 1))  # however coarse the file system's clock is


LOSSES = [removed, removed_with_its_side_files, moved, replaced, written_over]


@pytest.fixture
def open_desk(desk: Desk) -> Desk:
    """A file with an older copy beside it, and changes made since then."""
    add(desk)
    copy_to(desk.store.path, desk.store.path.with_name("older.bench"))
    add(desk)
    return desk


@pytest.mark.parametrize("lose", LOSSES)
def test_nothing_is_written_once_the_file_is_lost(open_desk: Desk, lose: Callable[[Path], None]) -> None:
    path = open_desk.store.path
    lose(path)
    there = path.read_bytes() if path.exists() else None
    with pytest.raises(FileLost, match=str(path)):
        add(open_desk)
    with pytest.raises(FileLost):
        read_queue(open_desk)
    open_desk.store.close()
    assert (path.read_bytes() if path.exists() else None) == there, "what took its place is left as it is"


@pytest.mark.parametrize("lose", LOSSES[:-1])
def test_all_that_was_confirmed_is_saved_from_the_open_handle(
    open_desk: Desk, tmp_path: Path, lose: Callable[[Path], None]
) -> None:
    confirmed = {add(open_desk) for _ in range(3)}
    lose(open_desk.store.path)
    saved = save_what_is_open(open_desk.store, str(tmp_path / "saved.bench"))
    assert tags(saved) >= confirmed
    assert len(tags(saved)) == 5
    with pytest.raises(StoreError, match="there already"):
        save_what_is_open(open_desk.store, str(saved))
    open_existing(saved).close()


def by_an_older_copy(path: Path) -> None:
    shutil.copy(path.with_name("older.bench"), path)


def by_another_workshop(path: Path) -> None:
    other = path.with_name("other.bench")
    open_or_new(other).close()
    shutil.copy(other, path)


def by_what_is_no_database(path: Path) -> None:
    path.write_bytes(b"\x07" * path.stat().st_size)


OVERWRITTEN = [by_an_older_copy, by_another_workshop, by_what_is_no_database]


@pytest.mark.parametrize("carried_over", [False, True])
@pytest.mark.parametrize("overwrite", OVERWRITTEN)
def test_what_was_written_over_is_never_saved_as_what_was_open(
    open_desk: Desk, tmp_path: Path, overwrite: Callable[[Path], None], carried_over: bool
) -> None:
    """`cp other.bench workshop.bench`: the open handle sees what came, in part or whole."""
    path, target = open_desk.store.path, tmp_path / "saved.bench"
    add(open_desk)
    if carried_over:  # nothing of it lies in the side file any more
        assert checkpoint(path)
    overwrite(path)
    os.utime(path, ns=(1, 1))
    for _ in range(2):
        with pytest.raises(FileLost, match="was written over"):
            add(open_desk)
        with pytest.raises(StoreError, match=r"no copy was kept.* The newest copies: "):
            save_what_is_open(open_desk.store, str(target))
        assert not target.exists()
    path.unlink()  # nor once it is gone as well
    with pytest.raises(StoreError, match="no copy was kept"):
        save_what_is_open(open_desk.store, str(target))
    assert not target.exists()


@pytest.mark.parametrize("carried_over", [False, True])
@pytest.mark.parametrize("overwrite", OVERWRITTEN)
def test_what_was_written_over_and_removed_before_anyone_looked_is_whole_or_not_saved(
    open_desk: Desk, tmp_path: Path, overwrite: Callable[[Path], None], carried_over: bool
) -> None:
    path, target = open_desk.store.path, tmp_path / "saved.bench"
    last = add(open_desk)
    if carried_over:
        assert checkpoint(path)
    overwrite(path)
    path.unlink()
    with suppress(StoreError):
        save_what_is_open(open_desk.store, str(target))
    if target.exists():
        assert last in tags(target)
        assert len(tags(target)) == 3
        again = open_existing(target)
        assert check_file(again).sound
        again.close()
    assert not (carried_over and target.exists()), "all of it was in what was written over"


def test_a_file_that_comes_back_is_worked_on(open_desk: Desk) -> None:
    path = open_desk.store.path
    moved(path)
    with pytest.raises(FileLost):
        add(open_desk)
    path.with_name("moved.bench").rename(path)
    assert add(open_desk) in tags(path)


def test_what_other_programs_do_to_the_same_file_is_no_loss(open_desk: Desk, clock: HandSetClock) -> None:
    """Their changes, their carrying over of the side file, and their leaving."""
    path = open_desk.store.path
    for _ in range(3):
        other = open_existing(path)
        add(Desk(other, clock, 1))
        other.close()
        tool = sqlite3.connect(path)
        tool.execute("UPDATE shop SET name = name || '.'")
        tool.commit()
        tool.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        tool.close()
        add(open_desk)
    assert open_desk.store.lost() == ""
    assert len(tags(path)) == 8


def leave_a_log_behind(path: Path, clock: HandSetClock) -> set[str]:
    """Changes that stand in the side file alone, as a killed program leaves them; answers their tags."""
    store = Store(path)
    confirmed = {add(Desk(store, clock, 1)) for _ in range(4)}
    for ending in ("", "-wal", "-shm"):
        shutil.copy(f"{path}{ending}", f"{path}.killed{ending}")
    store.close()
    for ending in ("", "-wal", "-shm"):
        shutil.move(f"{path}.killed{ending}", f"{path}{ending}")
    return confirmed


def test_its_own_log_is_read_in(store: Store, clock: HandSetClock) -> None:
    store.close()
    confirmed = leave_a_log_behind(store.path, clock)
    opened = open_existing(store.path)
    assert opened.notices == ()
    opened.close()
    assert tags(store.path) == confirmed


@pytest.mark.parametrize("in_place", [False, True])
def test_an_older_copy_is_not_ruined_by_the_log_left_beside_it(
    store: Store, clock: HandSetClock, in_place: bool
) -> None:
    path = store.path
    older = {add(Desk(store, clock, 1))}
    store.close()
    copy = Path(shutil.copy(path, path.with_name("older.bench")))
    again = open_existing(path)
    add(Desk(again, clock, 1))
    again.close()
    newer = leave_a_log_behind(path, clock)
    if in_place:
        shutil.copy(copy, path)
    else:
        copy.replace(path)
    opened = open_existing(path)
    assert [notice.count("was left behind") for notice in opened.notices] == [1]
    opened.close()
    assert tags(path) == older
    kept = path.with_name(f"{path.name}-wal.set-aside-1")
    assert any(tag.encode() in kept.read_bytes() for tag in newer)


def test_a_copy_made_by_the_program_never_takes_in_the_log_of_its_original(
    store: Store, clock: HandSetClock
) -> None:
    """Also one that was made while the log that is left now was being written."""
    path = store.path
    older = {add(Desk(store, clock, 1))}
    copy = path.with_name("older.bench")
    copy_to(path, copy)
    store.close()
    leave_a_log_behind(path, clock)
    shutil.copy(copy, path)
    open_existing(path).close()
    assert tags(path) == older


def test_another_workshops_log_is_not_read_in(store: Store, tmp_path: Path, clock: HandSetClock) -> None:
    store.close()
    other = tmp_path / "other.bench"
    open_or_new(other).close()
    leave_a_log_behind(store.path, clock)
    other.replace(store.path)
    opened = open_existing(store.path)
    assert len(opened.notices) == 1
    opened.close()
    assert tags(store.path) == set()


def test_a_new_file_takes_in_no_log_left_behind(store: Store, clock: HandSetClock) -> None:
    store.close()
    leave_a_log_behind(store.path, clock)
    store.path.unlink()
    opened = open_or_new(store.path)
    assert len(opened.notices) == 1
    opened.close()
    assert tags(store.path) == set()


def test_a_journal_that_no_file_with_a_log_has_is_not_played_back(store: Store) -> None:
    """Source: sqlite.org/fileformat2.html, section 1.3.3: in WAL mode there is no rollback journal."""
    store.close()
    strange = store.path.with_name(f"{store.path.name}-journal")
    strange.write_bytes(b"\xd9\xd5\x05\xf9\x20\xa1\x63\xd7" + bytes(600))
    opened = open_existing(store.path)
    assert len(opened.notices) == 1
    opened.close()
    assert not strange.exists()


def test_what_is_read_once_the_file_was_closed_is_no_loss(open_desk: Desk) -> None:
    """As the copy of the day is made: after a command has let go of the file, which carried its log over."""
    open_desk.store.close()
    assert open_desk.store.lost() == ""
    assert read_queue(open_desk).stages
