"""What the screen tests share: a desk in a busy workshop, made once and copied for each test."""

from __future__ import annotations

import shutil
from collections.abc import Hashable, Iterator
from pathlib import Path
from typing import Any

import pytest
from textual.css.model import RuleSet
from textual.css.stylesheet import Stylesheet
from textual.css.types import CSSLocation

from bench.desk import Desk
from bench.work.files import open_or_new
from tests.clocks import HandSetClock
from tests.screen import busy_shop
from tests.screen.idle import render_later, wait_for_messages, wait_until_idle


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


@pytest.fixture(autouse=True)
def judged_by_its_queues(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("textual.app.wait_for_idle", wait_until_idle)
    monkeypatch.setattr("textual._compositor.Compositor.render_update", render_later)
    monkeypatch.setattr("textual.pilot.wait_for_idle", wait_until_idle)
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
