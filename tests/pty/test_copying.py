"""Copying in the real terminal: what OSC 52 carries is the row, and the file beside the data holds it too.

The sequence: ESC ] 52 ; c ; base64 BEL. Source: xterm, "XTerm Control Sequences", Operating System Commands,
Ps = 52 (from memory). The text is decoded by the standard library's base64, not by ours.
"""

from __future__ import annotations

import base64
import re
import stat
from pathlib import Path

import pytest

from bench.dashboard.clipboard import copied_file
from tests.pty.program import did, make_shop
from tests.pty.terminal import Terminal, screen_environment

OSC_52 = re.compile(rb"\x1b\]52;c;([A-Za-z0-9+/=]*)(?:\x07|\x1b\\)")
MODEL = "=Oxlip \U0001f469\u200d\U0001f467 [b]14[/]"


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    return make_shop(tmp_path / "shop.bench")


def clipboard_of(terminal: Terminal) -> list[str]:
    """What was put on the terminal's clipboard, the last at the end."""
    return [base64.b64decode(one, validate=True).decode() for one in OSC_52.findall(bytes(terminal.raw))]


def test_what_the_terminal_is_handed_is_the_row_and_so_is_the_file(shop: Path) -> None:
    env = screen_environment(shop.parent)
    did(env, "--data", str(shop), "add", MODEL, "--maker", "Fenn")
    with Terminal(["--data", str(shop)], env, size="120x36") as terminal:
        terminal.wait_for("Oxlip")
        terminal.send("y")
        terminal.wait_for("Copy what?")
        terminal.send("r")
        terminal.wait_for("Copied the row")
        (row,) = clipboard_of(terminal)
        assert row.split("\t")[1] == f"Fenn {MODEL}"
        path = copied_file(shop)
        assert path.read_text("utf-8") == row
        assert stat.S_IMODE(path.stat().st_mode) == 0o600
        terminal.wait_gone("Copied the row")
        terminal.send("y")
        terminal.wait_for("Copy what?")
        terminal.send("2")
        terminal.wait_for("Copied the cell")
        assert clipboard_of(terminal)[-1] == f"Fenn {MODEL}"
        terminal.send("\x03")  # with nothing selected it copies nothing, and leaves nothing
        terminal.wait_for("quit")
        assert len(clipboard_of(terminal)) == 2
        assert terminal.child.isalive()


def test_what_was_copied_is_gone_at_the_next_start(shop: Path) -> None:
    path = copied_file(shop)
    path.write_text("Ada Example, 1 Street")
    with Terminal(["--data", str(shop)], screen_environment(shop.parent), size="80x24") as terminal:
        terminal.wait_for("My workshop")
        terminal.wait_until(lambda _: not path.exists(), "the old copy gone")
