"""What the screen tests share: a desk in a busy workshop, made once and copied for each test."""

from __future__ import annotations

import asyncio
import shutil
from collections import Counter
from collections.abc import Callable, Hashable, Iterator
from pathlib import Path
from typing import Any

import pytest
from textual._compositor import Compositor
from textual.css.model import RuleSet
from textual.css.stylesheet import Stylesheet
from textual.css.types import CSSLocation
from textual.geometry import Size
from textual.widget import Widget

from bench.desk import Desk
from bench.work.demo import make_demo
from bench.work.files import open_or_new
from tests.clocks import HandSetClock
from tests.screen import busy_shop
from tests.screen.idle import (
    FRAME_SECONDS,
    render_later,
    wait_for_messages,
    wait_until_idle,
    wait_until_shown,
)


@pytest.fixture(scope="session")
def busy_file(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, HandSetClock]:
    path, clock = tmp_path_factory.mktemp("busy") / "workshop.bench", HandSetClock()
    store = open_or_new(path, person="Ada", shop="Corner bench", zone="Europe/Berlin")
    busy_shop.fill(Desk(store, clock, person_id=1), clock)
    store.close()
    return path, clock


@pytest.fixture
def busy(busy_file: tuple[Path, HandSetClock], tmp_path: Path, clock: HandSetClock) -> Iterator[Desk]:
    path, then = busy_file
    store = open_or_new(Path(shutil.copy(path, tmp_path / "busy.bench")))
    clock.wall_us, clock.steady = then.wall_us, then.steady
    yield Desk(store, clock, person_id=1)
    store.close()


@pytest.fixture(scope="session")
def demo_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("demo") / "demo.bench"
    make_demo(path, HandSetClock()).close()
    return path


@pytest.fixture
def demo_desk(demo_file: Path, tmp_path: Path, clock: HandSetClock) -> Iterator[Desk]:
    store = open_or_new(Path(shutil.copy(demo_file, tmp_path / "demo.bench")))
    yield Desk(store, clock, person_id=1)
    store.close()


@pytest.fixture
def layouts(monkeypatch: pytest.MonkeyPatch) -> Counter[Widget]:
    """How often each screen is laid out, where all that is read is there before the next frame."""
    counted: Counter[Widget] = Counter()
    reflow = Compositor.reflow

    def counting(compositor: Compositor, parent: Widget, size: Size) -> object:
        counted[parent] += 1
        return reflow(compositor, parent, size)

    async def at_once(work: Callable[..., object], *args: object, **named: object) -> object:
        return work(*args, **named)

    monkeypatch.setattr(Compositor, "reflow", counting)
    monkeypatch.setattr(asyncio, "to_thread", at_once)
    return counted


@pytest.fixture(autouse=True)
def judged_by_its_queues(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("textual.app.wait_for_idle", wait_until_idle)
    monkeypatch.setattr("textual.screen.UPDATE_PERIOD", FRAME_SECONDS)
    monkeypatch.setattr("textual._compositor.Compositor.render_update", render_later)
    monkeypatch.setattr("textual.pilot.wait_for_idle", wait_until_shown)
    monkeypatch.setattr("textual.pilot.Pilot._wait_for_screen", wait_for_messages)


@pytest.fixture(autouse=True)
def reads_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Keys come here faster than a person reads a line of a checklist."""
    monkeypatch.setattr("bench.dashboard.screens.dialogs.safety_list.A_LOOK_SECONDS", 0)


@pytest.fixture(autouse=True, scope="session")
def sheets_parsed_once() -> Iterator[None]:
    """The style sheets, the same in every run of the app: parsed once, as long as a theme's colours are.

    A program parses each of them once.
    """
    parsed: dict[Hashable, list[RuleSet]] = {}
    parse = Stylesheet._parse_rules

    def once(sheet: Stylesheet, css: str, read_from: CSSLocation, *more: Any, **named: Any) -> list[RuleSet]:
        colours = tuple(sheet._variables.items())
        key = (css, read_from, more, tuple(sorted(named.items())), colours)
        if key not in parsed:
            parsed[key] = parse(sheet, css, read_from, *more, **named)
        return parsed[key]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Stylesheet, "_parse_rules", once)
        yield
