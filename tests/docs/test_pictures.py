"""The pictures that are shown come out the same however often they are made, and all of them are made."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from screenshots.make import SHOWN_SIZE, draw
from screenshots.pictures import PICTURES, SHOWN

ROOT = Path(__file__).parents[2]
FOLDER = ROOT / "screenshots"


pytestmark = pytest.mark.usefixtures("quiet_terminal")


async def test_the_first_screen_is_drawn_alike_twice() -> None:
    first, again = [await draw(PICTURES[0], (80, 24)) for _ in range(2)]
    assert first == again
    assert "Tollgate" in first


def shown_pictures() -> set[str]:
    columns, rows = SHOWN_SIZE
    return {f"{name}-{columns}x{rows}" for name in SHOWN}


def test_every_picture_is_there_and_no_other() -> None:
    assert {path.stem for path in FOLDER.glob("*.png")} == shown_pictures()
    assert set(SHOWN) <= {picture.name for picture in PICTURES}


def test_all_of_them_together_stay_small() -> None:
    assert sum(path.stat().st_size for path in FOLDER.glob("*.png")) < 1_200_000


def test_pictures_shown_are_pictures_made() -> None:
    documents = (ROOT / "README.md", *(ROOT / "bench" / "manual").glob("*.md"))
    text = "".join(path.read_text(encoding="utf-8") for path in documents)
    named = re.findall(r"screenshots/([\w-]+)\.png", text)
    assert named
    assert set(named) <= shown_pictures()
