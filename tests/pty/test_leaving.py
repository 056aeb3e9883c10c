"""However the dashboard is left, the terminal is as it was and what ran runs on."""

from __future__ import annotations

import os
import re
import signal
import sqlite3
import termios
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.pty.program import PROGRAM, did, environment, make_shop
from tests.pty.terminal import Terminal, screen_environment

# Private modes that a full-screen program sets: alternate screen, mouse, focus, bracketed paste.
SET_WHILE_IT_RUNS = ("1049", "1000", "1003", "1006", "1015", "1004", "2004")
CURSOR = "25"


def last_state(raw: bytes, mode: str) -> str:
    """Whether the program last set (h) or reset (l) this private mode; empty when it never did."""
    found = re.findall(rf"\x1b\[\?{mode}([hl])".encode(), raw)
    return found[-1].decode() if found else ""


def assert_sane(terminal: Terminal) -> None:
    assert last_state(terminal.raw, "1049") == "l", "the screen of before is back"
    for mode in SET_WHILE_IT_RUNS:
        assert last_state(terminal.raw, mode) in ("l", ""), f"mode {mode} was left set"
    assert last_state(terminal.raw, CURSOR) == "h", "the cursor shows"
    # Linux answers for the whole terminal when its far end is asked.
    local = termios.tcgetattr(terminal.child.child_fd)[3]
    assert local & termios.ICANON, "lines are read as lines"
    assert local & termios.ECHO, "what is typed shows"
    assert local & termios.ISIG, "Ctrl-C interrupts"


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    return make_shop(tmp_path / "shop.bench")


def dashboard(shop: Path) -> Terminal:
    return Terminal(["--data", str(shop)], screen_environment(shop.parent))


def test_it_changes_the_terminal_while_it_runs(shop: Path) -> None:
    """So that the checks of the others could fail."""
    with dashboard(shop) as terminal:
        terminal.wait_for("My workshop")
        assert last_state(terminal.raw, "1049") == "h"
        assert not termios.tcgetattr(terminal.child.child_fd)[3] & termios.ICANON


@pytest.mark.parametrize(
    "number", [signal.SIGTERM, signal.SIGHUP, signal.SIGINT], ids=["SIGTERM", "SIGHUP", "SIGINT"]
)
def test_a_signal_leaves_the_terminal_sane(shop: Path, number: signal.Signals) -> None:
    with dashboard(shop) as terminal:
        terminal.wait_for("My workshop")
        terminal.signal(number)
        assert terminal.wait_end() == 128 + number
        assert_sane(terminal)


@pytest.mark.parametrize("keys", ["q", "\x11"], ids=["q", "Ctrl-Q"])
def test_a_key_leaves_with_0(shop: Path, keys: str) -> None:
    with dashboard(shop) as terminal:
        terminal.wait_for("My workshop")
        terminal.send(keys)
        assert terminal.wait_end() == 0
        assert_sane(terminal)


def test_a_signal_over_a_dialog_leaves_the_terminal_sane(shop: Path) -> None:
    with dashboard(shop) as terminal:
        terminal.wait_for("My workshop")
        terminal.send("n")
        terminal.wait_for("New unit")
        terminal.signal(signal.SIGTERM)
        assert terminal.wait_end() == 143
        assert_sane(terminal)


def test_a_timer_runs_on(shop: Path) -> None:
    env = environment(shop.parent, BENCH_DATA=str(shop))
    tag = did(env, "add", "Model A", "--route", "clean", "--json").json()["tag"]
    with dashboard(shop) as terminal:
        terminal.wait_for(tag)
        terminal.send("s")
        terminal.wait_for("► 0 min 0")
        terminal.send("q")
        assert terminal.wait_end() == 0
    people = did(env, "queue", "--json").json()["people"]
    assert [one["tag"] for one in people[0]["running"]] == [tag]


def test_a_terminal_that_is_gone_does_not_keep_the_program(shop: Path) -> None:
    """Its window hung, then closed over a half-filled form: drawing has nowhere to go, still it ends."""
    terminal = Terminal(
        ["--data", str(shop)], screen_environment(shop.parent), size="120x36", program=PROGRAM
    )
    terminal.wait_for("My workshop")
    terminal.child.send("n")
    terminal.wait_for("New unit")
    terminal.child.send("half a name, " * 30)
    # From here on nobody takes what it draws.
    assert comes_true(lambda: "name" in drafts_in(shop), seconds=30)
    terminal.child.ptyproc.fileobj.close()
    terminal.child.closed = terminal.child.ptyproc.closed = True  # so that nobody closes its number again
    # Three seconds, and two more for a busy machine.
    ended = comes_true(lambda: os.waitpid(terminal.child.pid, os.WNOHANG)[0] != 0, seconds=5)
    if not ended:
        os.kill(terminal.child.pid, signal.SIGKILL)
        os.waitpid(terminal.child.pid, 0)
    assert ended


def drafts_in(shop: Path) -> str:
    """What half-filled forms the file keeps."""
    connection = sqlite3.connect(shop)
    rows = connection.execute("SELECT body FROM draft").fetchall()
    connection.close()
    return str(rows)


def comes_true(condition: Callable[[], bool], *, seconds: float) -> bool:
    """Whether a condition comes true in that time."""
    deadline = time.monotonic() + seconds
    while time.monotonic() < deadline:
        if condition():
            return True
        time.sleep(0.02)
    return False


def test_it_leaves_one_file_that_a_plain_copy_takes_whole(shop: Path) -> None:
    """Another program has the file open, so that the side file stays: it holds nothing then."""
    env = environment(shop.parent)
    idle = sqlite3.connect(shop, isolation_level=None)
    idle.execute("PRAGMA journal_mode = WAL")
    idle.execute("SELECT name FROM shop").fetchone()
    did(env, "--data", str(shop), "add", "Model A")
    side = shop.with_name(f"{shop.name}-wal")
    assert side.stat().st_size > 0
    with dashboard(shop) as terminal:
        terminal.wait_for("Model A")
        terminal.send("q")
        assert terminal.wait_end() == 0
    assert side.stat().st_size == 0
    plain = shop.with_name("plain.bench")
    plain.write_bytes(shop.read_bytes())
    with sqlite3.connect(plain) as connection:
        assert connection.execute("SELECT model FROM unit").fetchall() == [("Model A",)]
    connection.close()
    idle.close()
