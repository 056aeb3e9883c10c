"""The README is true: its tables, links, pictures and its tour are held against the program."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from bench.manual.pages import TOPICS
from tests.docs.shown import blocks, links, named_commands
from tests.docs.tables import GROUPS, README, commands, documents, first_sentences, table_in, tables

ROOT = README.parent
TEXT = README.read_text(encoding="utf-8")
LONGEST = 200  # lines
VENV = Path(sys.prefix)


@pytest.mark.parametrize("name", sorted(tables()))
def test_a_table_says_what_the_program_does(name: str) -> None:
    shown = [table_in(path.read_text(encoding="utf-8"), name) for path in documents()]
    assert [table for table in shown if table is not None] == [tables()[name]], (
        "run: python -m tests.docs.tables"
    )


def test_every_command_stands_in_one_table() -> None:
    listed = [name for names in GROUPS.values() for name in names]
    assert sorted(listed) == sorted(commands())


def test_a_docstring_of_several_lines_fits_into_one_cell() -> None:
    assert first_sentences("\n    Move a part,\n    cost and all.\n\n    Without a TAG, the shelf.\n") == (
        "Move a part, cost and all."
    )
    assert all("\n" not in words and words for words in commands().values())


def test_it_is_short() -> None:
    assert len(TEXT.splitlines()) < LONGEST


def test_it_opens_with_one_paragraph_and_a_picture() -> None:
    title, paragraph, picture = TEXT.split("\n\n")[:3]
    assert title == "# bench"
    assert not paragraph.startswith(("#", "!", "-", "|"))
    assert picture.startswith("![")


def test_it_offers_exactly_two_commands_to_begin_with() -> None:
    commands_at_first = [block.strip() for block in blocks(TEXT, "sh") if block.startswith("python3")]
    assert len(commands_at_first) == 2
    assert commands_at_first[0].endswith("bench demo")
    assert commands_at_first[1] in (ROOT / ".ci" / "run").read_text(encoding="utf-8")


def test_every_link_leads_somewhere() -> None:
    assert links(TEXT)
    assert [link for link in links(TEXT) if not (ROOT / link).exists()] == []


def test_it_leads_to_every_page_of_the_manual() -> None:
    assert {f"bench/manual/{topic}.md" for topic in TOPICS} <= set(links(TEXT))


def test_the_tour_runs_as_it_is_printed(tmp_path: Path) -> None:
    """By the shell, from its first line to its last, where the first command has made the environment."""
    [tour] = [block for block in blocks(TEXT, "sh") if block.startswith(". .venv")]
    assert len(re.findall("^bench ", tour, re.MULTILINE)) > 10
    (tmp_path / ".venv").symlink_to(VENV)
    ran = subprocess.run(
        ["sh", "-e", "-u", "-c", tour],
        cwd=tmp_path,
        env={"HOME": str(tmp_path), "PATH": os.defpath, "LANG": "C.UTF-8", "TERM": "dumb"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert (ran.returncode, ran.stderr) == (0, "")
    assert (tmp_path / "tour.bench").exists()
    for told in ("Tollgate", "10629", "isopropyl", "10330"):
        assert told.casefold() in ran.stdout.casefold(), told


def test_every_command_named_in_the_text_exists() -> None:
    assert named_commands(TEXT)
    assert [name for name in named_commands(TEXT) if name not in commands()] == []
