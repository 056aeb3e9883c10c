"""kill -9 in the middle of writing: what was confirmed is there, the rest is there whole or not at all."""

from __future__ import annotations

import random
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

from tests.pty.program import did, environment, make_shop

WRITER = (sys.executable, "-m", "tests.faults.writer")
ROOT = Path(__file__).parents[2]


def _killed_after(path: Path, lines: int, more_bytes: int) -> list[str]:
    """Let the writer confirm so many changes, let it go on for a moment of no fixed length, and kill it."""
    with subprocess.Popen([*WRITER, str(path)], stdout=subprocess.PIPE, cwd=ROOT, text=True) as writer:
        assert writer.stdout is not None
        confirmed = [writer.stdout.readline().strip() for _ in range(lines)]
        # How far it gets into its next transaction is left to how long this counting takes.
        sum(range(more_bytes))
        writer.kill()
        confirmed += writer.stdout.read().splitlines()
    return [line for line in confirmed if line and line != "ready"]


BEGUN = 1  # line of the journal: the shop was set up


@pytest.mark.parametrize("seed", range(4))
def test_nothing_confirmed_is_lost(tmp_path: Path, seed: int) -> None:
    path = make_shop(tmp_path / "shop.bench")
    chance = random.Random(seed)
    confirmed: list[str] = []
    for _ in range(2):
        confirmed += _killed_after(path, chance.randrange(2, 40), chance.randrange(0, 400_000))
    assert confirmed

    found = did(environment(tmp_path), "--data", str(path), "check", "--json").json()
    assert (found["integrity"], found["references"]) == ("ok", "ok")
    with sqlite3.connect(path) as connection:
        tags = {row[0] for row in connection.execute("SELECT tag FROM unit")}
        entries = dict(connection.execute("SELECT id, stopped_us - started_us FROM time_entry"))
        received = [row[0] for row in connection.execute("SELECT quantity FROM movement")]
        journaled = connection.execute("SELECT COUNT(*) FROM journal").fetchone()[0] - BEGUN
        # A timer that outlived the first kill is stopped by the next start: two ends, one change.
        switched = connection.execute(
            "SELECT COUNT(*) FROM journal WHERE action = 'start' AND summary LIKE '%, stopping %'"
        ).fetchone()[0]
        tasks = dict(connection.execute("SELECT unit_id, COUNT(*) FROM task GROUP BY unit_id"))
    connection.close()
    for line in confirmed:
        what, *rest = line.split()
        if what == "unit":
            assert rest[0] in tags
        elif what == "start":
            assert int(rest[0]) in entries
        elif what == "stop":
            assert entries[int(rest[0])] == int(rest[1])
        else:
            assert int(rest[0]) * 1000 in received
    # Each change and its journal row are kept together; at most the one under way at each kill came on top.
    stops = sum(length is not None for length in entries.values())
    assert journaled == len(tags) + len(entries) + stops - switched + len(received)
    assert len(confirmed) <= journaled <= len(confirmed) + 2
    assert len(set(tasks.values())) == 1, "no unit has only some of its route's tasks"
