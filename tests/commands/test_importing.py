"""`bench import`: looked at first, booked whole, once with a script's key."""

from __future__ import annotations

import json
from pathlib import Path

from tests.test_cli import Bench, Did, Refused


def test_a_preview_then_the_booking(did: Did, bench: Bench, tmp_path: Path) -> None:
    file = tmp_path / "units.csv"
    file.write_text(
        did("import", "units", "--template") + ",Fenn,Oxlip 14,S1,full refurbish,,88.50,\r\n", "utf-8"
    )
    told = did("import", "units", str(file))
    assert "1 row of units can be taken. Nothing was booked" in told
    assert "Oxlip" not in did("queue")
    assert "Imported 1 row of units." in did("import", "units", str(file), "--book")
    assert "Oxlip 14" in did("queue")
    ran = bench("import", "units", str(file), "--book")
    assert ran.code == 2
    assert [line[:14] for line in ran.err.splitlines()] == ["bench: line 2:", "bench: None wa"]
    assert "S1" in ran.err
    assert json.loads(did("import", "parties", "--json", str(_party(tmp_path))))["made"] == ["a party"]


def test_a_key_books_it_once(did: Did, tmp_path: Path) -> None:
    file = _party(tmp_path)
    did("--once", "k1", "import", "parties", str(file), "--book")
    assert "Booked already" in did("--once", "k1", "import", "parties", str(file), "--book")


def test_what_cannot_be_is_one_sentence(refused: Refused, tmp_path: Path) -> None:
    assert "cannot be imported" in refused(2, "import", "sales")
    assert "not named" in refused(2, "import", "units")
    assert "cannot be read" in refused(2, "import", "units", str(tmp_path / "none.csv"))
    assert "books nothing" in refused(2, "--once", "k", "import", "parties", str(_party(tmp_path)))


def test_a_template_filled_is_the_files_own_rows(did: Did) -> None:
    assert "isopropyl 99 %" in did("import", "stock", "--template", "--filled")


def _party(tmp_path: Path) -> Path:
    file = tmp_path / "parties.csv"
    file.write_text("name,private\nSomeone,no\n", "utf-8")
    return file
