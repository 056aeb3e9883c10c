"""The commands: a job from the first to the last, answers for scripts, refusals in one sentence."""

from __future__ import annotations

import csv
import io
import json
import sqlite3
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from bench.cli import run
from tests.pty.program import Ran, make_shop

Bench = Callable[..., Ran]


@pytest.fixture
def path(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Ada's file, and an environment in which the program finds it."""
    settings = tmp_path / "settings.toml"
    settings.touch()
    monkeypatch.setenv("BENCH_SETTINGS", str(settings))
    monkeypatch.setenv("BENCH_DATA", str(tmp_path / "shop.bench"))
    monkeypatch.setenv("LOGNAME", "ada")
    monkeypatch.setenv("TZ", "Europe/Berlin")
    monkeypatch.delenv("BENCH_PERSON", raising=False)
    return make_shop(tmp_path / "shop.bench")


@pytest.fixture
def bench(path: Path, capsys: pytest.CaptureFixture[str]) -> Bench:
    """Run one command in this process; answers its exit code and what it printed."""

    def call(*arguments: str) -> Ran:
        capsys.readouterr()
        code = run([str(argument) for argument in arguments])
        out, err = capsys.readouterr()
        return Ran(code, out, err)

    return call


@pytest.fixture
def did(bench: Bench) -> Callable[..., str]:
    """The same for what must go well: answers what it printed."""

    def call(*arguments: str) -> str:
        ran = bench(*arguments)
        assert (ran.code, ran.err) == (0, ""), (arguments, ran)
        return ran.out

    return call


@pytest.fixture
def refused(bench: Bench) -> Callable[..., str]:
    """The same for what must not: answers the one sentence on standard error."""

    def call(code: int, *arguments: str) -> str:
        ran = bench(*arguments)
        assert (ran.code, ran.out) == (code, ""), (arguments, ran)
        assert ran.err.count("\n") == 1, ran.err
        if "--json" in arguments:
            told = json.loads(ran.err)
            return f"bench: {told['what']} {told['to_do']}".rstrip()
        assert ran.err.startswith("bench: ")
        return ran.err

    return call


Did = Callable[..., str]
Refused = Callable[..., str]


def answer(did: Did, *arguments: str) -> Any:
    """What a command answers as JSON."""
    return json.loads(did(*arguments, "--json"))


@pytest.fixture
def tag(did: Did) -> str:
    """A unit on the short route, at its first stage."""
    return str(answer(did, "add", "Model A", "--maker", "Maker", "--route", "clean")["tag"])


def at_opened(did: Did, tag: str) -> None:
    did("move", tag, "--open-tasks", "done")
    did("tick", tag, "opening", "--all")
    did("move", tag, "--open-tasks", "done")
    did("tick", tag, "opening", "battery_out", "--off")


def test_a_job_from_the_first_task_to_the_stock(did: Did, refused: Refused, tag: str) -> None:
    did("restock", "isopropyl", "--packs", "1", "--price", "9.50")
    did("restock", "thermal", "--packs", "1")
    did("restock", "lint", "--packs", "1")
    at_opened(did, tag)
    assert "opening checklist" in refused(4, "start", tag)
    did("tick", tag, "opening", "--all", "--screws", "10")
    assert answer(did, "start", tag)["task"] == "brush out dust"
    assert 'Stopped "brush out dust"' in did("start", tag, "renew")
    before = {one["name"]: one["on_hand_thousandths"] for one in answer(did, "stock")["lines"]}
    issued = answer(did, "done", tag, "--used", "isopropyl=7 ml", "--used", "lint=0")["issued"]
    after = {one["name"]: one["on_hand_thousandths"] for one in answer(did, "stock")["lines"]}
    assert {one["name"]: one["quantity_thousandths"] for one in issued} == {
        "isopropyl 99 %": 7000,
        "thermal paste": 300,
    }
    for one in issued:
        assert after[one["name"]] == before[one["name"]] - one["quantity_thousandths"]
        assert after[one["name"]] == one["left_thousandths"]
    assert after["lint-free wipes"] == before["lint-free wipes"]


def test_lid_off_work_shows_its_caution(did: Did, tag: str) -> None:
    at_opened(did, tag)
    assert "BATTERY CONNECTED" not in did("tick", tag, "opening", "--all")
    started = did("start", tag)
    assert "screws, gasket, shields, antennas" in started


def test_the_close_up_list_keeps_its_order(did: Did, refused: Refused, tag: str) -> None:
    at_opened(did, tag)
    did("tick", tag, "opening", "--all", "--screws", "10")
    assert "9 went back" in refused(2, "tick", tag, "close-up", "screws", "--screws", "9")
    refused(4, "tick", tag, "close-up", "battery-in")
    did("tick", tag, "close-up", "screws", "--screws", "9", "--note", "one had no head")
    shown = did("tick", tag, "close-up", "airflow", "antennas", "battery_in")
    assert shown.count("[x]") == 4
    assert "one had no head" in shown
    assert did("tick", tag, "closing", "battery_in", "--off").count("[x]") == 0
    refused(4, "tick", tag, "close-up", "battery_in", "--off")


def test_going_on_without_a_list_needs_a_reason_and_keeps_it(did: Did, tag: str) -> None:
    at_opened(did, tag)
    assert "no power at all" in did("tick", tag, "opening", "--without", "pack removed, no power at all")
    did("start", tag)
    reasons = [line["reason"] for line in answer(did, "journal")["lines"]]
    assert "pack removed, no power at all" in reasons


def test_a_bad_cell_stops_the_unit(did: Did, refused: Refused, tag: str) -> None:
    said = did("cell", tag, "swollen")
    assert "Do not charge" in said
    assert "local rules" in said
    assert "swollen" in refused(4, "start", tag)
    refused(4, "release", tag)
    refused(2, "cell", tag)
    refused(2, "cell", tag, "bent")
    did("cell", tag, "--dealt-with", "handed to the collection point")
    did("start", tag)


def test_moving_asks_about_unfinished_tasks(did: Did, refused: Refused, tag: str) -> None:
    assert "look over" in refused(4, "move", tag)
    refused(2, "move", tag, "--open-tasks", "skip")
    refused(2, "move", tag, "--open-tasks", "later")
    moved = answer(did, "move", tag, "--open-tasks", "skip", "--reason", "seen at the door")
    assert (moved["from_stage"], moved["to_stage"], moved["skipped"]) == ("received", "inspected", 1)
    assert answer(did, "move", tag, "--back")["to_stage"] == "received"
    assert "first stage" in refused(3, "move", tag, "--back")
    refused(2, "move", tag, "opened", "--back")
    assert "look over" in refused(4, "move", tag, "insp")
    moved = answer(did, "move", tag, "insp", "--open-tasks", "done")
    assert answer(did, "move", tag, "--back", "--keep-done")["reopened"] == 0
    assert answer(did, "move", tag, "insp")["to_stage"] == "inspected"
    assert answer(did, "move", tag, "--back")["reopened"] == 1


def test_holding_and_releasing(did: Did, refused: Refused, tag: str) -> None:
    did("hold", tag, "fan on order")
    assert "fan on order" in refused(4, "start", tag)
    assert "fan on order" in did("queue")
    did("release", tag)
    did("start", tag)
    did("stop")
    assert "No hands-on timer" in refused(3, "stop")


def test_an_unattended_task_is_stopped_by_its_unit(did: Did, refused: Refused, tag: str) -> None:
    assert answer(did, "start", tag, "soak test")["hands_on"] is False
    refused(3, "stop")
    assert answer(did, "stop", tag)["task"] == "soak test"
    refused(3, "stop", tag)


def test_a_task_is_named_by_number_name_or_beginning(did: Did, refused: Refused, tag: str) -> None:
    tasks = [line["name"] for line in answer(did, "unit", tag)["tasks"]]
    did("tick", tag, "opening", "shut_down", "strap")
    assert answer(did, "start", tag, "2")["task"] == tasks[1]
    assert answer(did, "start", tag, "SOAK")["task"] == "soak test"
    assert "may be any of" in refused(2, "start", tag, "re")
    assert "no task" in refused(3, "start", tag, "polish").replace("There is no", "no")
    assert "1 to 9" in refused(3, "start", tag, "10")
    sheet = did("unit", tag).split("\n")
    assert any(line.split()[:1] == ["2"] and tasks[1] in line for line in sheet)


def test_skipping_and_taking_back(did: Did, refused: Refused, tag: str) -> None:
    did("skip", tag, "1", "seen at the door")
    assert answer(did, "unit", tag)["tasks"][0]["state"] == "skipped"
    assert "Skipped" in did("undo")
    assert answer(did, "unit", tag)["tasks"][0]["state"] == "todo"
    did("undo")
    assert "No unit" in refused(3, "unit", tag)


def test_counting_sets_the_level(did: Did, refused: Refused) -> None:
    did("restock", "isopropyl", "--quantity", "500 ml", "--supplier", "a shop", "--date", "yesterday")
    counted = answer(did, "count", "iso", "480 ml", "--reason", "spilt")
    assert (counted["counted_thousandths"], counted["difference_thousandths"]) == (480_000, -20_000)
    movements = answer(did, "stock", "iso")["movements"]
    assert [line["balance_thousandths"] for line in movements] == [480_000, 500_000]
    refused(2, "count", "iso", "480 g", "--reason", "spilt")
    refused(3, "count", "glue", "1", "--reason", "spilt")
    refused(2, "count", "iso", "5")


def test_several_people_are_asked_who_acts(
    did: Did, refused: Refused, monkeypatch: pytest.MonkeyPatch
) -> None:
    did("people", "--add", "Bo")
    tag = answer(did, "add", "Model A")["tag"]
    assert [one["name"] for one in answer(did, "people")["people"]] == ["Ada", "Bo"]
    monkeypatch.setenv("LOGNAME", "someone")
    assert "Ada, Bo" in refused(2, "hold", tag, "why")
    assert tag in did("queue"), "looking needs no name"
    assert "[ ]" in did("tick", tag, "opening")
    assert "Ada, Bo" in refused(2, "tick", tag, "opening", "--all")
    did("--person", "bo", "hold", tag, "why")
    monkeypatch.setenv("BENCH_PERSON", "Ada")
    did("release", tag)
    assert [line["person"] for line in answer(did, "journal")["lines"][:2]] == ["Ada", "Bo"]
    assert "Nobody here" in refused(3, "--person", "Cy", "hold", tag, "why")


def test_sheets_come_as_text_csv_and_json(did: Did, refused: Refused, tag: str) -> None:
    did("start", tag)
    did("stop")
    for command in ("week", "journal", "stock"):
        rows = list(csv.reader(io.StringIO(did(command, "--csv"))))
        assert len(rows) > 1
        assert len({len(row) for row in rows}) == 1
        assert answer(did, command)["document"]
        assert did(command).strip()
        refused(2, command, "--csv", "--json")
    assert answer(did, "week", "2026-W01")["week"] == "2026-W01"
    refused(2, "week", "2026-W54")
    assert {line["tag"] for line in answer(did, "journal", "--unit", tag)["lines"]} == {tag}
    assert len(answer(did, "journal", "--limit", "1")["lines"]) == 1


def test_everything_is_exported(did: Did, refused: Refused, tag: str, tmp_path: Path) -> None:
    did("export", "--json", tmp_path / "all.json")
    assert tag in (tmp_path / "all.json").read_text()
    did("export", "--csv", tmp_path / "sheets")
    assert tag in (tmp_path / "sheets" / "unit.csv").read_text()
    refused(2, "export")


def test_the_file_is_checked(did: Did, path: Path) -> None:
    found = answer(did, "check")
    assert (found["integrity"], found["references"], found["path"]) == ("ok", "ok", str(path))
    assert found["versions"]["SQLite"] in did("check")


def test_a_damaged_file_fails_the_check(did: Did, bench: Bench, path: Path, tag: str) -> None:
    with sqlite3.connect(path) as connection:
        page = connection.execute("SELECT rootpage FROM sqlite_master WHERE name = 'unit'").fetchone()[0]
        size = connection.execute("PRAGMA page_size").fetchone()[0]
    connection.close()
    content = bytearray(path.read_bytes())
    content[(page - 1) * size : (page - 1) * size + 1000] = b"\xde\xad" * 500
    path.write_bytes(content)
    ran = bench("check")
    assert ran.code == 6
    assert ran.err.count("\n") == 1
    ran = bench("queue")
    assert (ran.code, ran.err.count("\n")) == (6, 1)


def test_text_from_people_stands_as_typed(did: Did) -> None:
    name = "[bold]50%[/] [link=x] :smile: \\[a]"
    tag = answer(did, "add", name)["tag"]
    assert f"Added {name} as" in did("add", name)
    assert name in did("unit", tag)
    did("hold", tag, name)
    assert answer(did, "unit", tag)["on_hold"] == name


def test_a_forgotten_timer_is_shown(did: Did, path: Path, tag: str) -> None:
    assert "No timer" in did("forgotten")
    did("start", tag)
    with sqlite3.connect(path) as connection:
        connection.execute("UPDATE time_entry SET started_us = started_us - 6 * 3600 * 1000000")
    connection.close()
    assert "look over" in did("forgotten")
    assert answer(did, "forgotten")["forgotten"][0]["tag"] == tag


@pytest.mark.parametrize(
    ("arguments", "part"),
    [
        (["frob"], "frob"),
        (["start"], "TAG"),
        (["queue", "--frob"], "--frob"),
        (["journal", "--limit", "0"], "limit"),
        (["start", "10011"], "does not fit"),
        (["start", "abc"], "digits only"),
        (["tick", "10014", "middle"], "opening or closing"),
        (["week", "next"], "2026-W48"),
    ],
)
def test_a_slip_of_the_keys_is_one_sentence(refused: Refused, arguments: list[str], part: str) -> None:
    assert part in refused(2, *arguments)


def test_without_a_terminal_there_is_no_dashboard(refused: Refused) -> None:
    assert "terminal" in refused(2)
    assert "terminal" in refused(2, "demo")


def test_the_demo_is_kept_where_asked(did: Did, refused: Refused, tmp_path: Path) -> None:
    kept = tmp_path / "demo.bench"
    assert str(kept) in did("demo", "--keep", kept, "--no-open")
    refused(2, "demo", "--keep", kept, "--no-open")
    refused(2, "demo", "--no-open")
    refused(2, "--data", kept, "demo")
    queue = json.loads(did("--data", kept, "queue", "--json"))
    assert sum(stage["count"] for stage in queue["stages"]) > 5
    assert "Several people" in refused(2, "--data", kept, "undo")
