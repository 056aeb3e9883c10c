"""Several programs on one file: nothing is lost, stock never falls below zero, one hands-on task a person."""

from __future__ import annotations

import itertools
import sqlite3
import subprocess
import sys
from collections import Counter
from pathlib import Path

from bench.desk import Desk, SystemClock
from bench.views.routes import read_routes
from bench.views.stock import read_stock
from bench.views.unit import read_unit
from bench.work.files import open_or_new
from bench.work.shop import add_person
from bench.work.stock import restock
from bench.work.tasks import add_task, set_task_use
from bench.work.units import add_unit
from tests.pty.program import did, environment, refused

ROOT = Path(__file__).parents[2]
PROGRAMS = 5
ROUNDS = 8
ACTS = {"added", "started", "stopped", "finished"}
BUSY = "is busy: another program holds it"
ISOPROPYL = "isopropyl 99 %"
A_JOB_TAKES = 20_000  # thousandths of a ml


def _shared_tasks(path: Path) -> list[int]:
    """Twelve units whose task takes 20 ml each, and stock for seven of them."""
    desk = Desk(open_or_new(path, person="Ada"), SystemClock(), 1)
    add_person(desk, "Bo")
    line = next(line for line in read_stock(desk).lines if line.name == ISOPROPYL)
    restock(desk, line.consumable_id, quantity_text="150 ml", price_text="10")
    task_ids = []
    for _ in range(12):
        unit_id = add_unit(desk, maker="", model="shared").unit_id
        stage_id = read_unit(desk, unit_id).stage_id
        task_id = add_task(
            desk,
            unit_id,
            name="wipe down",
            stage_id=stage_id,
            estimate_text="5",
            unattended=False,
            lid_off=False,
        )
        set_task_use(desk, task_id, line.consumable_id, "20 ml")
        task_ids.append(task_id)
    desk.store.close()
    return task_ids


def _crowd(path: Path, task_ids: list[int]) -> list[str]:
    """Let them all loose at once; answers every line they printed."""
    command = [sys.executable, "-m", "tests.faults.crowd", str(path)]
    programs = [
        subprocess.Popen(
            [*command, str(1 + number % 2), str(ROUNDS), str(number), *map(str, task_ids)],
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            cwd=ROOT,
            text=True,
        )
        for number in range(PROGRAMS)
    ]
    printed = []
    for program in programs:
        out, err = program.communicate(timeout=120)
        assert (program.returncode, err) == (0, "")
        printed += out.splitlines()
    return printed


def test_a_crowd_on_one_file(tmp_path: Path) -> None:
    path = tmp_path / "shop.bench"
    task_ids = _shared_tasks(path)
    printed = _crowd(path, task_ids)
    said = Counter(line.split()[0] for line in printed)
    gave_up = sum(BUSY in line for line in printed)
    assert PROGRAMS * ROUNDS - gave_up <= said["added"] <= PROGRAMS * ROUNDS, said
    refused = {"Refused", "OutOfStock", "NotFound"}
    others = [line for line in printed if line.split()[0] not in {*refused, *ACTS} and BUSY not in line]
    assert others == [], "on a machine slow enough some give up waiting, and that is said"

    found = did(environment(tmp_path), "--data", str(path), "check", "--json").json()
    assert (found["integrity"], found["references"]) == ("ok", "ok")
    with sqlite3.connect(path) as connection:
        rows = connection.execute("SELECT tag FROM unit").fetchall()
        on_hand = connection.execute("SELECT SUM(quantity) FROM movement").fetchone()[0]
        issues = connection.execute("SELECT task_id, quantity FROM movement WHERE kind = 'issue'").fetchall()
        done = {row[0] for row in connection.execute("SELECT id FROM task WHERE state = 'done'")}
        entries = connection.execute(
            "SELECT person_id, started_us, COALESCE(stopped_us, 9223372036854775807) FROM time_entry"
            " WHERE attended = 1 ORDER BY person_id, started_us, stopped_us"
        ).fetchall()
        journaled = Counter(row[0] for row in connection.execute("SELECT action FROM journal"))
    connection.close()

    added = [line.split()[1] for line in printed if line.startswith("added ")]
    assert len(set(added)) == len(added), "each program got a tag of its own"
    assert {row[0] for row in rows} >= set(added)

    finished = [int(line.split()[1]) for line in printed if line.startswith("finished ")]
    assert sorted(finished) == sorted(done), "a task is finished once, by whoever was told so"
    assert sorted(task_id for task_id, _ in issues) == sorted(finished)
    assert all(quantity == -A_JOB_TAKES for _, quantity in issues)
    assert on_hand == 150_000 - A_JOB_TAKES * len(finished)
    assert len(finished) == 7, "stock for seven jobs makes seven jobs"

    open_now = Counter(person_id for person_id, _, stop in entries if stop == 9223372036854775807)
    assert all(number <= 1 for number in open_now.values())
    for (person, _, stop), (next_person, start, _) in itertools.pairwise(entries):
        assert person != next_person or stop <= start, "no two hands-on entries of one person overlap"

    assert journaled["add unit"] == 12 + said["added"]
    assert journaled["start"] == said["started"]
    assert journaled["stop"] == said["stopped"]
    assert journaled["finish"] == said["finished"]


def test_while_another_program_holds_the_file(tmp_path: Path) -> None:
    """A write waits five seconds and then says so; reads go on meanwhile."""
    path = tmp_path / "shop.bench"
    env = environment(tmp_path)
    did(env, "--data", str(path), "--new", "add", "first")
    other = sqlite3.connect(path, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    try:
        sentence = refused(env, "--data", str(path), "add", "second", code=6)
        units = did(env, "--data", str(path), "queue", "--json").out
    finally:
        other.execute("ROLLBACK")
        other.close()
    assert "Another program" in sentence
    assert "Nothing was changed" in sentence
    assert "first" in units
    assert "second" not in units
    did(env, "--data", str(path), "add", "second")


def test_two_first_starts_at_once_make_one_file(tmp_path: Path) -> None:
    path = tmp_path / "data" / "bench" / "workshop.bench"
    command = [sys.executable, "-m", "bench", "add", "a unit", "--json"]
    programs = [
        subprocess.Popen(
            command,
            env=environment(tmp_path),
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            cwd=ROOT,
            text=True,
        )
        for _ in range(4)
    ]
    outs, said = zip(*(program.communicate(timeout=60) for program in programs), strict=True)
    assert [program.returncode for program in programs] == [0] * 4, said
    assert len(set(outs)) == 4, "four units with four tags in one file"
    copies = path.with_name(f"{path.name}.copies")
    assert sorted(path.parent.iterdir()) == [path, copies]
    assert len(list(copies.iterdir())) == 1, "one copy of the day"
    store = open_or_new(path)
    assert {line.name for line in read_routes(Desk(store, SystemClock(), 1))}
    with store.read() as connection:
        assert connection.execute("SELECT COUNT(*) FROM unit").fetchone()[0] == 4
        assert connection.execute("SELECT COUNT(*) FROM person").fetchone()[0] == 1
    store.close()
