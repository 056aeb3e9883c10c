"""Documents saved under a typed name: the format by the ending, nothing overwritten, nothing half written."""

from __future__ import annotations

import os
import stat
from pathlib import Path

import pytest

from bench.errors import BadInput
from bench.reports.saving import new_path, save_new

ENDINGS = (".txt", ".csv", ".json")


def test_a_document_is_saved_for_its_owner_alone(tmp_path: Path) -> None:
    path = new_path(f"  {tmp_path / 'week.CSV'} ", ENDINGS)
    assert save_new("a,b\r\n", path) == path
    assert path.read_bytes() == b"a,b\r\n"
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert list(tmp_path.iterdir()) == [path]


def test_nothing_is_overwritten(tmp_path: Path) -> None:
    path = tmp_path / "week.txt"
    path.write_text("mine", encoding="utf-8")
    with pytest.raises(BadInput, match="already"):
        new_path(str(path), ENDINGS)
    with pytest.raises(BadInput, match="already"):
        save_new("theirs", path)
    assert path.read_text(encoding="utf-8") == "mine"
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize("typed", ["", "  ", "week", "week.pdf"])
def test_a_name_without_a_known_ending_is_refused(typed: str) -> None:
    with pytest.raises(BadInput, match=r"\.txt, \.csv or \.json"):
        new_path(typed, ENDINGS)


def test_a_folder_that_is_not_there_is_said(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="cannot be written"):
        save_new("x", tmp_path / "nowhere" / "week.txt")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs Linux's device that is always full")
def test_a_full_disk_leaves_nothing_half_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "week.txt"
    real_open = os.open

    def on_a_full_disk(name: Path, flags: int, mode: int = 0o777) -> int:
        real_open(name, flags, mode)
        return real_open("/dev/full", os.O_WRONLY)

    monkeypatch.setattr(os, "open", on_a_full_disk)
    with pytest.raises(BadInput, match="No space left"):
        save_new("x" * 100_000, path)
    assert not path.exists()
