"""Make the pictures that are shown, from the demo workshop: `python -m screenshots.make`.

The clock stands still, so that the same program draws the same pictures. Names of pictures may follow: those
are made at three sizes into `screenshots/looked-at/`, to be looked at and not kept. Needs Chromium; Pillow
makes the files a third of the size.
"""

from __future__ import annotations

import asyncio
import os
import re
import shutil
import subprocess
import sys
from collections.abc import AsyncIterator, Iterator
from contextlib import asynccontextmanager, contextmanager
from dataclasses import dataclass
from functools import cache
from io import StringIO
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from PIL import Image
from rich.console import Console
from rich.segment import Segment, Segments
from rich.style import Style

from screenshots.pictures import PICTURES, SHOWN, Picture

Colour = tuple[int, int, int]

if TYPE_CHECKING:
    from textual.app import App
    from textual.pilot import Pilot

    from bench.desk import Desk

HERE = Path(__file__).parent
NOW_US = 1_795_616_640_000_000  # Wednesday 2026-11-25, 15:24 in the demo's zone
LOOKED_AT = HERE / "looked-at"
SIZES = ((80, 24), (120, 36), (200, 50))
SHOWN_SIZE = (120, 36)
FRAME_PIXELS = (8, 35)  # left of the terminal and above it, in the picture of Textual's SVG
FULL = "█"
CELL_PIXELS = 10 / 12.2  # a cell of Textual's SVG is 12.2 by 24.4: so it takes whole pixels, without seams
MOST_COLOURS, PALETTE, UNLIKE = 96, 256, 24
CHROMIUMS = ("chromium", "chromium-browser", "google-chrome")
# What a person has set for their own terminal must not show in the pictures.
TERMINAL_SETTINGS = ("NO_COLOR", "COLORFGBG", "TEXTUAL_THEME", "TEXTUAL_COLOR_SYSTEM")


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


@contextmanager
def demo_desk() -> Iterator[Desk]:
    """The demo workshop at the pictures' instant, in a file of its own that goes afterwards."""
    from bench.desk import Desk
    from bench.work.files import open_or_new

    with TemporaryDirectory(prefix="bench-pictures-", dir="/tmp") as folder:
        shutil.copytree(_demo_made_once().name, folder, dirs_exist_ok=True)
        store = open_or_new(Path(folder) / "demo.bench")
        try:
            yield Desk(store, StandingClock(), person_id=1)
        finally:
            store.close()


@cache
def _demo_made_once() -> TemporaryDirectory[str]:
    from bench.work.demo import make_demo

    folder = TemporaryDirectory(prefix="bench-pictures-")
    make_demo(Path(folder.name) / "demo.bench", StandingClock()).close()
    return folder


@contextmanager
def new_desk() -> Iterator[Desk]:
    """A file in which nobody has done anything, that goes afterwards."""
    from bench.desk import Desk
    from bench.work.files import open_or_new

    with TemporaryDirectory(prefix="bench-pictures-", dir="/tmp") as folder:
        store = open_or_new(Path(folder) / "new.bench", person="Ada", zone="Europe/Berlin")
        try:
            yield Desk(store, StandingClock(), person_id=1)
        finally:
            store.close()


async def draw(picture: Picture, size: tuple[int, int]) -> str:
    """The picture as SVG, on a demo of its own, or on a new file where it shows no unit."""
    async with opened(picture, size) as pilot:
        return _svg(pilot.app, f"bench, {picture.name}")


@asynccontextmanager
async def opened(picture: Picture, size: tuple[int, int]) -> AsyncIterator[Pilot[int]]:
    """The dashboard where the picture's keys have led it."""
    from bench.dashboard.app import BenchApp

    with demo_desk() if picture.unit else new_desk() as desk:
        app = BenchApp(desk)
        async with app.run_test(size=size) as pilot:
            await settled(pilot)
            to_unit = (*picture.unit, "enter") if picture.unit else ()
            for key in (*to_unit, *picture.keys):
                await pilot.press(key)
                await settled(pilot)
            yield pilot


def as_drawn(app: App[int]) -> list[Segment]:
    """What the screen shows, in pieces with their looks."""
    update = app.screen._compositor.render_update(full=True, screen_stack=app._background_screens)
    return list(_console(app).render(update))


def _without_seams(piece: Segment) -> Segment:
    """Full blocks as their own ground."""
    text, style, control = piece
    if control or style is None or not text or set(text) != {FULL}:
        return piece
    return Segment(" " * len(text), style + Style(bgcolor=style.color))


def _svg(app: App[int], title: str) -> str:
    console = _console(app)
    console.print(Segments(map(_without_seams, as_drawn(app))))
    return console.export_svg(title=title)


def _console(app: App[int]) -> Console:
    width, height = app.size
    return Console(
        width=width,
        height=height,
        file=StringIO(),
        force_terminal=True,
        color_system="truecolor",
        record=True,
        legacy_windows=False,
        safe_box=False,
    )


async def settled(pilot: Pilot[int]) -> None:
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


def to_png(svg: Path, png: Path, chromium: str, columns: int, rows: int) -> None:
    """Have Chromium draw the SVG into a PNG."""
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
            f"--force-device-scale-factor={CELL_PIXELS}",
            f"--window-size={width},{height}",
            f"--screenshot={png}",
            svg.as_uri(),
        ],
        check=True,
        capture_output=True,
        timeout=60,
    )
    cut_out(png, columns, rows)
    make_small(png)


def cut_out(png: Path, columns: int, rows: int) -> None:
    """Keep the terminal alone, without the window that the SVG draws around it."""
    with Image.open(png) as opened:
        picture = opened.convert("RGB")
    left, top = FRAME_PIXELS
    picture.crop((left, top, left + columns * 10, top + rows * 20)).save(png)


def make_small(png: Path) -> None:
    """Keep the commonest colours and every one that is unlike them; the edges of letters take the nearest."""
    with Image.open(png) as opened:
        image = opened.convert("RGB")
    counted = image.getcolors(image.width * image.height) or []
    kept = _kept([colour for _, colour in sorted(counted, reverse=True)])
    palette = Image.new("P", (1, 1))
    palette.putpalette([value for colour in kept for value in colour])
    image.quantize(palette=palette, dither=Image.Dither.NONE).save(png, optimize=True)


def _kept(commonest_first: list[Colour]) -> list[Colour]:
    kept = commonest_first[:MOST_COLOURS]
    for colour in commonest_first[MOST_COLOURS:]:
        if len(kept) == PALETTE:
            break
        if min(max(abs(one - two) for one, two in zip(colour, have, strict=True)) for have in kept) > UNLIKE:
            kept.append(colour)
    return kept + kept[:1] * (PALETTE - len(kept))


def make(picture: Picture, size: tuple[int, int], chromium: str, folder: Path) -> Path:
    """One picture at one size; answers the file it is in."""
    columns, rows = size
    png = folder / f"{picture.name}-{columns}x{rows}.png"
    with TemporaryDirectory(prefix="bench-pictures-", dir="/tmp") as scratch:
        svg = Path(scratch) / f"{png.stem}.svg"
        svg.write_text(asyncio.run(draw(picture, size)), encoding="utf-8")
        to_png(svg, png, chromium, columns, rows)
    return png


def main(names: list[str]) -> int:
    """Make the pictures that are shown, or those named; answers the exit code."""
    by_name = {picture.name: picture for picture in PICTURES}
    unknown = set(names) - set(by_name)
    chromium = next((path for name in CHROMIUMS if (path := shutil.which(name))), None)
    if unknown or chromium is None:
        why = f"no picture is called {', '.join(sorted(unknown))}" if unknown else "there is no Chromium here"
        print(f"Nothing was made: {why}.", file=sys.stderr)
        return 1
    quiet_terminal()
    LOOKED_AT.mkdir(exist_ok=True)
    wanted = [(name, size, LOOKED_AT) for name in names for size in SIZES]
    for name, size, folder in wanted or [(name, SHOWN_SIZE, HERE) for name in SHOWN]:
        print(make(by_name[name], size, chromium, folder).name)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
