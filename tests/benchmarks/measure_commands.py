"""Commands from start to end, against the least that a program of the same libraries does."""

from __future__ import annotations

import sqlite3
import subprocess
from collections.abc import Callable, Mapping
from pathlib import Path

from bench.desk import SystemClock
from bench.work.demo import make_demo
from tests.benchmarks import floors
from tests.benchmarks.measuring import compare
from tests.pty.program import PROGRAM, environment

ROUNDS = 15


def test_commands(tmp_path: Path) -> None:
    env = environment(tmp_path)
    path, plain = tmp_path / "demo.bench", tmp_path / "plain.sqlite"
    make_demo(path, SystemClock()).close()
    connection = sqlite3.connect(plain)
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute("CREATE TABLE written (id INTEGER NOT NULL PRIMARY KEY, name VARCHAR NOT NULL)")
    connection.close()
    bench = (*PROGRAM, "--data", str(path), "--person", "Ines")
    reads = compare(
        "a command that reads, queue",
        to_its_end([*bench, "queue"], "10688", env),
        to_its_end(floors.python(floors.READS, "Ada"), "hello Ada", env),
        rounds=ROUNDS,
    )
    writes = compare(
        "a command that writes, add",
        to_its_end([*bench, "add", "Maker Model"], "Maker Model", env),
        to_its_end(floors.python(floors.WRITES, str(plain)), "written", env),
        rounds=ROUNDS,
    )
    reads.must_be_below(2.2)
    writes.must_be_below(1.7)


def to_its_end(arguments: list[str], mark: str, env: Mapping[str, str]) -> Callable[[], None]:
    """A run of a command, which must go well and print the mark."""

    def work() -> None:
        ran = subprocess.run(arguments, env=dict(env), capture_output=True, text=True, check=True, timeout=60)
        assert mark in ran.stdout

    return work
