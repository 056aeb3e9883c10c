"""The log says what went wrong and where, never in whose words, and never grows without end."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from bench import went_wrong
from bench.cli import run
from bench.errors import BadInput
from bench.went_wrong import last_lines, log_path, note
from tests.pty.program import did, environment, refused

LINE = re.compile(
    r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ [\w.]+ (command|dashboard) (refused|file|broke) \w+ [\w/.:]+"
)
SECRET = "Edda Moonpenny"


@pytest.fixture(autouse=True)
def own_state(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    (tmp_path / "state" / "bench").mkdir(parents=True)


def test_an_error_is_a_line_without_its_words() -> None:
    assert last_lines(5) == []
    assert not log_path().exists()
    assert run(["hold", SECRET, SECRET]) != 0
    (line,) = last_lines(5)
    assert LINE.fullmatch(line), line
    assert SECRET not in log_path().read_text(encoding="utf-8")


def test_a_mistake_of_the_program_names_its_line() -> None:
    try:
        BadInput("a", "b").nothing  # noqa: B018 - raises
    except AttributeError as error:
        note(error, "dashboard")
    assert last_lines(1)[0].endswith("dashboard broke AttributeError elsewhere")


def test_it_begins_anew_when_it_is_full(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(went_wrong, "MOST_BYTES", 500)
    for _ in range(40):
        note(BadInput("a", "b"), "command")
    sizes = [one.stat().st_size for one in log_path().parent.iterdir()]
    assert len(sizes) == 2
    assert max(sizes) <= 500


def test_where_it_cannot_be_written_nothing_else_goes_wrong(tmp_path: Path) -> None:
    (tmp_path / "state" / "bench" / "bench.log").mkdir()
    note(BadInput("a", "b"), "command")
    assert last_lines(5) == []


def test_an_error_alone_makes_no_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "elsewhere"))
    note(BadInput("a", "b"), "command")
    assert not (tmp_path / "elsewhere").exists()


def test_the_command_shows_it(tmp_path: Path) -> None:
    env = environment(tmp_path)
    assert "Nothing went wrong yet" in did(env, "log").out
    refused(env, "unit", "99999", code=6)  # there is no data file
    shown = did(env, "log").out.splitlines()
    assert LINE.fullmatch(shown[0])
    assert shown[-1].endswith("bench.log")
