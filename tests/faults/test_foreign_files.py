"""Files that are not ours, or not whole, or newer: refused in one sentence and left byte for byte."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.pty.program import environment, make_shop, refused
from tests.pty.terminal import Terminal, screen_environment

FILE_ERROR = 6


def _foreign(path: Path) -> None:
    with sqlite3.connect(path) as connection:
        connection.execute("PRAGMA application_id = 305419896")
        connection.execute("CREATE TABLE unit (id INTEGER)")
    connection.close()


def _empty(path: Path) -> None:
    path.touch()


def _text(path: Path) -> None:
    path.write_text("Dear reader,\n" * 200)


def _truncated(path: Path) -> None:
    make_shop(path)
    path.write_bytes(path.read_bytes()[:5000])


def _header_only(path: Path) -> None:
    make_shop(path)
    path.write_bytes(path.read_bytes()[:100])


def _newer(path: Path) -> None:
    make_shop(path)
    connection = sqlite3.connect(path)
    with connection:
        connection.execute("UPDATE alembic_version SET version_num = '9999'")
    connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    connection.close()


MADE = [_foreign, _empty, _text, _truncated, _header_only, _newer]
NAMES = [make.__name__.strip("_") for make in MADE]


@pytest.mark.parametrize("make", MADE, ids=NAMES)
@pytest.mark.parametrize("command", [["stock"], ["add", "T1"]], ids=["stock", "add"])
def test_a_command_refuses_it_and_leaves_it(
    tmp_path: Path, make: Callable[[Path], None], command: list[str]
) -> None:
    path = tmp_path / "shop.bench"
    make(path)
    before = path.read_bytes(), path.stat().st_mtime_ns
    sentence = refused(environment(tmp_path), "--data", str(path), *command, code=FILE_ERROR)
    assert str(path) in sentence
    assert (path.read_bytes(), path.stat().st_mtime_ns) == before
    assert [one.name for one in tmp_path.iterdir()] == ["shop.bench"], "nothing was left beside it"


@pytest.mark.parametrize("make", MADE, ids=NAMES)
def test_the_dashboard_refuses_it_before_it_touches_the_terminal(
    tmp_path: Path, make: Callable[[Path], None]
) -> None:
    path = tmp_path / "shop.bench"
    make(path)
    before = path.read_bytes(), path.stat().st_mtime_ns
    with Terminal(["--data", str(path)], screen_environment(tmp_path)) as terminal:
        assert terminal.wait_end() == FILE_ERROR
    assert terminal.raw.count(b"\n") == 1
    assert terminal.raw.startswith(b"bench: ")
    assert b"\x1b" not in terminal.raw
    assert (path.read_bytes(), path.stat().st_mtime_ns) == before


def test_the_sentence_says_which_it_is(tmp_path: Path) -> None:
    path = tmp_path / "shop.bench"
    _newer(path)
    assert "newer" in refused(environment(tmp_path), "--data", str(path), "stock", code=FILE_ERROR)
    path.unlink()
    _text(path)
    assert "not a bench data file" in refused(
        environment(tmp_path), "--data", str(path), "stock", code=FILE_ERROR
    )


def test_a_folder_is_no_data_file(tmp_path: Path) -> None:
    assert "folder" in refused(environment(tmp_path), "--data", str(tmp_path), "stock", code=FILE_ERROR)
