"""From the program's start to its first row on the terminal, against a Textual app of one line."""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping
from pathlib import Path

import pexpect

from bench.desk import SystemClock
from bench.work.demo import make_demo
from tests.benchmarks.measuring import compare
from tests.pty.terminal import screen_environment

PATIENCE = 30
BARE = """
from textual.app import App
from textual.widgets import Label
class Bare(App):
    def compose(self):
        yield Label("ready-to-go")
Bare().run()
"""


def test_first_paint(tmp_path: Path) -> None:
    path = tmp_path / "demo.bench"
    make_demo(path, SystemClock()).close()
    env = screen_environment(tmp_path)
    ours = until_shown(
        [sys.executable, "-m", "bench", "--data", str(path), "--person", "Ines"], b"10688", env
    )
    bare = until_shown([sys.executable, "-c", BARE], b"ready-to-go", env)
    compare("first paint of the demo", ours, bare, rounds=9).must_be_below(3.5)


def until_shown(arguments: list[str], mark: bytes, env: Mapping[str, str]) -> Callable[[], None]:
    """A run of a program in a terminal, up to the moment it has written the mark."""

    def work() -> None:
        child = pexpect.spawn(
            arguments[0], arguments[1:], env=dict(env), dimensions=(36, 120), timeout=PATIENCE
        )
        try:
            child.expect_exact(mark)
        finally:
            child.close(force=True)

    return work
