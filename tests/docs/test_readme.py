"""The README is true: its tables, links, pictures and examples are held against the program."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

from bench.cli import run
from bench.dashboard.key_check import check_keys
from bench.desk import SystemClock
from bench.settings import read_settings
from bench.work.demo import make_demo
from tests.docs.tables import GROUPS, README, commands, first_sentences, table_in, tables

ROOT = README.parent
TEXT = README.read_text(encoding="utf-8")
CODE = re.compile(r"^```(\w+)\n(.*?)^```", re.MULTILINE | re.DOTALL)
LINK = re.compile(r"!?\[[^\]]*\]\(([^)\s]+)\)")


def blocks(language: str) -> list[str]:
    return [text for name, text in CODE.findall(TEXT) if name == language]


def examples() -> list[str]:
    lines = [line for block in blocks("sh") for line in block.splitlines()]
    return [line for line in lines if line.startswith("bench ")]


@pytest.mark.parametrize("name", sorted(tables()))
def test_a_table_says_what_the_program_does(name: str) -> None:
    assert table_in(TEXT, name) == tables()[name], "run: python -m tests.docs.tables"


def test_every_command_stands_in_one_table() -> None:
    listed = [name for names in GROUPS.values() for name in names]
    assert sorted(listed) == sorted(commands())


def test_a_docstring_of_several_lines_fits_into_one_cell() -> None:
    assert first_sentences("\n    Move a part,\n    cost and all.\n\n    Without a TAG, the shelf.\n") == (
        "Move a part, cost and all."
    )
    assert all("\n" not in words and words for words in commands().values())


def test_it_opens_with_one_paragraph_and_a_picture() -> None:
    title, paragraph, picture = TEXT.split("\n\n")[:3]
    assert title == "# bench"
    assert not paragraph.startswith(("#", "!", "-", "|"))
    assert picture.startswith("![")


def test_it_offers_exactly_two_commands_to_begin_with() -> None:
    commands_at_first = [block.strip() for block in blocks("sh") if block.startswith("python3")]
    assert len(commands_at_first) == 2
    assert commands_at_first[0].endswith("bench demo")
    assert commands_at_first[1] in (ROOT / ".ci" / "run").read_text(encoding="utf-8")


def test_every_link_leads_somewhere() -> None:
    links = [link for link in LINK.findall(TEXT) if "://" not in link]
    assert links
    assert [link for link in links if not (ROOT / link).exists()] == []


def test_every_example_runs(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """One after the other on one demo file, as Ines."""
    path = tmp_path / "demo.bench"
    make_demo(path, SystemClock()).close()
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("BENCH_DATA", str(path))
    monkeypatch.setenv("BENCH_PERSON", "Ines")
    monkeypatch.setenv("BENCH_SETTINGS", str(tmp_path / "none.toml"))
    (tmp_path / "none.toml").write_text("")
    assert len(examples()) > 10
    for line in examples():
        code = run(shlex.split(line)[1:])
        said = capsys.readouterr()
        assert (code, said.err) == (0, ""), f"{line}: {said.err}"
        assert said.out.strip(), f"{line} printed nothing"


def test_every_command_named_in_the_text_exists() -> None:
    named = set(re.findall(r"`bench ([a-z][a-z-]*)", TEXT))
    assert named
    assert named <= set(commands())


def test_the_settings_shown_are_read(tmp_path: Path) -> None:
    [shown] = blocks("toml")
    path = tmp_path / "settings.toml"
    path.write_text(shown, encoding="utf-8")
    settings = read_settings({"BENCH_SETTINGS": str(path)})
    assert settings.data_path == Path("/srv/bench/workshop.bench")
    assert (settings.person, settings.mouse) == ("Ines", False)
    assert settings.keys
    check_keys(settings.keys)
