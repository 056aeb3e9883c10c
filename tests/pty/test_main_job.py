"""The job the dashboard is for, in the real program, from a new unit to the week's minutes; and recorded.

BENCH_RECORDINGS names a folder for the recording (asciinema v2) and the screens as text; without it they go
to the test's own folder.
"""

from __future__ import annotations

import os
import sqlite3
from pathlib import Path
from typing import Any

import pytest

from bench.work.files import open_or_new
from tests.pty.at_the_bench import (
    ESCAPE,
    FIRST,
    SAVE,
    SECOND,
    Bench,
    recording_is_whole,
    zone_where_it_is_noon,
)
from tests.pty.program import PROGRAM, did, environment
from tests.pty.terminal import Terminal, screen_environment

MINUTE_US = 60_000_000
PASTE_MINUTES = 23


def nearest_minute(us: int) -> int:
    return (us + MINUTE_US // 2) // MINUTE_US


def _spread_over_an_hour(path: Path) -> None:
    """As if the finished tasks were done an hour ago and the paste started 23 minutes ago."""
    with sqlite3.connect(path) as connection:
        connection.execute(
            "UPDATE time_entry SET started_us = started_us - :by, stopped_us = stopped_us - :by"
            " WHERE stopped_us IS NOT NULL",
            {"by": 60 * MINUTE_US},
        )
        connection.execute(
            "UPDATE time_entry SET started_us = started_us - :by, steady_us = steady_us - :by"
            " WHERE stopped_us IS NULL",
            {"by": PASTE_MINUTES * MINUTE_US},
        )
    connection.close()


@pytest.fixture
def env(tmp_path: Path) -> dict[str, str]:
    path = tmp_path / "shop.bench"
    open_or_new(path, person="Ada", zone=zone_where_it_is_noon()).close()
    return environment(tmp_path, BENCH_DATA=str(path))


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    chosen = Path(os.environ.get("BENCH_RECORDINGS") or tmp_path / "recording")
    chosen.mkdir(parents=True, exist_ok=True)
    return chosen


def on_hand(env: dict[str, str]) -> dict[str, int]:
    lines = did(env, "stock", "--json").json()["lines"]
    return {line["name"]: line["on_hand_thousandths"] for line in lines}


def task_named(env: dict[str, str], tag: str, name: str) -> dict[str, Any]:
    tasks = did(env, "unit", tag, "--json").json()["tasks"]
    return next(task for task in tasks if task["name"] == name)


def test_the_job(env: dict[str, str], tmp_path: Path, folder: Path) -> None:
    for name, packs in (("isopropyl", "1"), ("thermal", "1"), ("lint", "1")):
        did(env, "restock", name, "--packs", packs, "--price", "10")
    # Typed as fast as the machine reads: which of that a scanner might have sent is another test's matter.
    settings = tmp_path / "settings.toml"
    settings.write_text("scanner = false\n", encoding="utf-8")
    screen = screen_environment(tmp_path, BENCH_DATA=env["BENCH_DATA"], BENCH_SETTINGS=str(settings))
    with Terminal([], screen, size="120x36", recording=folder / "main-job.cast", program=PROGRAM) as terminal:
        bench = Bench(terminal, folder)
        terminal.wait_for("The bench is empty")

        bench.add_unit("Alder", "Fourteen", FIRST)
        bench.add_unit("Birch", "Fifteen", SECOND)
        bench.keep_screen("two-units-added")

        bench.scan(FIRST)
        bench.start("look over")
        bench.finish("look over and note faults")
        bench.move_on("inspected")
        bench.tick_opening_list("11")
        bench.start("cover off")
        bench.finish("cover off, disconnect the battery")
        bench.move_on("opened")
        bench.start("brush out")
        terminal.wait_for("cover off", "battery disconnected")
        bench.keep_screen("a-cover-off-task-runs")
        bench.finish("brush out dust")
        bench.move_on("cleaned")
        bench.start("renew")

        bench.scan(SECOND)
        bench.move_on_marking_done("inspected")
        terminal.wait_for("cover on", "battery in")
        terminal.send("s")
        terminal.wait_for(f"Opening checklist of {SECOND}")
        bench.keep_screen("the-second-unit-is-refused")
        terminal.send(ESCAPE)
        terminal.wait_gone(f"Opening checklist of {SECOND}")
        running = did(env, "queue", "--json").json()["people"][0]["running"]
        assert [(one["tag"], one["task"]) for one in running] == [(FIRST, "renew thermal paste")]

        bench.scan(FIRST)
        _spread_over_an_hour(Path(env["BENCH_DATA"]))
        terminal.wait_for(f"► {PASTE_MINUTES} min", "1000 ml")
        terminal.send("d")
        terminal.wait_for('Finish "renew thermal paste', "5", "0.3")
        bench.keep_screen("finishing-the-paste")
        terminal.send(SAVE)
        terminal.wait_gone('Finish "renew thermal paste', "►")
        terminal.wait_for("995 ml", "3.7 g", "98 pieces")
        bench.keep_screen("stock-dropped")

        terminal.send("r")
        terminal.wait_for("Restock", "Packs")
        bench.choose("iso", opened="lint-free wipes  (98", then="Packs")
        terminal.send("2")
        terminal.send(SAVE)
        terminal.wait_for("2995 ml")
        bench.keep_screen("restocked")

        bench.move_on("refitted")
        bench.keep_screen("moved-on")

        terminal.send("w")
        terminal.wait_for("min hands-on", "Entries", "Ada")
        week = did(env, "week", "--json").json()
        paste = next(entry for entry in week["entries"] if entry["task"] == "renew thermal paste")
        minutes = nearest_minute(sum(day["hands_on_us"] for day in week["days"]))
        on_paste = nearest_minute(paste["stopped_us"] - paste["started_us"])
        assert minutes >= on_paste >= PASTE_MINUTES
        terminal.wait_until(
            lambda text: (
                f"{minutes} min hands-on" in text
                and any("renew" in line and f"{on_paste} min" in line for line in text.splitlines())
            ),
            f"{minutes} minutes in the week, {on_paste} on the paste",
        )
        bench.keep_screen("the-week")
        terminal.send(ESCAPE)
        terminal.wait_for(FIRST, SECOND, "Stock")
        terminal.send("q")
        assert terminal.wait_end() == 0

    facts_by_command(env)
    recording_is_whole(folder, "main-job.cast")


def facts_by_command(env: dict[str, str]) -> None:
    """What the screens showed, told by the commands."""
    left = on_hand(env)
    assert left["isopropyl 99 %"] == 1_000_000 - 5_000 + 2_000_000
    assert left["thermal paste"] == 4_000 - 300
    assert left["lint-free wipes"] == 100_000 - 2_000
    unit = did(env, "unit", FIRST, "--json").json()
    assert (unit["stage"], unit["safety"]["screws_out"]) == ("refitted", 11)
    states = {task["name"]: task["state"] for task in unit["tasks"]}
    assert [name for name, state in states.items() if state == "done"] == [
        "look over and note faults",
        "cover off, disconnect the battery",
        "brush out dust",
        "renew thermal paste",
    ]
    paste = task_named(env, FIRST, "renew thermal paste")
    assert PASTE_MINUTES <= paste["spent_us"] / MINUTE_US < PASTE_MINUTES + 5
    second = did(env, "unit", SECOND, "--json").json()
    assert second["stage"] == "inspected"
    assert all(task["spent_us"] == 0 and not task["running"] for task in second["tasks"])
    entries = did(env, "week", "--json").json()["entries"]
    assert [entry["tag"] for entry in entries] == [FIRST] * 4
    assert sum(entry["stopped_us"] - entry["started_us"] for entry in entries) == sum(
        task["spent_us"] for task in unit["tasks"]
    )
    actions = [line["action"] for line in did(env, "journal", "--json").json()["lines"]]
    assert [actions.count(action) for action in ("add unit", "start", "finish", "move")] == [2, 4, 4, 5]
    assert {line["via"] for line in did(env, "journal", "--json").json()["lines"]} == {"dashboard", "command"}
