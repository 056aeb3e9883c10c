"""From the program's start to the whole queue on the terminal, against a bare table of 50 rows."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

import pexpect
import pytest

from bench.desk import SystemClock
from tests.benchmarks import floors
from tests.benchmarks.grown_demo import DAYS, grown_demo
from tests.benchmarks.measuring import compare
from tests.pty.program import PROGRAM
from tests.pty.terminal import ROWS_AND_COLUMNS, screen_environment

PATIENCE = 30
ROUNDS = 9
AT_MOST = 2
LAST_OF_QUEUE = "10549"  # in the demo; its last line at 120x36


@pytest.mark.parametrize(("size", "days"), [("the demo", 0), ("100x", DAYS)])
def test_first_paint(tmp_path: Path, size: str, days: int) -> None:
    path = tmp_path / "demo.bench"
    with grown_demo(path, days=days, clock=SystemClock()):
        pass
    env = screen_environment(tmp_path)
    ours = until_shown([*PROGRAM, "--data", str(path), "--person", "Ines"], LAST_OF_QUEUE, env)
    bare = until_shown(floors.python(floors.TABLE), floors.LAST_OF_TABLE, env)
    compare(f"first paint of {size}", ours, bare, rounds=ROUNDS).must_be_below(AT_MOST)


def until_shown(arguments: Sequence[str], mark: str, env: Mapping[str, str]) -> Callable[[], None]:
    """A run of a program in a terminal, up to the moment it has written the mark."""

    def work() -> None:
        child = pexpect.spawn(
            arguments[0],
            list(arguments[1:]),
            env=dict(env),
            dimensions=ROWS_AND_COLUMNS["120x36"],
            timeout=PATIENCE,
        )
        try:
            child.expect_exact(mark.encode())
        finally:
            child.close(force=True)

    return work
