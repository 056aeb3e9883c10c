"""Paths that a data file may and may not have: one sentence each, nothing made, the right file written."""

from __future__ import annotations

import errno
import os
import sqlite3
from pathlib import Path

import pytest

from bench.desk import Desk
from bench.errors import MissingFile, StoreError
from bench.store.files import made_whole
from bench.views.queue import read_queue
from bench.work.files import open_existing, open_or_new
from bench.work.units import add_unit
from tests.clocks import HandSetClock

NAMES = ["a%20b.bench", "what?mode=ro.bench", "#1.bench", "ä ö.bench", "50%.bench", "q?x&y=1"]


@pytest.mark.parametrize("name", [*NAMES, os.fsdecode(b"\xff latin.bench")])
def test_what_is_written_is_read_back_from_the_same_file(
    tmp_path: Path, clock: HandSetClock, fresh_file: Path, name: str
) -> None:
    path = tmp_path / name
    path.write_bytes(fresh_file.read_bytes())
    store = open_existing(path)
    tag = add_unit(Desk(store, clock, 1), maker="", model="M").tag
    assert [row.tag for stage in read_queue(Desk(store, clock, 1)).stages for row in stage.rows] == [tag]
    store.close()
    assert [one.name for one in tmp_path.iterdir()] == [name]


def test_opening_what_is_not_there_makes_nothing(tmp_path: Path) -> None:
    with pytest.raises(MissingFile, match="is not there"):
        open_existing(tmp_path / "below" / "shop.bench")
    assert list(tmp_path.iterdir()) == []


def test_an_open_file_that_is_gone_is_not_made_again(desk: Desk) -> None:
    desk.store.path.unlink()
    with pytest.raises(StoreError):
        add_unit(desk, maker="", model="M")
    assert not desk.store.path.exists()


def test_a_named_pipe_is_refused_without_waiting_for_it(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(StoreError, match="no ordinary file"):
        open_or_new(tmp_path / "pipe")


@pytest.mark.parametrize("name", ["n" * 256, "n" * 250, "ü" * 128, "nul\0.bench"])
def test_a_name_that_no_file_can_have_is_one_sentence(tmp_path: Path, name: str) -> None:
    """255 bytes: NAME_MAX of ext4, XFS, APFS and NTFS in UTF-16 units; SQLite adds -journal to the name."""
    with pytest.raises(StoreError, match="cannot be a data file"):
        open_or_new(tmp_path / name)
    assert list(tmp_path.iterdir()) == []


def test_the_longest_name_that_leaves_room_for_side_files_works(tmp_path: Path) -> None:
    open_or_new(tmp_path / ("n" * 247)).close()
    assert [one.name for one in tmp_path.iterdir()] == ["n" * 247]


@pytest.mark.parametrize("number", [errno.EPERM, errno.EOPNOTSUPP, errno.ENOSYS])
def test_a_file_system_without_hard_links_gets_its_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    def no_links(*_: object) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr("os.link", no_links)
    open_or_new(tmp_path / "shop.bench").close()
    assert [one.name for one in tmp_path.iterdir()] == ["shop.bench"]
    with made_whole(tmp_path / "one") as scratch:
        scratch.write_text("second")
        (tmp_path / "one").write_text("first")
    assert (tmp_path / "one").read_text() == "first"


def test_an_exclusively_locked_file_is_busy_and_not_damaged(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("bench.store.connecting.PATIENCE_SECONDS", 0.01)
    other = sqlite3.connect(desk.store.path, isolation_level=None)
    desk.store.close()
    other.execute("PRAGMA locking_mode = EXCLUSIVE")
    other.execute("UPDATE shop SET name = 'Held'")
    try:
        with pytest.raises(StoreError, match="is busy") as told:
            open_existing(desk.store.path)
    finally:
        other.close()
    assert "backup" not in str(told.value)
    open_existing(desk.store.path).close()
