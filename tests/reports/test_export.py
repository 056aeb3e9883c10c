"""The whole file as one JSON document and as a folder of CSV files: all of it, or nothing left behind."""

from __future__ import annotations

import csv
import json
import stat
from pathlib import Path

import pytest

from bench.desk import Desk
from bench.errors import BadInput
from bench.reports.export import write_csv, write_json
from bench.views.export import read_everything
from tests.reports.conftest import BO


def test_the_json_read_back_is_the_file(busy: Desk, tmp_path: Path) -> None:
    everything = read_everything(busy)
    write_json(everything, tmp_path / "all.json")
    facts = json.loads((tmp_path / "all.json").read_text("utf-8"))
    assert (facts["document"], facts["shape"], facts["revision"]) == ("export", 1, everything.revision)
    assert (facts["made_us"], facts["made_local"], facts["zone"]) == (
        everything.made_us,
        "2026-11-26T07:21:00+01:00",
        "Europe/Berlin",
    )
    assert list(facts["tables"]) == [table.name for table in everything.tables]
    for table in everything.tables:
        assert [
            tuple(row[column] for column in table.columns) for row in facts["tables"][table.name]
        ] == list(table.rows)


def test_the_csv_read_back_is_the_file_with_formulas_marked(busy: Desk, tmp_path: Path) -> None:
    everything = read_everything(busy)
    paths = write_csv(everything, tmp_path / "all")
    assert sorted(paths) == sorted((tmp_path / "all").iterdir())
    assert [path.stem for path in paths] == [table.name for table in everything.tables]
    for table, path in zip(everything.tables, paths, strict=True):
        with path.open(encoding="utf-8", newline="") as file:
            heading, *rows = csv.reader(file, strict=True)
        assert heading == list(table.columns)
        for row, kept in zip(rows, table.rows, strict=True):
            for cell, value in zip(row, kept, strict=True):
                told = "" if value is None else str(value)
                assert cell in (told, f"'{told}")
                assert cell == told or told.lstrip()[0] in "=+-@"
    with (tmp_path / "all" / "person.csv").open(encoding="utf-8", newline="") as file:
        assert [row["name"] for row in csv.DictReader(file)] == ["Ada", f"'{BO}"]


def test_only_the_owner_may_read_it(busy: Desk, tmp_path: Path) -> None:
    everything = read_everything(busy)
    write_json(everything, tmp_path / "all.json")
    paths = write_csv(everything, tmp_path / "all")
    modes = {stat.S_IMODE(path.stat().st_mode) for path in (tmp_path / "all.json", *paths)}
    assert modes == {0o600}
    assert stat.S_IMODE((tmp_path / "all").stat().st_mode) == 0o700


@pytest.mark.parametrize("write", [write_json, write_csv])
def test_nothing_that_is_there_is_overwritten(busy: Desk, tmp_path: Path, write) -> None:
    there = tmp_path / "there"
    there.write_text("mine")
    with pytest.raises(BadInput, match="already"):
        write(read_everything(busy), there)
    assert there.read_text() == "mine"
    assert [path.name for path in tmp_path.iterdir() if path.name.startswith(".there")] == []


@pytest.mark.parametrize("write", [write_json, write_csv])
def test_where_nothing_can_be_written_a_sentence_says_so(busy: Desk, tmp_path: Path, write) -> None:
    with pytest.raises(BadInput, match="cannot be written"):
        write(read_everything(busy), tmp_path / "no such folder" / "all")
    assert not (tmp_path / "no such folder").exists()


@pytest.mark.parametrize("write", [write_json, write_csv])
def test_a_disk_that_fills_up_leaves_nothing_half_made(
    busy: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, write
) -> None:
    everything = read_everything(busy)

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "rename", full)
    before = sorted(tmp_path.iterdir())
    with pytest.raises(BadInput, match="No space left on device"):
        write(everything, tmp_path / "all")
    assert sorted(tmp_path.iterdir()) == before
