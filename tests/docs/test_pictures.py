"""The pictures come out the same however often they are made, and every one that a document shows is made."""

from __future__ import annotations

import hashlib
import re
from pathlib import Path

import pytest
from PIL import Image

from screenshots.make import SIZES, TERMINAL_SETTINGS, draw
from screenshots.pictures import PICTURES

ROOT = Path(__file__).parents[2]
FOLDER = ROOT / "screenshots"
TITLE_PIXELS = 34  # above it stands the picture's own name


@pytest.fixture(autouse=True)
def quiet_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in TERMINAL_SETTINGS:
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("TEXTUAL_ANIMATIONS", "none")
    monkeypatch.setenv("COLORTERM", "truecolor")


async def test_the_first_screen_is_drawn_alike_twice() -> None:
    first, again = [await draw(PICTURES[0], (80, 24)) for _ in range(2)]
    assert first == again
    assert "Tollgate" in first


def every_picture() -> set[str]:
    return {f"{picture.name}-{columns}x{rows}" for picture in PICTURES for columns, rows in SIZES}


def test_every_picture_is_there_and_no_other() -> None:
    assert {path.stem for path in FOLDER.glob("*.png")} == every_picture()


def test_no_two_pictures_show_the_same() -> None:
    """Keys that lead nowhere would leave a picture of another screen."""
    shown = [(path.stem, hashlib.sha256(below_the_title(path)).hexdigest()) for path in FOLDER.glob("*.png")]
    assert len({seen for _, seen in shown}) == len(shown) > 100


def below_the_title(path: Path) -> bytes:
    with Image.open(path) as picture:
        return picture.convert("RGB").crop((0, TITLE_PIXELS, *picture.size)).tobytes()


def test_all_of_them_together_stay_small() -> None:
    assert sum(path.stat().st_size for path in FOLDER.glob("*.png")) < 12_500_000


def test_pictures_shown_are_pictures_made() -> None:
    made = every_picture()
    shown = re.findall(r"screenshots/([\w-]+)\.png", (ROOT / "README.md").read_text(encoding="utf-8"))
    assert shown
    assert set(shown) <= made
