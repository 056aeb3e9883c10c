"""Opening every form, against an empty modal with one input, opened in turn in the same app.

From the key to the last drawing of what it reads, by the clock and in the processor's time: the second does
not count the waiting for a frame or for a busy machine, and is what the bounds are for. Memory in cycles is
looked for as the program does it once it is loaded, in both alike.
"""

from __future__ import annotations

import gc
import time
from pathlib import Path
from statistics import median
from typing import Any, NamedTuple

from rich.console import RenderableType
from textual.app import ComposeResult
from textual.containers import Vertical
from textual.pilot import Pilot
from textual.screen import ModalScreen, Screen
from textual.widgets import Input

from bench.dashboard.app import look_for_cycles
from bench.desk import Desk
from bench.work.demo import make_demo
from bench.work.files import open_or_new
from tests.clocks import HandSetClock
from tests.screen.every_form import FORMS
from tests.screen.host import Host, settled

RUNS = 7
AT_MOST = 3.2
AT_MOST_LONG = {"LotForm": 4.5, "OfferForm": 4.5}


class Taken(NamedTuple):
    """Milliseconds by the clock, and of the processor."""

    by_clock: float
    of_processor: float


class EmptyModal(ModalScreen[None]):
    """The floor: one input over what is beneath."""

    def compose(self) -> ComposeResult:
        """The input."""
        with Vertical():
            yield Input()


class Drawing(Host):
    """Knows when it drew last."""

    drawn = Taken(0, 0)

    def _display(self, screen: Screen[Any], renderable: RenderableType | None) -> None:
        super()._display(screen, renderable)
        if renderable is not None:
            self.drawn = now()


def now() -> Taken:
    """Both clocks."""
    return Taken(time.perf_counter() * 1000, time.process_time() * 1000)


async def time_to_open(pilot: Pilot[int], screen: Screen[Any]) -> Taken:
    """From the key to the last drawing of the dialog: composed, read, laid out, begun."""
    app = pilot.app
    assert isinstance(app, Drawing)
    began = now()
    app.push_screen(screen)
    await settled(pilot)
    taken = Taken(*(after - before for before, after in zip(began, app.drawn, strict=True)))
    app.pop_screen()
    await settled(pilot)
    return taken


async def test_every_form_opens(tmp_path: Path) -> None:
    path = tmp_path / "demo.bench"
    make_demo(path, HandSetClock()).close()
    desk = Desk(open_or_new(path), HandSetClock(), person_id=1)
    app = Drawing(desk)
    ratios: dict[str, Taken] = {}
    async with app.run_test(size=(120, 36)) as pilot:
        await time_to_open(pilot, EmptyModal())
        look_for_cycles()
        for name, opening in FORMS.items():
            gc.collect()
            await time_to_open(pilot, opening(desk))
            floor, ours = [], []
            for _ in range(RUNS):
                floor.append(await time_to_open(pilot, EmptyModal()))
                ours.append(await time_to_open(pilot, opening(desk)))
            ratios[name] = Taken(
                median(one.by_clock for one in ours) / median(one.by_clock for one in floor),
                median(one.of_processor for one in ours) / median(one.of_processor for one in floor),
            )
    print("\nopening against an empty modal: by the clock, in processor time")
    for name, ratio in sorted(ratios.items(), key=lambda one: one[1].of_processor):
        print(f"{name:20} {ratio.by_clock:5.2f} {ratio.of_processor:5.2f}")
    slow = [name for name, ratio in ratios.items() if ratio.of_processor > AT_MOST_LONG.get(name, AT_MOST)]
    assert not slow
