"""Make the pictures of every screen from the demo workshop: `python screenshots/make.py`.

The clock stands still, so that the same program draws the same pictures. PNG files need Chromium.
"""

from __future__ import annotations

import asyncio
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from textual.pilot import Pilot

    from bench.work.desk import Desk

HERE = Path(__file__).parent
NOW_US = 1_795_616_640_000_000  # Wednesday 2026-11-25, 15:24 in the demo's zone
SIZES = ((80, 24), (120, 36), (200, 50))
CHROMIUMS = ("chromium", "chromium-browser", "google-chrome")
# What a person has set for their own terminal must not show in the pictures.
TERMINAL_SETTINGS = ("NO_COLOR", "COLORFGBG", "TEXTUAL_THEME", "TEXTUAL_COLOR_SYSTEM")

ALARM = "10670"  # its battery was left connected with the lid off
RUNNING = "10629"
READY_TO_CLOSE = "10581"
ON_ITS_WAY = "10604"
FINISHED = "10549"
WIPED = "10653"  # not verified yet
CAME_BACK = "10330"


@dataclass(frozen=True)
class StandingClock:
    """A clock that shows one instant."""

    wall_us: int = NOW_US

    def now_us(self) -> int:
        """That instant."""
        return self.wall_us

    def steady_us(self) -> int:
        """It stands still as well."""
        return self.wall_us


@dataclass(frozen=True)
class Picture:
    """A picture's name, the unit to go to first, and the keys that lead to what it shows."""

    name: str
    unit: str
    keys: tuple[str, ...] = ()


PICTURES = (
    Picture("first", RUNNING),
    Picture("battery-connected", ALARM),
    Picture("unit", RUNNING, ("enter",)),
    Picture("stock", RUNNING, ("t",)),
    Picture("consumable", RUNNING, ("t", "enter")),
    Picture("week", RUNNING, ("w",)),
    Picture("journal", RUNNING, ("j",)),
    Picture("routes", RUNNING, ("v",)),
    Picture("settings", RUNNING, ("comma",)),
    Picture("calculators", RUNNING, ("l", "enter", *"5.5", "down", *"3.5", "down", *"30")),
    Picture("help", RUNNING, ("f1",)),
    Picture("more", FINISHED, ("f",)),
    Picture("what-next", RUNNING, ("f2",)),
    Picture("buying", RUNNING, ("f3",)),
    Picture("dialog-offer", RUNNING, ("f3", "enter")),
    Picture("dialog-buy", RUNNING, ("f3", "b")),
    Picture("lots", RUNNING, ("f4",)),
    Picture("dialog-lot", RUNNING, ("f4", "n")),
    Picture("register", RUNNING, ("f5",)),
    Picture("month", RUNNING, ("f6",)),
    Picture("year", RUNNING, ("f6", "y")),
    Picture("trading-settings", RUNNING, ("f", "t")),
    Picture("condition", FINISHED, ("f", "c")),
    Picture("dialog-reading", FINISHED, ("f", "c", "n")),
    Picture("dialog-weigh-battery", FINISHED, ("f", "c", "w")),
    Picture("drives", WIPED, ("f", "d")),
    Picture("dialog-wipe", WIPED, ("f", "d", "w")),
    Picture("certificate", FINISHED, ("f", "d", "c")),
    Picture("parts", READY_TO_CLOSE, ("f", "p")),
    Picture("grade", FINISHED, ("f", "g")),
    Picture("money", CAME_BACK, ("f", "m")),
    Picture("papers", FINISHED, ("f", "h", "tab")),
    Picture("dialog-sell", FINISHED, ("f", "s")),
    Picture("dialog-return", CAME_BACK, ("f", "k")),
    Picture("dialog-new-unit", RUNNING, ("n",)),
    Picture("dialog-opening-list", ALARM, ("o",)),
    Picture("dialog-close-up-list", READY_TO_CLOSE, ("c",)),
    Picture("dialog-bad-cell", ALARM, ("x",)),
    Picture("dialog-finish", RUNNING, ("d",)),
    Picture("dialog-unfinished-tasks", RUNNING, ("m",)),
    Picture("dialog-restock", RUNNING, ("r",)),
    Picture("dialog-count", RUNNING, ("k",)),
    Picture("dialog-correct-entry", RUNNING, ("w", "tab", "tab", "e")),
    Picture("dialog-hold", ON_ITS_WAY, ("h",)),
)


@contextmanager
def demo_desk() -> Iterator[Desk]:
    """The demo workshop at the pictures' instant, in a file of its own that goes afterwards."""
    from bench.work.demo import make_demo
    from bench.work.desk import Desk

    with TemporaryDirectory(prefix="bench-pictures-") as folder:
        store = make_demo(Path(folder) / "demo.bench", StandingClock())
        try:
            yield Desk(store, StandingClock(), person_id=1)
        finally:
            store.close()


async def draw(picture: Picture, size: tuple[int, int]) -> str:
    """The picture as SVG, on a demo of its own."""
    from bench.dashboard.app import BenchApp

    with demo_desk() as desk:
        app = BenchApp(desk)
        async with app.run_test(size=size) as pilot:
            await _settled(pilot)
            for key in (*picture.unit, "enter", *picture.keys):
                await pilot.press(key)
                await _settled(pilot)
            return app.export_screenshot(title=f"bench, {picture.name}")


async def _settled(pilot: Pilot[int]) -> None:
    """Wait until what was asked for has been read and drawn, and let no text cursor blink."""
    from textual.widgets import Input

    for _ in range(3):
        await pilot.app.workers.wait_for_complete()
        await pilot.pause()
    for field in pilot.app.screen.query(Input):
        field.cursor_blink = False
    await pilot.pause()


def quiet_terminal() -> None:
    """Take the person's own terminal settings out of the environment. Before Textual is imported."""
    for name in TERMINAL_SETTINGS:
        os.environ.pop(name, None)
    os.environ.update(TEXTUAL_ANIMATIONS="none", COLORTERM="truecolor")


def to_png(svg: Path, chromium: str) -> None:
    """Have Chromium draw the SVG into a PNG beside it."""
    found = re.search(r'viewBox="0 0 ([0-9.]+) ([0-9.]+)"', svg.read_text(encoding="utf-8"))
    if found is None:
        raise ValueError(f"{svg} does not say how large it is")
    width, height = (round(float(side)) for side in found.groups())
    subprocess.run(
        [
            chromium,
            "--headless=new",
            "--no-sandbox",
            "--hide-scrollbars",
            f"--window-size={width},{height}",
            f"--screenshot={svg.with_suffix('.png')}",
            svg.as_uri(),
        ],
        check=True,
        capture_output=True,
        timeout=60,
    )


def main(names: list[str]) -> int:
    """Make all pictures, or those named; answers the exit code."""
    quiet_terminal()
    chromium = next((path for name in CHROMIUMS if (path := shutil.which(name))), None)
    if chromium is None:
        print("No Chromium here: the SVG files are made, the PNG files stay as they are.", file=sys.stderr)
    for picture in PICTURES:
        if names and picture.name not in names:
            continue
        for columns, rows in SIZES:
            svg = HERE / f"{picture.name}-{columns}x{rows}.svg"
            svg.write_text(asyncio.run(draw(picture, (columns, rows))), encoding="utf-8")
            if chromium is not None:
                to_png(svg, chromium)
            print(svg.name)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
