"""Opening every form, against an empty modal with one input, opened in turn in the same app.

pytest -n 0 -s tests/benchmarks/measure_dialogs.py
"""

from __future__ import annotations

import gc
import time
from pathlib import Path
from statistics import median
from typing import Any

from rich.console import RenderableType
from textual.app import ComposeResult
from textual.containers import Vertical
from textual.pilot import Pilot
from textual.screen import ModalScreen, Screen
from textual.widgets import Input

from bench.desk import Desk
from bench.work.demo import make_demo
from bench.work.files import open_or_new
from tests.clocks import HandSetClock
from tests.screen.every_form import FORMS
from tests.screen.host import Host, settled

RUNS = 7


class EmptyModal(ModalScreen[None]):
    """The floor: one input over what is beneath."""

    def compose(self) -> ComposeResult:
        """The input."""
        with Vertical():
            yield Input()


class Drawing(Host):
    """Knows when it drew last, in processor time: waiting for a busy machine does not count."""

    drawn = 0.0

    def _display(self, screen: Screen[Any], renderable: RenderableType | None) -> None:
        super()._display(screen, renderable)
        if renderable is not None:
            self.drawn = time.process_time()


async def milliseconds_to_open(pilot: Pilot[int], screen: Screen[Any]) -> float:
    """From the key to the last drawing of the dialog: composed, read, laid out, begun."""
    app = pilot.app
    assert isinstance(app, Drawing)
    began = time.process_time()
    app.push_screen(screen)
    await settled(pilot)
    took = (app.drawn - began) * 1000
    app.pop_screen()
    await settled(pilot)
    return took


async def test_every_form_opens(tmp_path: Path) -> None:
    path = tmp_path / "demo.bench"
    make_demo(path, HandSetClock()).close()
    desk = Desk(open_or_new(path), HandSetClock(), person_id=1)
    app = Drawing(desk)
    lines = []
    async with app.run_test(size=(120, 36)) as pilot:
        for name, opening in FORMS.items():
            gc.collect()
            await milliseconds_to_open(pilot, opening(desk))
            await milliseconds_to_open(pilot, EmptyModal())
            ours, floor = [], []
            for _ in range(RUNS):
                floor.append(await milliseconds_to_open(pilot, EmptyModal()))
                ours.append(await milliseconds_to_open(pilot, opening(desk)))
            lines.append((median(ours) / median(floor), median(ours), median(floor), name))
    for ratio, ours_ms, floor_ms, name in sorted(lines, key=lambda line: line[0]):
        print(f"{getattr(name, '__name__', name):20} {ratio:5.2f}  {ours_ms:6.1f} ms  {floor_ms:6.1f} ms")
