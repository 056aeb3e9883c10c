"""The contributor's guide is true: its paths, commands and dependencies are held against the tree."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
TEXT = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
NAME = re.compile(r"[a-z0-9-]+")


def rows_under(heading: str) -> list[list[str]]:
    """The cells of the first table under a heading, without its head."""
    section = TEXT.partition(f"## {heading}\n")[2].partition("\n## ")[0]
    lines = [line for line in section.splitlines() if line.startswith("|")]
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in lines[2:]]


def test_what_the_map_of_the_tree_names_is_there() -> None:
    paths = [path for row in rows_under("The tree") for path in re.findall(r"`([^`]+)`", row[0])]
    assert len(paths) > 10
    assert [path for path in paths if not (ROOT / path).exists()] == []


def test_every_folder_of_the_package_is_on_the_map() -> None:
    mapped = "".join(row[0] for row in rows_under("The tree"))
    folders = [one for one in (ROOT / "bench").iterdir() if (one / "__init__.py").exists()]
    assert folders
    assert [one.name for one in folders if f"`bench/{one.name}/`" not in mapped] == []


def test_every_dependency_has_a_reason_and_no_other_is_named() -> None:
    asked = [
        *PROJECT["dependencies"],
        *(one for extra in PROJECT["optional-dependencies"].values() for one in extra),
    ]
    wanted = {NAME.match(one.lower())[0] for one in asked}  # type: ignore[index]
    rows = rows_under("Dependencies, and why")
    named = {name.strip() for row in rows for name in row[0].split(",")}
    assert named == wanted
    assert all(row[1] for row in rows)


@pytest.mark.parametrize("part", ["README.md", "CHANGELOG.md", "DEVELOPERS.md"])
def test_a_document_says_nothing_of_being_safe_but_that_nothing_is(part: str) -> None:
    text = (ROOT / part).read_text(encoding="utf-8").casefold()
    claims = [line for line in text.splitlines() if re.search(r"\bis safe\b|\bsafely\b", line)]
    assert all("nothing" in line or "no text" in line for line in claims), claims


def test_commands_name_files_and_extras_that_exist() -> None:
    text = " ".join(row[1] for row in rows_under("Commands"))
    assert set(re.findall(r"--extra (\w+)", text)) <= set(PROJECT["optional-dependencies"])
    scripts = re.findall(r"(?:python|bash) ([\w./]+(?:\.py|run))", text)
    assert scripts
    assert [path for path in scripts if not (ROOT / path).exists()] == []
    assert list(ROOT.glob("tests/benchmarks/measure_*.py"))


def test_the_changelog_begins_with_what_is_unreleased() -> None:
    headings = re.findall(r"^## (.+)$", (ROOT / "CHANGELOG.md").read_text(encoding="utf-8"), re.MULTILINE)
    assert headings[0] == "Unreleased"
