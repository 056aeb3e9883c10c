"""bench listing and bench public: priced, in the shop's own words, with public tasks alone."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tests.test_cli import Did, Refused


def added(did: Did, route: str = "full") -> str:
    facts: Any = json.loads(did("add", "Model A", "--route", route, "--json"))
    return str(facts["tag"])


def test_a_price_and_shipping_by_command(did: Did, refused: Refused) -> None:
    tag = added(did)
    did("listing", "--shipping", "sent for 8")
    assert "sent for 8" in did("listing", tag)
    told = did("listing", tag, "--price", "249.50", "--shipping", "only fetched")
    assert "249.50 EUR" in told
    assert "only fetched" in told
    facts = json.loads(did("listing", tag, "--json"))
    assert (facts["shape"], facts["price_minor"], facts["shipping"]) == (2, 24_950, "only fetched")
    did("undo")
    assert "sent for 8" in did("listing", tag)
    assert "“cheap”" in refused(2, "listing", tag, "--price", "cheap")
    assert "Which unit is meant?" in refused(2, "listing")
    assert "is of one unit" in refused(2, "listing", "--price", "3", "--words")
    assert "of every unit" in refused(2, "listing", tag, "--words")


def test_the_template_comes_from_a_file_and_goes_again(did: Did, refused: Refused, tmp_path: Path) -> None:
    tag = added(did)
    file = tmp_path / "words.txt"
    did("listing", "--words", "--to", str(file))
    words = file.read_text("utf-8")
    assert words == did("listing", "--words")
    file.write_text(words.replace("Faults and wear", "Mind this"), encoding="utf-8")
    assert "own words" in did("listing", "--template", str(file))
    assert "Mind this\n- " in did("listing", tag)
    file.write_text("$title for little", encoding="utf-8")
    assert "leaves out $faults, $not_tested" in refused(2, "listing", "--template", str(file))
    assert "Mind this\n- " in did("listing", tag)
    file.write_bytes(b"\xff\xfe$")
    assert "is not UTF-8" in refused(2, "listing", "--template", str(file))
    assert "cannot be read" in refused(2, "listing", "--template", str(tmp_path / "none.txt"))
    assert "is of every unit" in refused(2, "listing", tag, "--template", str(file))
    file.write_text("", encoding="utf-8")
    assert "built-in" in did("listing", "--template", str(file))
    assert "Faults and wear\n- " in did("listing", tag)


@pytest.mark.parametrize("ending", ["txt", "html", "json"])
def test_it_is_written_in_each_form(did: Did, tmp_path: Path, ending: str) -> None:
    file = tmp_path / f"l.{ending}"
    did("listing", added(did), "--price", "99", "--to", str(file))
    assert "99.00 EUR" in file.read_text("utf-8")


def test_tasks_are_marked_public_by_command(did: Did, refused: Refused) -> None:
    tag = added(did)
    name = "look over and note faults"
    assert name not in did("listing", tag)
    assert "a listing may name it" in did("public", name, "--unit", tag)
    assert name in did("listing", tag)
    did("undo")
    assert name not in did("listing", tag)
    did("public", "look over", "--route", "full")
    assert name in did("listing", added(did))
    assert name not in did("listing", tag)
    assert "no listing names it" in did("public", "look over", "--route", "full", "--no")
    assert name not in did("listing", added(did))
    assert "Whose task" in refused(2, "public", name)
    assert "There is no task" in refused(3, "public", "no such", "--unit", tag)
