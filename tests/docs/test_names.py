"""A reader guesses what is in a file from its name: few endings, each explained; one subject to a name."""

from __future__ import annotations

import re
from collections import defaultdict
from pathlib import Path

ROOT = Path(__file__).parents[2]
TOLD = (ROOT / "DEVELOPERS.md").read_text("utf-8").partition("## Names\n")[2].partition("\n## ")[0]
MODULES = [
    path
    for path in (ROOT / "bench").rglob("*.py")
    if path.stem != "__init__" and "versions" not in path.parts
]
MOST_ENDINGS = 6


def endings_told() -> set[str]:
    return set(re.findall(r"^\| `_(\w+)` \|", TOLD, re.MULTILINE))


def subjects_told() -> set[str]:
    """Names that several files share, for they are about the same thing."""
    listed = TOLD.partition("Subjects: ")[2].partition(".\n")[0]
    return set(re.findall(r"`(\w+)`", listed))


def test_an_ending_of_several_names_is_explained() -> None:
    names: defaultdict[str, set[str]] = defaultdict(set)
    for path in MODULES:
        first, _, last = path.stem.rpartition("_")
        if first:
            names[last].add(path.stem)
    endings = {ending for ending, of_it in names.items() if len(of_it) > 2}
    assert endings == endings_told()
    assert len(endings) <= MOST_ENDINGS


def test_a_name_of_several_files_is_that_of_a_subject() -> None:
    folders: defaultdict[str, list[str]] = defaultdict(list)
    for path in MODULES:
        folders[path.stem].append(path.parent.name)
    shared = {name for name, held_by in folders.items() if len(held_by) > 1}
    assert shared == subjects_told()
