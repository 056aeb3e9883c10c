"""Copies where the folder cannot be written, the disk is full, or the program is killed on the way."""

from __future__ import annotations

import random
import sqlite3
import subprocess
import sys
import time
from pathlib import Path

import pytest

from bench.store.copies import copies_folder, copies_of, problem_of
from tests.faults.test_disk import FILE_ERROR, _fill, _tags, own_folder, read_only, small_disk
from tests.pty.program import did, environment, make_shop, refused, run

ROOT = Path(__file__).parents[2]
KILLS = 8
_LONGEST_SECONDS = 0.15  # from the first byte written; a copy or a restore of this file takes less


def test_a_workshop_in_a_folder_that_cannot_be_written_is_copied_elsewhere(tmp_path: Path) -> None:
    env = environment(tmp_path)
    with own_folder(tmp_path / "disk") as disk:
        path = make_shop(disk / "shop.bench")
        did(env, "--data", str(path), "add", "a unit")
        kept = copies_of(path)
        with read_only(disk):
            target = tmp_path / "elsewhere.bench"
            assert str(target) in did(env, "--data", str(path), "backup", str(target)).out
            sentence = refused(env, "--data", str(path), "backup", code=FILE_ERROR)
            assert sentence.startswith("bench: No copy was made.")
            assert did(env, "--data", str(path), "restore").out.count(".bench  ") == len(kept)
            refused(env, "--data", str(path), "restore", str(target), code=FILE_ERROR)
        assert _tags(target) == _tags(path) != set()
        assert copies_of(path) == kept


def test_a_copy_that_does_not_fit_leaves_no_half_of_it(tmp_path: Path) -> None:
    env = environment(tmp_path)
    with small_disk(tmp_path / "disk") as disk:
        path = make_shop(disk / "shop.bench")
        filler = _fill(disk, leave=150_000)
        sentence = refused(env, "--data", str(path), "backup", code=FILE_ERROR)
        assert "No copy was made. There is no room left" in sentence
        ran = run(env, "--data", str(path), "add", "a unit")
        assert ran.code == 0
        assert "the copy of the day failed: No copy was made. There is no room left" in ran.err
        assert list(copies_folder(path).iterdir()) == []
        filler.unlink()
        did(env, "--data", str(path), "backup")
        assert _tags(path) == _tags(copies_folder(path) / copies_of(path)[0].name) != set()


@pytest.fixture
def large(tmp_path: Path) -> Path:
    """A file whose copying takes long enough to be killed in."""
    path = make_shop(tmp_path / "shop.bench")
    connection = sqlite3.connect(path)
    connection.execute("CREATE TABLE filling (id INTEGER PRIMARY KEY, content BLOB)")
    connection.executemany("INSERT INTO filling (content) VALUES (zeroblob(?))", [(1_000_000,)] * 12)
    connection.commit()
    connection.close()
    return path


def _kill_on_the_way(code: str, *arguments: str) -> bool:
    """Run a program that prints a line before it begins, kill it soon after; answers whether it had ended."""
    started = subprocess.Popen(
        [sys.executable, "-c", code, *arguments], stdout=subprocess.PIPE, cwd=ROOT, text=True
    )
    assert started.stdout is not None
    assert started.stdout.readline() == "begins\n"
    time.sleep(random.uniform(0, _LONGEST_SECONDS))  # at any instant: that is what is under test
    ended = started.poll() is not None
    started.kill()
    started.communicate(timeout=30)
    return ended


def test_a_program_killed_while_it_copies_leaves_only_whole_copies(large: Path) -> None:
    code = (
        "import pathlib, sys\n"
        "from bench.store.copies import make_copy\n"
        "print('begins', flush=True)\n"
        "make_copy(pathlib.Path(sys.argv[1]), 'daily', int(sys.argv[2]) * 86_400_000_000)\n"
    )
    for number in range(KILLS):
        _kill_on_the_way(code, str(large), str(20_000 + number))
        for one in copies_of(large):
            assert problem_of(copies_folder(large) / one.name) == ""
    assert problem_of(large) == ""


def test_a_program_killed_while_it_restores_leaves_the_one_or_the_other(large: Path) -> None:
    source = large.with_name("source.bench")
    did(environment(large.parent), "--data", str(large), "backup", str(source))
    before, restored = large.stat().st_ino, 0
    code = (
        "import pathlib, sys\n"
        "from bench.store.restoring import Line, restore\n"
        "print('begins', flush=True)\n"
        "restore(*map(pathlib.Path, sys.argv[1:3]), int(sys.argv[3]) * 86_400_000_000,"
        " lambda _: Line(1, 'Put back'))\n"
    )
    for number in range(KILLS):
        _kill_on_the_way(code, str(large), str(source), str(20_000 + number))
        assert problem_of(large) == ""
        assert _tags(large) == set()
        if large.stat().st_ino != before:
            before, restored = large.stat().st_ino, restored + 1
            assert copies_of(large), "what was replaced was copied first"
        for one in copies_of(large):
            assert problem_of(copies_folder(large) / one.name) == ""
    did(environment(large.parent), "--data", str(large), "restore", str(source))
    assert not list(large.parent.glob("*.replaced*"))
