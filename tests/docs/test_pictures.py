"""The pictures come out the same however often they are made, and every one that a document shows is made."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from screenshots.make import PICTURES, SIZES, TERMINAL_SETTINGS, draw

ROOT = Path(__file__).parents[2]


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


def test_pictures_shown_are_pictures_made() -> None:
    made = {f"{picture.name}-{columns}x{rows}" for picture in PICTURES for columns, rows in SIZES}
    shown = re.findall(r"screenshots/([\w-]+)\.png", (ROOT / "README.md").read_text(encoding="utf-8"))
    assert shown
    assert set(shown) <= made
