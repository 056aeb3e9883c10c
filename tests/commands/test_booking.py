"""What was booked is said also where it cannot be printed, and a script's key books once."""

from __future__ import annotations

import json
import os
import sqlite3
import subprocess
from pathlib import Path
from threading import Barrier, Thread
from typing import Any

import pytest

from tests.pty.program import PROGRAM, Ran, environment, make_shop
from tests.pty.warm import run_warm
from tests.test_cli import Did, Refused

BOOKED = 7
CLOSED_PIPE = 141


def _units(path: Path) -> list[str]:
    with sqlite3.connect(path) as connection:
        models = [row[0] for row in connection.execute("SELECT model FROM unit ORDER BY id")]
    connection.close()
    return models


def _run_into(target: int, path: Path, *arguments: str) -> Ran:
    """Run the program with its output going to an open file or pipe."""
    code, _, err = run_warm(environment(path.parent), ["--data", str(path), *arguments], 60, into=target)
    return Ran(code, "", err.decode())


@pytest.fixture
def full() -> Any:
    """A device on which nothing can be written, as on a full disk."""
    if not Path("/dev/full").exists():
        pytest.skip("this system has no /dev/full")
    handle = os.open("/dev/full", os.O_WRONLY)
    yield handle
    os.close(handle)


@pytest.fixture
def closed_pipe() -> Any:
    """A pipe whose reader is gone."""
    reader, writer = os.pipe()
    os.close(reader)
    yield writer
    os.close(writer)


@pytest.mark.parametrize("form", [(), ("--json",)])
def test_what_is_booked_but_not_printed_says_so(tmp_path: Path, full: int, form: tuple[str, ...]) -> None:
    path = make_shop(tmp_path / "shop.bench")
    ran = _run_into(full, path, "add", "Model A", *form)
    assert ran.code == BOOKED
    assert ran.err.count("\n") == 1, ran.err
    assert ran.err.startswith("bench: Booked: Added 10014"), ran.err
    assert "could not be printed (No space left on device)" in ran.err
    assert _units(path) == ["Model A"]


def test_what_is_booked_into_a_closed_pipe_says_so(tmp_path: Path, closed_pipe: int) -> None:
    path = make_shop(tmp_path / "shop.bench")
    ran = _run_into(closed_pipe, path, "add", "Model A")
    assert ran.code == BOOKED
    assert ran.err.startswith("bench: Booked: Added 10014"), ran.err
    assert _units(path) == ["Model A"]


def test_what_is_only_shown_keeps_its_own_codes(tmp_path: Path, full: int, closed_pipe: int) -> None:
    path = make_shop(tmp_path / "shop.bench")
    ran = _run_into(full, path, "people")
    assert (ran.code, ran.err) == (
        1,
        "bench: The answer could not be printed (No space left on device). Nothing was booked.\n",
    )
    assert _run_into(closed_pipe, path, "people") == Ran(CLOSED_PIPE, "", "")


def test_a_refusal_is_a_refusal_where_nothing_can_be_printed(tmp_path: Path, full: int) -> None:
    path = make_shop(tmp_path / "shop.bench")
    ran = _run_into(full, path, "hold", "99999999", "why")
    assert ran.code in (2, 3)
    assert "Booked" not in ran.err


def test_a_closed_standard_output_is_no_failure(tmp_path: Path) -> None:
    path = make_shop(tmp_path / "shop.bench")
    command = f"exec {' '.join(PROGRAM)} --data {path} add 'Model A' >&-"
    done = subprocess.run(
        ["sh", "-c", command], env=environment(tmp_path), capture_output=True, timeout=60, check=False
    )
    assert (done.returncode, done.stderr) == (0, b"")
    assert _units(path) == ["Model A"]


def _journal(did: Did) -> list[Any]:
    return list(json.loads(did("journal", "--json"))["lines"])


def test_a_repeat_with_the_same_key_books_nothing(did: Did, path: Path) -> None:
    first = did("--once", "order-7", "add", "Model A")
    before = _journal(did)
    again = did("--once=order-7", "add", "Model A")
    assert first.startswith("Added Model A as 10014")
    assert again.startswith("Booked already, ")
    assert "Added 10014" in again
    assert _units(path) == ["Model A"]
    assert _journal(did) == before


def test_a_repeat_answers_a_script_as_json(did: Did, path: Path) -> None:
    tag = json.loads(did("--once", "order-7", "add", "Model A", "--json"))["tag"]
    again = json.loads(did("--once", "order-7", "add", "Model A", "--json"))
    assert (again["document"], again["tag"], again["undone"]) == ("booked_already", tag, False)
    assert again["summary"].startswith("Added 10014")
    assert _units(path) == ["Model A"]


def test_another_command_may_not_use_the_key(did: Did, refused: Refused, path: Path) -> None:
    did("--once", "order-7", "add", "Model A")
    assert "another command" in refused(2, "--once", "order-7", "add", "Model B")
    assert _units(path) == ["Model A"]
    did("--once", "order-8", "add", "Model B")
    assert _units(path) == ["Model A", "Model B"]


def test_another_person_may_not_use_the_key(did: Did, refused: Refused) -> None:
    did("people", "--add", "Bo")
    did("--person", "Ada", "--once", "k", "add", "Model A")
    assert "another command" in refused(2, "--person", "Bo", "--once", "k", "add", "Model A")


def test_a_refused_command_leaves_its_key_free(did: Did, refused: Refused, path: Path) -> None:
    refused(2, "--once", "k", "add", "Model A", "--price", "much")
    did("--once", "k", "add", "Model A")
    assert _units(path) == ["Model A"]


def test_a_repeat_of_what_could_not_be_done_twice_is_booked_already(did: Did) -> None:
    """Holding a held unit is refused, and so is stopping a stopped timer: the key is looked at first."""
    tag = json.loads(did("add", "Model A", "--json"))["tag"]
    did("--once", "h", "hold", tag, "part on order")
    assert did("--once", "h", "hold", tag, "part on order").startswith("Booked already, ")


def test_what_was_undone_since_is_said(did: Did, path: Path) -> None:
    did("--once", "k", "add", "Model A")
    did("undo")
    assert "undone since" in did("--once", "k", "add", "Model A")


def test_the_steps_of_one_command_share_one_key(did: Did) -> None:
    tag = json.loads(did("add", "Model A", "--json"))["tag"]
    did("drive", "--model", "Disk")
    both = ("drive", tag, "--move", "d1", "--cost", "0", "--model", "Disk 2")
    did("--once", "k", *both)
    assert did("--once", "k", *both).startswith("Booked already, ")


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--once", "k", "people"), "books nothing"),
        (("--once", "k"), "books nothing"),
        (("--once", " ", "add", "Model A"), "empty"),
        (("--once", "k" * 101, "add", "Model A"), "100"),
    ],
)
def test_a_key_that_is_of_no_use_is_refused(refused: Refused, arguments: tuple[str, ...], said: str) -> None:
    assert said in refused(2, *arguments)


def test_keys_and_their_lines_are_never_changed(did: Did, path: Path) -> None:
    did("--once", "k", "add", "Model A")
    with sqlite3.connect(path) as connection:
        for statement in ("UPDATE booking_key SET asked = ''", "DELETE FROM booking_key"):
            with pytest.raises(sqlite3.IntegrityError, match="key"):
                connection.execute(statement)
    connection.close()


def test_of_programs_at_once_with_one_key_one_books(tmp_path: Path) -> None:
    path = make_shop(tmp_path / "shop.bench")
    ready, ran = Barrier(4), []

    def go() -> None:
        ready.wait()
        done = subprocess.run(
            [*PROGRAM, "--data", str(path), "--once", "k", "add", "Model A"],
            env=environment(tmp_path),
            capture_output=True,
            timeout=60,
            check=False,
        )
        ran.append((done.returncode, done.stdout.decode()[:6]))

    threads = [Thread(target=go) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(ran) == [(0, "Added "), (0, "Booked"), (0, "Booked"), (0, "Booked")]
    assert _units(path) == ["Model A"]
