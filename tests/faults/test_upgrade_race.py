"""Several programs that bring one old file up to date at once: done once, and what was before is kept."""

from __future__ import annotations

import sqlite3
import subprocess
import sys
import time
from contextlib import suppress
from pathlib import Path

from bench.domain.copies import BEFORE_UPGRADE
from bench.store.beside import locked_beside
from bench.store.copies import copies_folder, copies_of, make_copy
from bench.store.files import revision_of
from bench.store.revision import HEAD
from bench.store.upgrade import upgrade
from tests.pty.program import environment
from tests.store.old_files import OLD, old_file

ROOT = Path(__file__).parents[2]
PROGRAMS = 4
LONGEST_SECONDS = 60


def names_in(folder: Path) -> list[str]:
    return sorted(one.name for one in folder.iterdir() if one.is_file())


def test_four_programs_at_once_keep_one_backup(tmp_path: Path) -> None:
    path = old_file(tmp_path / "old.bench")
    earlier = copies_folder(path) / make_copy(path, BEFORE_UPGRADE, 0).name
    was = earlier.read_bytes()
    command = [sys.executable, "-m", "bench", "--data", str(path), "people"]
    with locked_beside(path):  # all have seen the old revision before the first may begin
        programs = [
            subprocess.Popen(
                command, env=environment(tmp_path), stdout=subprocess.PIPE, stderr=subprocess.PIPE, cwd=ROOT
            )
            for _ in range(PROGRAMS)
        ]
        for program in programs:
            wait_until_it_waits(program.pid, tmp_path / ".old.bench.lock")
    said = [program.communicate(timeout=60) for program in programs]
    assert [program.returncode for program in programs] == [0] * PROGRAMS
    assert [out for out, _ in said] == [b"Ada\n"] * PROGRAMS
    assert names_in(tmp_path) == ["old.bench"]
    assert earlier.read_bytes() == was
    newest, before = copies_of(path)
    assert (newest.why, before.name) == (BEFORE_UPGRADE, earlier.name)
    kept = copies_folder(path) / newest.name
    assert (revision_of(path), revision_of(kept)) == (HEAD, OLD)
    told = [err.decode() for _, err in said if err]
    assert len(told) == 1, "the one that did it says where the file lies as it was before"
    assert str(kept) in told[0]


def wait_until_it_waits(pid: int, lock: Path) -> None:
    """Until the program has the lock's file open, which it opens again and again while it waits."""
    deadline = time.monotonic() + LONGEST_SECONDS
    while time.monotonic() < deadline:
        for opened in Path(f"/proc/{pid}/fd").iterdir():
            with suppress(FileNotFoundError):
                if opened.readlink() == lock:
                    return
        time.sleep(0)  # the program needs the processor too
    raise AssertionError("it never came to wait")


def test_a_second_upgrade_finds_nothing_to_do(tmp_path: Path) -> None:
    path = old_file(tmp_path / "old.bench")
    kept = upgrade(path)
    assert kept == copies_folder(path) / copies_of(path)[0].name
    before = path.read_bytes(), copies_of(path)
    assert upgrade(path) is None
    assert (path.read_bytes(), copies_of(path)) == before


def test_the_log_of_an_upgrade_that_was_killed_is_the_files_own(tmp_path: Path) -> None:
    """The file still of the old revision, the whole upgrade in its side file: read in, not set aside."""
    from bench.store.side_files import log_is_its_own

    path = old_file(tmp_path / "old.bench")
    reader = sqlite3.connect(path, isolation_level=None)
    reader.execute("BEGIN")
    reader.execute("SELECT * FROM shop").fetchall()  # holds the carrying over back
    before = path.read_bytes()
    upgrade(path)
    log = Path(f"{path}-wal").read_bytes()
    reader.close()
    killed = tmp_path / "killed.bench"
    killed.write_bytes(before)
    Path(f"{killed}-wal").write_bytes(log)
    assert revision_without_log(killed) == OLD
    assert log_is_its_own(killed)
    assert revision_of(killed) == HEAD


def revision_without_log(path: Path) -> str:
    connection = sqlite3.connect(f"{path.as_uri()}?immutable=1", uri=True)
    found = connection.execute("SELECT version_num FROM alembic_version").fetchone()[0]
    connection.close()
    return str(found)
