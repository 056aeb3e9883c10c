"""The real program where its surroundings are odd: the terminal, its bytes, its size, the shell around it."""

from __future__ import annotations

import os
import re
import signal
import stat
import time
from pathlib import Path

import pexpect
import pytest

from tests.pty.program import PROGRAM, environment, make_shop
from tests.pty.terminal import Terminal, screen_environment
from tests.pty.test_leaving import assert_sane, comes_true

BREAKS = """
import sys
from bench.dashboard.widgets.top_line import TopLine
TopLine.on_click = lambda self: 1 / 0
from bench.__main__ import main
main()
"""


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    return make_shop(tmp_path / "shop.bench")


def dashboard(shop: Path, size: str = "80x24") -> Terminal:
    return Terminal(["--data", str(shop)], screen_environment(shop.parent), size=size)


@pytest.mark.parametrize("term", ["dumb", "unknown", None])
def test_a_terminal_without_a_screen_gets_one_sentence(shop: Path, term: str | None) -> None:
    env = environment(shop.parent) | ({"TERM": term} if term else {})
    out, code = pexpect.run(
        " ".join([*PROGRAM, "--data", str(shop)]), env=env, withexitstatus=True, timeout=20
    )
    assert code == 2
    assert out.count(b"\n") == 1
    assert b"TERM is " + (term or "not set").encode() in out


def test_broken_bytes_and_old_mouse_reports_are_skipped(shop: Path) -> None:
    with dashboard(shop) as terminal:
        terminal.wait_for("My workshop")
        terminal.child.send(b"\xff\xc3(\x1b[M \xff\xffn")
        terminal.wait_for("New unit")


def test_escape_sequences_in_a_paste_press_no_key(shop: Path) -> None:
    with dashboard(shop) as terminal:
        terminal.wait_for("My workshop")
        terminal.send("n")
        terminal.wait_for("New unit")
        terminal.child.send(
            b"\x1b[200~Pasted\x1b\x1b[24~ mo\x1bdel\x1b[99999999999999999999999999999999q\x1b[201~"
        )
        terminal.wait_for("New unit", "Pasted moel")


def test_below_the_least_size_no_key_acts(shop: Path) -> None:
    with dashboard(shop) as terminal:
        terminal.wait_for("My workshop")
        terminal.child.setwinsize(10, 40)
        terminal.wait_for("too small")
        terminal.send("n")
        # A key that is still on its way when the window has grown is a key like any other: it is taken first,
        # and the next drawing is behind it.
        terminal.wait_taken()
        drawn = terminal.raw.count(b"too small")
        terminal.child.setwinsize(11, 44)
        terminal.wait_until(lambda _: terminal.raw.count(b"too small") > drawn, "being drawn again")
        terminal.resize("80x24")
        terminal.wait_gone("too small")
        terminal.send("k")  # had n acted, a form would be open and take this letter
        assert "New unit" not in terminal.wait_for("My workshop")


def test_a_terminal_that_is_too_small_can_be_left(shop: Path) -> None:
    with dashboard(shop) as terminal:
        terminal.wait_for("My workshop")
        terminal.child.setwinsize(10, 40)
        terminal.wait_for("too small")
        terminal.send("\x11")
        assert terminal.wait_end() == 0


def test_it_is_set_aside_and_comes_back(shop: Path) -> None:
    """In a shell with job control, as people start it."""
    env = screen_environment(shop.parent, PS1="ready> ")
    command = " ".join([*PROGRAM, "--data", str(shop)])
    with Terminal([], env, program=("bash", "--norc", "--noprofile", "-i")) as terminal:
        terminal.wait_for("ready>")
        terminal.send(f"{command}\r")
        terminal.wait_for("My workshop")
        terminal.send("\x1a")
        terminal.wait_for("Stopped")
        terminal.send("fg\r")
        terminal.wait_for("My workshop")
        terminal.send("n")
        terminal.wait_for("New unit")
        terminal.signal(signal.SIGKILL)


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP], ids=["SIGTERM", "SIGHUP"])
def test_a_signal_ends_it_in_three_seconds_though_nobody_reads_the_terminal(
    shop: Path, number: signal.Signals
) -> None:
    terminal = Terminal(["--data", str(shop)], screen_environment(shop.parent), program=PROGRAM)
    terminal.wait_for("My workshop")
    for _ in range(40):  # thousands of keys, most of which ring the bell; none of what is drawn is taken
        terminal.child.send("?\x1b" * 50)
    began = time.monotonic()
    terminal.signal(number)
    ended = comes_true(lambda: os.waitpid(terminal.child.pid, os.WNOHANG)[0] != 0, seconds=10)
    took = time.monotonic() - began
    if not ended:
        os.kill(terminal.child.pid, signal.SIGKILL)
        os.waitpid(terminal.child.pid, 0)
    terminal.child.ptyproc.terminated = True
    terminal.child.close(force=False)
    assert ended
    assert took < 3.5  # three seconds by its own clock; the half is for a busy machine


def test_a_mistake_of_the_program_leaves_a_log_and_says_where(shop: Path) -> None:
    with Terminal(
        ["--data", str(shop)],
        screen_environment(shop.parent),
        program=(PROGRAM[0], "-c", BREAKS),
        size="120x36",
    ) as terminal:
        terminal.wait_for("My workshop")
        terminal.send("\x1b[<0;5;1M\x1b[<0;5;1m")
        assert terminal.wait_end() == 70
        assert_sane(terminal)
        said = re.sub(rb"\s+", b"", terminal.raw)
    [log] = shop.parent.glob("*.crash-*.log")
    assert str(log).encode() in said
    assert "ZeroDivisionError" in log.read_text()
    assert stat.S_IMODE(log.stat().st_mode) == 0o600
