"""Every screen and main dialog as text at three sizes, held against what it was when someone looked at it.

What changed on purpose is written down by `python -m tests.docs.screens_as_text`, and seen in the diff.
Not part of the suite: `pytest tests/docs/screens_as_text.py`, some minutes.
"""

from __future__ import annotations

import asyncio
import sys
from pathlib import Path

import pytest

from screenshots.make import SIZES, TERMINAL_SETTINGS, as_drawn, opened, quiet_terminal, settled
from screenshots.pictures import PICTURES, Picture

FOLDER = Path(__file__).parent / "snapshots"


@pytest.fixture(autouse=True)
def _quiet(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in TERMINAL_SETTINGS:
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("TEXTUAL_ANIMATIONS", "none")
    monkeypatch.setenv("COLORTERM", "truecolor")


async def as_text(picture: Picture) -> str:
    """What is seen at the three sizes, each under a line that names it; the window grows in between."""
    texts = []
    async with opened(picture, SIZES[0]) as pilot:
        for columns, rows in SIZES:
            await pilot.resize_terminal(columns, rows)
            await settled(pilot)
            whole = "".join(piece.text for piece in as_drawn(pilot.app) if not piece.control)
            lines = [line.rstrip() for line in whole.split("\n")[:rows]]
            texts.append(f"=== {columns} x {rows}\n" + "\n".join(lines))
    return "\n".join(texts) + "\n"


@pytest.mark.parametrize("picture", PICTURES, ids=lambda picture: picture.name)
async def test_it_looks_as_it_did(picture: Picture) -> None:
    kept = (FOLDER / f"{picture.name}.txt").read_text(encoding="utf-8")
    assert await as_text(picture) == kept


def test_every_snapshot_is_there_no_other_and_none_twice() -> None:
    """Keys that lead nowhere would leave a snapshot of another screen."""
    assert {path.stem for path in FOLDER.glob("*.txt")} == {picture.name for picture in PICTURES}
    seen = {path.read_text(encoding="utf-8") for path in FOLDER.glob("*.txt")}
    assert len(seen) == len(PICTURES)


if __name__ == "__main__":
    quiet_terminal()
    FOLDER.mkdir(exist_ok=True)
    for one in PICTURES:
        if not sys.argv[1:] or one.name in sys.argv[1:]:
            (FOLDER / f"{one.name}.txt").write_text(asyncio.run(as_text(one)), encoding="utf-8")
