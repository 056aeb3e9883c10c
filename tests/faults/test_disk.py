"""A full disk, a file that may not grow, a folder that may not be written: one sentence, nothing lost."""

from __future__ import annotations

import os
import resource
import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from bench.domain.copies import BEFORE_UPGRADE
from bench.errors import StoreError
from bench.store.copies import copies_folder, copy_to, make_copy
from tests.pty.program import did, environment, make_shop, refused, run

FILE_ERROR = 6
SMALL_DISK = "3300k"  # room for a new shop, its log and two copies of it
ROOM_TO_OPEN = 48 * 1024  # SQLite's shared index takes 32 KiB, the write itself would take more than the rest
MOST_ADDS = 3000


@contextmanager
def small_disk(folder: Path) -> Iterator[Path]:
    """A file system of its own with little room. Only root may make one: elsewhere the test is skipped."""
    folder.mkdir()
    mounted = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", f"size={SMALL_DISK}", "tmpfs", str(folder)],
        capture_output=True,
        check=False,
    )
    if mounted.returncode != 0:
        pytest.skip("a small file system can only be mounted by root")
    try:
        yield folder
    finally:
        subprocess.run(["umount", str(folder)], check=True)


def _tags(path: Path) -> set[str]:
    with sqlite3.connect(path) as connection:
        assert connection.execute("PRAGMA integrity_check").fetchone()[0] == "ok"
        tags = {row[0] for row in connection.execute("SELECT tag FROM unit")}
    connection.close()
    return tags


def _fill(folder: Path, leave: int) -> Path:
    """Take up the room but for so many bytes."""
    free = os.statvfs(folder).f_bavail * os.statvfs(folder).f_frsize
    filler = folder / "filler"
    filler.write_bytes(b"\0" * (free - leave))
    return filler


def test_a_full_disk_keeps_what_was_there(tmp_path: Path) -> None:
    env = environment(tmp_path)
    with small_disk(tmp_path / "disk") as disk:
        path = make_shop(disk / "shop.bench")
        at = ("--data", str(path))
        kept = {did(env, *at, "add", f"unit {number}", "--json").json()["tag"] for number in range(3)}
        filler = _fill(disk, leave=ROOM_TO_OPEN)
        sentence = refused(env, *at, "add", "x" * 150, "--note", "y" * 9000, code=FILE_ERROR)
        assert "no room left" in sentence
        assert "Nothing was changed" in sentence
        filler.unlink()
        assert _tags(path) == kept
        kept.add(did(env, *at, "add", "after", "--json").json()["tag"])
        assert _tags(path) == kept


def test_a_disk_too_full_to_open_the_file_says_so(tmp_path: Path) -> None:
    env = environment(tmp_path)
    with small_disk(tmp_path / "disk") as disk:
        path = make_shop(disk / "shop.bench")
        did(env, "--data", str(path), "add", "a unit")
        before = path.read_bytes()
        filler = _fill(disk, leave=4096)
        assert "disk is full" in refused(env, "--data", str(path), "people", code=FILE_ERROR)
        assert path.read_bytes() == before
        filler.unlink()
        did(env, "--data", str(path), "people")


def test_a_backup_that_does_not_fit_leaves_no_half_of_it(tmp_path: Path) -> None:
    with small_disk(tmp_path / "disk") as disk:
        path = make_shop(disk / "shop.bench")
        did(environment(tmp_path), "--data", str(path), "add", "a unit")
        there = {one.name for one in copies_folder(path).iterdir()}
        filler = _fill(disk, leave=100_000)
        with pytest.raises(StoreError, match="no room left"):
            make_copy(path, BEFORE_UPGRADE, 0)
        assert {one.name for one in copies_folder(path).iterdir()} == there
        filler.unlink()
        kept = copies_folder(path) / make_copy(path, BEFORE_UPGRADE, 0).name
        assert _tags(kept) == _tags(path) != set()


def test_a_disk_that_fills_up_on_the_way_keeps_every_confirmed_unit(tmp_path: Path) -> None:
    with small_disk(tmp_path / "disk") as disk:
        path = make_shop(disk / "shop.bench")
        confirmed, sentence = _add_until_refused(path)
        assert "no room left" in sentence
        assert len(confirmed) > 5
        assert _tags(path) >= confirmed


def test_a_first_start_on_a_full_disk_leaves_nothing_half_made(tmp_path: Path) -> None:
    with small_disk(tmp_path / "disk") as disk:
        filler = _fill(disk, leave=40_000)
        path = disk / "shop.bench"
        refused(environment(tmp_path), "--data", str(path), "--new", "add", "T1", code=FILE_ERROR)
        assert [one.name for one in disk.iterdir()] == ["filler"]
        filler.unlink()
        did(environment(tmp_path), "--data", str(path), "--new", "add", "a unit")


def test_a_file_that_may_not_grow_keeps_every_confirmed_unit(tmp_path: Path) -> None:
    """RLIMIT_FSIZE: the system refuses the write itself, as a quota or a failing disk does."""
    path = make_shop(tmp_path / "shop.bench")
    confirmed, sentence = _add_until_refused(path, limit=path.stat().st_size + 400_000)
    assert str(path) in sentence
    assert "Nothing was changed" in sentence
    assert len(confirmed) > 5
    assert _tags(path) >= confirmed
    did(environment(tmp_path), "--data", str(path), "add", "after")


def _add_until_refused(path: Path, limit: int = 0) -> tuple[set[str], str]:
    """Add units until one is refused; answers the confirmed tags and the sentence."""
    script = (
        "import sys, pathlib\n"
        "from bench.errors import StoreError\n"
        "from bench.desk import Desk, SystemClock\n"
        "from bench.work.files import open_or_new\n"
        "from bench.work.units import add_unit\n"
        "desk = Desk(open_or_new(pathlib.Path(sys.argv[1])), SystemClock(), 1, 'command')\n"
        f"for number in range({MOST_ADDS}):\n"
        "    try: print(add_unit(desk, maker='', model='m', note='n' * 9000, route_id=1).tag, flush=True)\n"
        "    except StoreError as error: sys.exit(str(error))\n"
    )

    def keep_small() -> None:
        if limit:
            resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))

    done = subprocess.run(
        [sys.executable, "-c", script, str(path)],
        capture_output=True,
        text=True,
        preexec_fn=keep_small,
        timeout=120,
        check=False,
    )
    assert done.returncode == 1, f"{MOST_ADDS} units fitted, or something else broke: {done.stderr[-2000:]}"
    assert done.stderr.count("\n") == 1, done.stderr
    return set(done.stdout.split()), done.stderr


@contextmanager
def read_only(folder: Path) -> Iterator[None]:
    """A folder that may not be written, root or not."""
    if os.geteuid() != 0:
        folder.chmod(0o555)
        try:
            yield
        finally:
            folder.chmod(0o755)
        return
    subprocess.run(["mount", "-o", "remount,ro", str(folder)], check=True)
    try:
        yield
    finally:
        subprocess.run(["mount", "-o", "remount,rw", str(folder)], check=True)


@contextmanager
def own_folder(folder: Path) -> Iterator[Path]:
    """For root a file system of its own, so that it can be made read-only."""
    if os.geteuid() != 0:
        folder.mkdir()
        yield folder
        return
    with small_disk(folder) as disk:
        yield disk


def test_a_read_only_folder_gets_no_new_file(tmp_path: Path) -> None:
    with own_folder(tmp_path / "disk") as disk, read_only(disk):
        sentence = refused(
            environment(tmp_path), "--data", str(disk / "shop.bench"), "--new", "add", "T1", code=FILE_ERROR
        )
        assert str(disk / "shop.bench") in sentence
        assert list(disk.iterdir()) == []


def test_a_file_in_a_read_only_folder_is_left_as_it_is(tmp_path: Path) -> None:
    env = environment(tmp_path)
    with own_folder(tmp_path / "disk") as disk:
        path = make_shop(disk / "shop.bench")
        tag = did(env, "--data", str(path), "add", "a unit", "--json").json()["tag"]
        before = path.read_bytes(), path.stat().st_mtime_ns
        with read_only(disk):
            for command in ("queue", "people", "journal", "check"):
                assert did(env, "--data", str(path), command).out
            sentence = refused(env, "--data", str(path), "add", "another", code=FILE_ERROR)
            assert str(path) in sentence
            copy_to(path, tmp_path / "copy.bench")
        assert _tags(tmp_path / "copy.bench") == {tag}
        assert (path.read_bytes(), path.stat().st_mtime_ns) == before
        did(env, "--data", str(path), "add", "another")


def test_a_data_path_below_a_file_is_refused(tmp_path: Path) -> None:
    (tmp_path / "plain").write_text("not a folder")
    sentence = refused(environment(tmp_path), "--data", str(tmp_path / "plain" / "x.bench"), "stock", code=6)
    assert "x.bench" in sentence


def _left_by_a_killed_program(path: Path, *, shared_index: bool) -> str:
    """A unit whose row lies in the side file alone, as a killed program leaves it; answers its tag."""
    code = (
        "import os, pathlib, sys\n"
        "from bench.desk import Desk, SystemClock\n"
        "from bench.work.files import open_existing\n"
        "from bench.work.units import add_unit\n"
        "desk = Desk(open_existing(pathlib.Path(sys.argv[1])), SystemClock(), 1)\n"
        "print(add_unit(desk, maker='', model='in the side file').tag, flush=True)\n"
        "os._exit(9)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, str(path)], capture_output=True, text=True, check=False
    )
    assert done.returncode == 9, done.stderr
    assert path.with_name(f"{path.name}-wal").stat().st_size > 0
    if not shared_index:
        path.with_name(f"{path.name}-shm").unlink()
    return done.stdout.strip()


def _all_in(folder: Path) -> dict[str, bytes]:
    return {one.name: one.read_bytes() for one in folder.iterdir() if one.is_file()}


@pytest.mark.parametrize("shared_index", [True, False])
def test_a_side_file_left_in_a_read_only_folder_is_read_checked_and_copied(
    tmp_path: Path, shared_index: bool
) -> None:
    env = environment(tmp_path)
    with own_folder(tmp_path / "disk") as disk:
        path = make_shop(disk / "shop.bench")
        tag = _left_by_a_killed_program(path, shared_index=shared_index)
        before = _all_in(disk)
        with read_only(disk):
            for command in (["queue"], ["unit", tag], ["journal"]):
                assert "in the side file" in did(env, "--data", str(path), *command).out
            did(env, "--data", str(path), "export", "--json", str(tmp_path / "all.json"))
            assert "in the side file" in (tmp_path / "all.json").read_text()
            checked = did(env, "--data", str(path), "check", "--json").json()
            assert (checked["integrity"], checked["record"]["lines"]) == ("ok", 2)
            copy = tmp_path / "copy.bench"
            assert "verified" in did(env, "--data", str(path), "backup", str(copy)).out
            assert str(path) in refused(env, "--data", str(path), "backup", code=FILE_ERROR)
            assert str(path) in refused(env, "--data", str(path), "add", "another", code=FILE_ERROR)
        assert _all_in(disk) == before
        assert _tags(copy) == {tag}
        did(env, "--data", str(path), "add", "another")
        assert len(_tags(path)) == 2


def test_another_files_log_left_in_a_read_only_folder_is_told_and_not_read_in(tmp_path: Path) -> None:
    env = environment(tmp_path)
    with own_folder(tmp_path / "disk") as disk:
        path = make_shop(disk / "shop.bench")
        other = make_shop(disk / "other.bench")
        _left_by_a_killed_program(other, shared_index=False)
        tag = did(env, "--data", str(path), "add", "a unit", "--json").json()["tag"]
        other.with_name("other.bench-wal").rename(path.with_name("shop.bench-wal"))
        other.unlink()
        before = _all_in(disk)
        with read_only(disk):
            for command in (["queue"], ["check"], ["backup", str(tmp_path / "copy.bench")]):
                said = run(env, "--data", str(path), *command)
                assert (said.code, said.err.count("\n")) == (0, 1), said
                assert "was not read in" in said.err
                assert "in the side file" not in said.out
        assert _all_in(disk) == before
        assert _tags(tmp_path / "copy.bench") == {tag}
