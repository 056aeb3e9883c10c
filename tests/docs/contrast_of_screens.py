"""Every screen and main dialog in both themes: each letter against its ground.

At least 4.5:1, as WCAG 2.2 asks of text (success criterion 1.4.3); relative luminance and ratio as defined
there. Lines, bars and blocks are no text. What lies dimmed beneath a dialog cannot be used while that is
open: the criterion exempts inactive parts. Not part of the suite: `pytest tests/docs/contrast_of_screens.py`,
some minutes; `tests/screen/test_contrast.py` holds every look on every ground quickly.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator

import pytest
from rich.color import ColorTriplet
from rich.segment import Segment
from textual.app import App
from textual.geometry import Region

from bench.dashboard.screens.dialogs.dialog import Dialog
from bench.dashboard.themes import DARK, LIGHT
from screenshots.make import SIZES, as_drawn, opened, settled
from screenshots.pictures import PICTURES, Picture
from tests.docs.contrast import LEAST, contrast

SIZE = SIZES[1]
pytestmark = pytest.mark.usefixtures("quiet_terminal")


def cells(app: App[int]) -> Iterator[tuple[int, int, str, ColorTriplet, ColorTriplet]]:
    """Column, line, letter and its two colours, of all letters that are to be read."""
    x = y = 0
    boxes = _boxes(app)
    for text, style, control in _pieces(as_drawn(app)):
        if control:
            continue
        if text == "\n":
            x, y = 0, y + 1
            continue
        for letter in text:
            used = any(one.contains(x, y) for one in boxes)
            if used and letter.strip() and unicodedata.category(letter) != "So":
                assert style is not None
                assert style.color is not None
                assert style.bgcolor is not None
                front, back = style.color.get_truecolor(), style.bgcolor.get_truecolor(foreground=False)
                yield x, y, letter, *((back, front) if style.reverse else (front, back))
            x += max(1, Segment(letter).cell_length)


def _pieces(drawn: list[Segment]) -> Iterator[Segment]:
    for piece in drawn:
        lines = piece.text.split("\n")
        for at, line in enumerate(lines):
            if at:
                yield Segment("\n")
            yield Segment(line, piece.style, piece.control)


def _boxes(app: App[int]) -> list[Region]:
    """Where what can be used now stands; over a dialog the alarm too."""
    if isinstance(app.screen, Dialog):
        return [app.screen.query_one(name).region for name in ("#box", "AlarmBar")]
    return [app.screen.region]


@pytest.mark.parametrize("picture", PICTURES, ids=lambda picture: picture.name)
async def test_every_letter_can_be_read(picture: Picture) -> None:
    async with opened(picture, SIZE) as pilot:
        for theme in (DARK, LIGHT):
            pilot.app.theme = theme.name
            await settled(pilot)
            seen = list(cells(pilot.app))
            assert len(seen) > 40
            faint: dict[tuple[str, str], str] = {}
            for x, y, letter, front, back in seen:
                if contrast(front, back) < LEAST:
                    words = faint.get((front.hex, back.hex), f"{x},{y} ")
                    faint[front.hex, back.hex] = words + letter
            told = {f"{theme.name} {front} on {back}: {words}" for (front, back), words in faint.items()}
            assert not told
