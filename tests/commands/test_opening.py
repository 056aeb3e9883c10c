"""Which file a command opens: nothing made by mistake, a known one that is missing is not a first start."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from bench.cli import run
from bench.store.engine import Store
from tests.pty.program import make_shop

READING = ["check", "queue", "stock", "people", "journal", "week", "register"]
WRITING = ["add M", "people --add Bo"]
FILE_ERROR = 6

Bench = Callable[..., tuple[int, str]]


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Bench:
    """Run one command in this process; answers its exit code and what it said went wrong."""
    for name in ("data", "config", "state"):
        monkeypatch.setenv(f"XDG_{name.upper()}_HOME", str(tmp_path / name))
    for name in ("BENCH_DATA", "BENCH_SETTINGS", "BENCH_PERSON"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("LOGNAME", "ada")

    def call(*arguments: object) -> tuple[int, str]:
        capsys.readouterr()
        code = run([str(one) for one in arguments])
        return code, capsys.readouterr().err

    return call


@pytest.mark.parametrize("command", [*READING, *WRITING])
def test_a_mistyped_path_makes_neither_file_nor_folder(bench: Bench, tmp_path: Path, command: str) -> None:
    path = tmp_path / "no such folder" / "shop.bench"
    code, said = bench("--data", path, *command.split())
    assert code == FILE_ERROR
    assert f"{path} is not there" in said
    assert "--new" in said
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("command", READING)
def test_what_only_reads_makes_no_first_file(bench: Bench, tmp_path: Path, command: str) -> None:
    code, said = bench(*command.split())
    assert (code, "no data file yet" in said) == (FILE_ERROR, True)
    assert list(tmp_path.iterdir()) == []


def test_the_first_change_at_the_usual_place_makes_the_file(bench: Bench, tmp_path: Path) -> None:
    assert bench("add", "M") == (0, "")
    assert (tmp_path / "data" / "bench" / "workshop.bench").exists()


def test_a_clear_word_makes_a_file_elsewhere_once(bench: Bench, tmp_path: Path) -> None:
    path = tmp_path / "below" / "shop.bench"
    assert bench("--data", path, "--new", "add", "M") == (0, "")
    kept = path.read_bytes()
    code, said = bench("--data", path, "--new", "add", "N")
    assert (code, "there already" in said) == (2, True)
    assert path.read_bytes() == kept
    code, said = bench("--data", tmp_path / "other.bench", "--new", "queue")
    assert (code, "only reads" in said) == (2, True)
    assert not (tmp_path / "other.bench").exists()


@pytest.mark.parametrize("command", [*READING, *WRITING])
def test_a_known_file_that_is_missing_is_never_an_empty_shop(
    bench: Bench, tmp_path: Path, command: str
) -> None:
    """Where it was and where the newest copies lie are said; the newest comes first."""
    assert bench("add", "M") == (0, "")
    path = tmp_path / "data" / "bench" / "workshop.bench"
    older = make_shop(path.with_name("workshop.bench.before-0002.backup"))
    newer = path.with_name("workshop copy.bench")
    path.rename(newer)
    os.utime(older, (1_700_000_000, 1_700_000_000))
    path.with_name("notes.bench").write_text("no data file")
    code, said = bench(*command.split())
    assert code == FILE_ERROR
    assert f"{path} was opened here before" in said
    assert 0 < said.index(str(newer)) < said.index(str(older))
    assert "notes.bench" not in said
    assert not path.exists()
    assert bench("--new", "add", "M") == (0, "")


def test_a_list_of_known_files_that_is_spoiled_stops_nobody(bench: Bench, tmp_path: Path) -> None:
    (tmp_path / "state" / "bench").mkdir(parents=True)
    (tmp_path / "state" / "bench" / "known-files.json").write_text("{[")
    assert bench("add", "M") == (0, "")
    (tmp_path / "data" / "bench" / "workshop.bench").unlink()
    code, said = bench("queue")
    assert (code, "was opened here before" in said) == (FILE_ERROR, True)


@pytest.mark.parametrize(
    "arguments", [["queue"], ["take-back"], ["--person", "Nobody", "queue"], ["unit", "99999"]]
)
def test_the_file_is_closed_on_every_path(
    bench: Bench, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, arguments: list[str]
) -> None:
    """Also where it is not known who acts, or who was named is nobody here."""
    path = make_shop(tmp_path / "shop.bench")
    assert bench("--data", path, "people", "--add", "Bo") == (0, "")
    still_open: set[Store] = set()
    opening, closing = Store.__init__, Store.close

    def opened(store: Store, *about: Any) -> None:
        opening(store, *about)
        still_open.add(store)

    def closed(store: Store) -> None:
        closing(store)
        still_open.discard(store)

    monkeypatch.setattr(Store, "__init__", opened)
    monkeypatch.setattr(Store, "close", closed)
    bench("--data", path, *arguments)
    assert not still_open
