"""Photographs by command: kept, listed, told of, removed, erased, and in papers."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.pictures import jpeg, png
from tests.test_cli import Did, Refused


@pytest.fixture
def front(tmp_path: Path) -> str:
    path = tmp_path / "phone front.jpg"
    path.write_bytes(jpeg())
    return str(path)


@pytest.fixture
def tag(did: Did) -> str:
    did("add", "Model", "--maker", "Maker", "--tag", "10014", "--route", "full refurbish")
    return "10014"


def test_pictures_are_kept_and_listed(did: Did, tag: str, front: str, tmp_path: Path) -> None:
    assert did("photo", tag) == "Photographs of 10014 Maker Model\n\nNo photograph is kept.\n"
    other = tmp_path / "back.png"
    other.write_bytes(png())
    kept = did("photo", tag, front, str(other), "--caption", "as it [b]came[/b]", "--shown")
    assert kept == "10014: 1 phone-front.jpg kept.\n10014: 2 back.png kept.\n"
    assert did("photo", tag, front) == "10014: 1 phone-front.jpg is there already and was not kept twice.\n"
    shown = did("photo", tag)
    assert "as it [b]came[/b]" in shown
    assert "in papers" in shown
    assert "Copies of the data file do not hold the pictures" in shown
    folder = did("photo", tag, "--folder").rstrip()
    assert sorted(one.name for one in Path(folder).iterdir()) == ["back.png", "phone-front.jpg"]
    found = json.loads(did("photo", tag, "--json"))
    assert (found["document"], len(found["lines"])) == ("photographs", 2)
    assert found["lines"][0]["path"] == f"{folder}/phone-front.jpg"
    again = json.loads(did("photo", tag, front, "--json"))
    assert again["photographs"][0]["outcome"] == "there"


def test_one_is_told_of_removed_and_brought_back(did: Did, refused: Refused, tag: str, front: str) -> None:
    did("photo", tag, front)
    assert "the lid" in did("photo", tag, "--set", "1", "--caption", "the lid", "--shown")
    assert "phone-front.jpg: the lid" in did("listing", tag)
    assert "phone-front.jpg" not in did("photo", tag, "--remove", "1")
    assert "phone-front.jpg" not in did("listing", tag)
    did("undo")
    assert "the lid" in did("photo", tag)
    assert "Nothing is said" in refused(2, "photo", tag, "--set", "1")
    assert "no photograph with number 7" in refused(3, "photo", tag, "--remove", "7")
    assert "Only one thing" in refused(2, "photo", tag, front, "--folder")


def test_one_shows_a_fault_and_a_step_of_its_model(did: Did, refused: Refused, tag: str, front: str) -> None:
    did("fault", tag, "hinge cracked")
    did("model", tag, "--step", "cover off")
    assert "Write it as in f7" in refused(2, "photo", tag, front, "--fault", "hinge")
    assert "no step" in refused(3, "photo", tag, front, "--step", "2").casefold()
    did("photo", tag, front, "--fault", "f1", "--shown")
    [line] = json.loads(did("photo", tag, "--json"))["lines"]
    assert (line["fault_id"], line["fault"], line["model"]) == (1, "hinge cracked", False)
    assert "phone-front.jpg: shows: hinge cracked" in did("listing", tag)
    assert "phone-front.jpg" in did("fault", "f1")
    did("photo", tag, "--set", "1", "--step", "1")
    assert "phone-front" in did("model", tag, "--json")
    assert json.loads(did("model", tag, "--json"))["photographs"][0]["position"] == 1
    did("photo", tag, "--set", "1", "--no-model")
    assert json.loads(did("model", tag, "--json"))["photographs"] == []
    did("fault", "f1", "--cured", "hinge replaced")
    assert "shows: hinge" not in did("listing", tag)


def test_one_is_erased_only_when_it_is_meant(did: Did, refused: Refused, tag: str, front: str) -> None:
    did("photo", tag, front, "--caption", "the lid")
    assert "nobody is there to ask" in refused(2, "photo", tag, "--erase", "1")
    folder = Path(did("photo", tag, "--folder").rstrip())
    assert (folder / "phone-front.jpg").exists()
    assert "It cannot be undone" in did("photo", tag, "--erase", "1", "--yes")
    assert not folder.exists()
    assert "no photograph with number 1 to erase" in refused(3, "photo", tag, "--erase", "1", "--yes")
    assert "erased" in did("photo", tag)


def test_papers_show_those_that_are_meant_for_them(did: Did, tag: str, front: str, tmp_path: Path) -> None:
    did("photo", tag, front, "--caption", "a <b>bold</b> lid", "--shown")
    for command in ("sheet", "listing"):
        page = tmp_path / f"{command}.html"
        did(command, tag, "--to", str(page))
        text = page.read_text(encoding="utf-8")
        assert text.count('<img src="data:image/jpeg;base64,') == 1
        assert "a &lt;b&gt;bold&lt;/b&gt; lid" in text
        assert "phone-front.jpg: a <b>bold</b> lid" in did(command, tag)
    did("photo", tag, "--set", "1", "--not-shown")
    assert "phone-front.jpg" not in did("sheet", tag)


def test_a_paper_says_where_a_picture_is_missing(did: Did, tag: str, front: str, tmp_path: Path) -> None:
    did("photo", tag, front, "--caption", "the lid", "--shown")
    (Path(did("photo", tag, "--folder").rstrip()) / "phone-front.jpg").unlink()
    page = tmp_path / "sheet.html"
    did("sheet", tag, "--to", str(page))
    text = page.read_text(encoding="utf-8")
    assert "<img" not in text
    assert "the lid (the picture&#x27;s file is missing or damaged)" in text
    assert "on record, but its file is missing: 10014/phone-front.jpg" in did("check")
    assert json.loads(did("check", "--json"))["photographs"]["missing"] == ["10014/phone-front.jpg"]
    assert "! missing" in did("photo", tag)


def test_a_task_and_a_graded_part_are_named(did: Did, refused: Refused, tag: str, front: str) -> None:
    assert "graded part" in refused(3, "photo", tag, front, "--grade", "lid")
    did("photo", tag, front, "--task", "1")
    found = json.loads(did("photo", tag, "--json"))
    assert found["lines"][0]["task"] == json.loads(did("unit", tag, "--json"))["tasks"][0]["name"]


def test_a_copy_says_that_it_holds_no_picture(did: Did, tag: str, front: str) -> None:
    assert "photographs" not in did("backup")
    did("photo", tag, front)
    assert "It does not hold the photographs" in did("backup")
    assert "do not hold the photographs" in did("restore")
