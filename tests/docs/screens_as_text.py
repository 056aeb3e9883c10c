"""Every screen and main dialog as text at three sizes, as it was when someone looked at it.

What changed on purpose is written down by `python -m tests.docs.screens_as_text`, and seen in the diff of
`test_snapshots.py`, which holds the screens against it.
"""

from __future__ import annotations

import asyncio
import re
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

from textual.app import App

from screenshots.make import SIZES, as_drawn, opened, quiet_terminal, settled
from screenshots.pictures import PICTURES, Picture

FOLDER = Path(__file__).parent / "snapshots"
LOOKS, A_LOOK_SECONDS = 100, 0.05  # so often is a screen looked at that is not yet as it was
OWN_FOLDER = re.compile(r"bench-pictures-\w+")  # where the demo lies, by chance


def drawn(app: App[Any]) -> str:
    """All that the terminal shows."""
    return "".join(piece.text for piece in as_drawn(app) if not piece.control)


async def as_text(picture: Picture, kept: str = "", *, whole: Callable[[App[Any]], str] = drawn) -> str:
    """What is seen at the three sizes, each under a line that names it; the window grows in between.

    `kept`: what it was. What differs from that is looked at again for a while: a busy machine draws late.
    `whole`: tells what the terminal shows.
    """
    texts = []
    async with opened(picture, SIZES[0]) as pilot:
        for columns, rows in SIZES:
            await pilot.resize_terminal(columns, rows)
            await settled(pilot)
            seen = _seen(whole(pilot.app), columns, rows)
            for _ in range(LOOKS if kept else 0):
                if seen in kept:
                    break
                await pilot.pause(A_LOOK_SECONDS)
                seen = _seen(whole(pilot.app), columns, rows)
            texts.append(seen)
    return "".join(texts)


def _seen(whole: str, columns: int, rows: int) -> str:
    lines = [OWN_FOLDER.sub("bench-pictures-xxxxxxxx", line).rstrip() for line in whole.split("\n")[:rows]]
    return "\n".join([f"=== {columns} x {rows}", *lines, ""])


if __name__ == "__main__":
    quiet_terminal()
    FOLDER.mkdir(exist_ok=True)
    for one in PICTURES:
        if not sys.argv[1:] or one.name in sys.argv[1:]:
            (FOLDER / f"{one.name}.txt").write_text(asyncio.run(as_text(one)), encoding="utf-8")
