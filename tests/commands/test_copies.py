"""bench backup and bench restore, the copy of the day after a command, and the last copy in bench check."""

from __future__ import annotations

import json
import sqlite3
from pathlib import Path
from typing import Any

from tests.test_cli import Bench, Did, Refused


def models(path: Path) -> list[str]:
    connection = sqlite3.connect(f"{path.as_uri()}?mode=ro", uri=True)
    found = [row[0] for row in connection.execute("SELECT model FROM unit ORDER BY id")]
    connection.close()
    return found


def folder_of(path: Path) -> Path:
    return path.with_name(f"{path.name}.copies")


def test_a_workshop_is_backed_up_and_put_back(did: Did, path: Path) -> None:
    did("add", "Model A")
    target = path.parent / "stick.bench"
    assert f"Copied to {target} (" in did("backup", str(target))
    did("add", "Model B")
    said = did("restore", str(target))
    assert f"{target} is now in the place of {path}." in said
    assert models(path) == ["Model A"]
    kept = Path(said.split("What was there is copied: ")[1].strip())
    assert models(kept) == ["Model A", "Model B"]
    did("restore", kept.name)
    assert models(path) == ["Model A", "Model B"]


def test_restore_without_a_name_lists_the_copies(did: Did, path: Path) -> None:
    assert "There is no copy" in did("restore")
    did("backup")
    listed = did("restore")
    assert "made by hand" in listed
    (name,) = (one.name for one in folder_of(path).iterdir())
    assert name in listed
    assert [one["name"] for one in json.loads(did("restore", "--json"))["copies"]] == [name]


def test_a_missing_file_is_put_back(did: Did, path: Path) -> None:
    did("add", "Model A")
    did("backup")
    (name,) = (one.name for one in folder_of(path).glob("*.by-hand.bench"))
    path.unlink()
    assert name in did("restore")
    facts: Any = json.loads(did("restore", name, "--json"))
    assert (facts["document"], facts["kept"], facts["sound"]) == ("restored", "", True)
    assert models(path) == ["Model A"]


def test_a_restore_while_the_file_is_open_is_refused(did: Did, refused: Refused, path: Path) -> None:
    did("backup", str(path.parent / "stick.bench"))
    other = sqlite3.connect(path, isolation_level=None)
    other.execute("PRAGMA journal_mode = WAL")
    other.execute("SELECT name FROM shop").fetchone()
    assert "has" in refused(5, "restore", str(path.parent / "stick.bench"))
    other.close()
    did("restore", str(path.parent / "stick.bench"))


def test_the_first_booking_of_a_day_makes_the_copy_of_that_day(did: Did, path: Path) -> None:
    did("queue")
    assert not folder_of(path).exists()
    did("add", "Model A")
    (copy,) = folder_of(path).iterdir()
    assert copy.name.endswith("Z.daily.bench")
    assert models(copy) == ["Model A"]
    did("add", "Model B")
    assert list(folder_of(path).iterdir()) == [copy]


def test_a_copy_of_the_day_that_fails_is_said_and_the_booking_stands(bench: Bench, path: Path) -> None:
    folder_of(path).write_text("a file in the place of the folder")
    ran = bench("add", "Model A")
    assert ran.code == 0
    assert ran.out.startswith("Added Model A")
    assert "the copy of the day failed: No copy was made" in ran.err
    assert models(path) == ["Model A"]


def test_check_tells_of_the_last_copy(did: Did, path: Path) -> None:
    assert "last copy    none" in did("check")
    assert json.loads(did("check", "--json"))["last_copy"] is None
    did("backup")
    (name,) = (one.name for one in folder_of(path).iterdir())
    said = did("check")
    assert f"last copy    {name} (1 kept in {folder_of(path)})" in said
    facts = json.loads(did("check", "--json"))
    assert (facts["last_copy"]["name"], facts["copies"]) == (name, 1)


def test_erasing_says_where_copies_keep_what_was_erased(did: Did, path: Path) -> None:
    tag = json.loads(did("add", "Model A", "--json"))["tag"]
    did("bought", tag, "--seller", "Someone Somewhere")
    number = json.loads(did("parties", "--json"))["parties"][0]["party_id"]
    said = did("erase", str(number), "asked for", "--early")
    assert str(folder_of(path)) in said
