"""kill -9 of the dashboard while three timers run: at the next start they run, with the right elapsed."""

from __future__ import annotations

import re
import signal
import sqlite3
import time
from pathlib import Path
from typing import Any

import pytest

from bench.desk import Desk, SystemClock
from bench.work.files import open_or_new
from bench.work.shop import add_person
from bench.work.units import add_unit
from tests.pty.program import did, environment, make_shop, run
from tests.pty.terminal import Terminal, screen_environment

SECOND_US = 1_000_000
BACK_S = {"Ada": 83 * 60 + 5, "Bo": 12 * 60 + 40}  # how long their timers have run when the power fails
SOAK_S = 2 * 3600 + 7 * 60
SIZE = "120x36"
SLACK_S = 5  # between reading the screen and reading the clock


def running(env: dict[str, str]) -> dict[int, dict[str, Any]]:
    """What runs by `bench queue --json`, by its entry's number."""
    people = did(env, "queue", "--json").json()["people"]
    return {one["entry_id"]: one for person in people for one in person["running"]}


def start_earlier(path: Path, entry_id: int, seconds: int) -> None:
    """As if the timer had been started so much earlier: no test waits an hour."""
    with sqlite3.connect(path) as connection:
        connection.execute(
            "UPDATE time_entry SET started_us = started_us - :us, steady_us = steady_us - :us WHERE id = :id",
            {"us": seconds * SECOND_US, "id": entry_id},
        )
    connection.close()


@pytest.fixture
def env(tmp_path: Path) -> dict[str, str]:
    store = open_or_new(make_shop(tmp_path / "shop.bench"))
    desk = Desk(store, SystemClock(), 1)
    add_person(desk, "Bo")
    for model in ("Model A", "Model B", "Model C"):
        add_unit(desk, maker="", model=model, route_id=1)
    store.close()
    return environment(tmp_path, BENCH_DATA=str(store.path))


def elapsed_on_screen(text: str) -> list[tuple[int, int]]:
    """Every running time on the screen in seconds, and how many more may have passed: from ten minutes 59."""
    found = re.findall(r"[►○] (?:(\d+) h (\d\d)|(\d+) min(?: (\d\d)\b)?)", text)
    return [
        (int(hours or 0) * 3600 + int(past or minutes) * 60 + int(seconds or 0), 0 if seconds else 59)
        for hours, past, minutes, seconds in found
    ]


def is_shown(entry: dict[str, Any], text: str) -> bool:
    """Whether the right time of a running entry is among those on the screen."""
    right = (time.time_ns() // 1000 - entry["started_us"]) // SECOND_US
    return any(
        seconds - SLACK_S <= right <= seconds + more + SLACK_S for seconds, more in elapsed_on_screen(text)
    )


def test_three_timers_survive_the_kill(env: dict[str, str], tmp_path: Path) -> None:
    path = Path(env["BENCH_DATA"])
    screen = screen_environment(tmp_path, BENCH_DATA=str(path))
    tags = [row["tag"] for row in did(env, "queue", "--json").json()["stages"][0]["rows"]]
    with Terminal([], screen, size=SIZE) as terminal:
        terminal.wait_for(*tags)
        terminal.send("s")  # Ada, on the first unit, by key
        terminal.wait_for("► 0 min 0")
        did(env, "--person", "Bo", "start", tags[1])
        did(env, "--person", "Ada", "start", tags[2], "soak test")
        terminal.wait_until(lambda text: len(elapsed_on_screen(text)) >= 3, "three running times")
        for entry_id, entry in running(env).items():
            seconds = BACK_S[entry["person"]] if entry["hands_on"] else SOAK_S
            start_earlier(path, entry_id, seconds)
        before = running(env)
        assert sorted((one["person"], one["hands_on"]) for one in before.values()) == [
            ("Ada", False),
            ("Ada", True),
            ("Bo", True),
        ]
        terminal.signal(signal.SIGKILL)
        assert terminal.wait_end() == 128 + signal.SIGKILL

    assert running(env) == before
    found = run(env, "check", "--json").json()
    assert (found["integrity"], found["references"]) == ("ok", "ok")
    # What this test itself wrote behind the program is all that the journal does not tell.
    told = {(one["table"], one["column"]) for one in found["record"]["differences"]}
    assert told == {("time_entry", "started_us"), ("time_entry", "steady_us")}

    with Terminal([], screen, size=SIZE) as terminal:
        terminal.wait_for(*tags)
        # A frame may be read in two halves: the first of them need not hold all three.
        text = terminal.wait_until(
            lambda text: all(is_shown(entry, text) for entry in before.values()), "all three with their time"
        )
        for entry in before.values():
            assert is_shown(entry, text), (entry, elapsed_on_screen(text))
        assert all(name in text for name in ("Ada", "Bo"))
        assert running(env) == before, "a start changes nothing"


def test_a_stop_after_the_kill_has_the_whole_length(env: dict[str, str], tmp_path: Path) -> None:
    path = Path(env["BENCH_DATA"])
    with Terminal([], screen_environment(tmp_path, BENCH_DATA=str(path))) as terminal:
        terminal.wait_for("Model A")
        terminal.send("s")
        terminal.wait_for("► 0 min 0")
        terminal.signal(signal.SIGKILL)
        terminal.wait_end()
    (entry_id,) = running(env)
    start_earlier(path, entry_id, 90 * 60)
    stopped = did(env, "--person", "Ada", "stop", "--json").json()
    assert stopped["entry_id"] == entry_id
    assert 90 <= stopped["length_minutes"] <= 91
