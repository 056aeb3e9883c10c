"""What every test may ask for: a clock to set, and a desk on a fresh file."""

from __future__ import annotations

import gc
import os
import shutil
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings
from sqlalchemy import Engine

import bench.store.engine
from bench.desk import Desk
from bench.store.engine import Store, make_engine
from bench.work.demo import make_demo
from bench.work.files import open_or_new
from screenshots.make import TERMINAL_SETTINGS
from tests.clocks import HandSetClock
from tests.made_once import made_once

# A busy machine is no failure: what a test says is judged, not how long its examples took.
settings.register_profile("patient", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("patient")

# All that the tests and their libraries load stays for the whole run: going through it again and again took
# a fifth of the processor's time.
gc.set_threshold(100_000, 50, 50)

# Four processes load all of this, and hundreds of programs are started: each would compile it again.
sys.dont_write_bytecode = False
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)

# The files of a test are written for it alone and go when it has passed: in memory, where there is room, no
# commit waits for a disk. What becomes of a full disk or a killed program is under test all the same.
IN_MEMORY, ROOM_BYTES = Path("/dev/shm"), 2_000_000_000
if os.access(IN_MEMORY, os.W_OK) and shutil.disk_usage(IN_MEMORY).free > ROOM_BYTES:
    os.environ.setdefault("PYTEST_DEBUG_TEMPROOT", str(IN_MEMORY))


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Begin with the tests in a real terminal: they take longest, and must not be what the rest waits for."""
    items.sort(key=lambda item: "pty" not in item.path.parts)


def pytest_collection_finish() -> None:
    """What is loaded by now stays: the collector need not go through it, nor five times at the end."""
    gc.freeze()


@pytest.fixture(autouse=True, scope="session")
def own_state(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """What the program remembers of this machine goes into a folder of this run."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_STATE_HOME", str(tmp_path_factory.mktemp("state")))
        yield


@pytest.fixture(autouse=True, scope="session")
def statements_compiled_once() -> Iterator[None]:
    """The engines of a run share one dialect, and with it what each statement compiles to.

    A program has one engine for as long as it runs.
    """
    first: list[Engine] = []

    def sharing(path: Path, *, foreign_keys: bool = True) -> Engine:
        made = make_engine(path, foreign_keys=foreign_keys)
        if not first:
            first.append(made)
        made.dialect, made._compiled_cache = first[0].dialect, first[0]._compiled_cache
        return made

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(bench.store.engine, "make_engine", sharing)
        yield


@pytest.fixture
def clock() -> HandSetClock:
    return HandSetClock()


@pytest.fixture(scope="session")
def fresh_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A new data file, made once by the program itself and copied for each test that wants one."""
    path = tmp_path_factory.mktemp("fresh") / "workshop.bench"
    open_or_new(path, person="Ada", zone="Europe/Berlin").close()
    return path


@pytest.fixture
def store(tmp_path: Path, fresh_file: Path) -> Iterator[Store]:
    opened = open_or_new(Path(shutil.copy2(fresh_file, tmp_path / "workshop.bench")))
    yield opened
    opened.close()


@pytest.fixture
def desk(store: Store, clock: HandSetClock) -> Desk:
    return Desk(store, clock, person_id=1)


@pytest.fixture(scope="session")
def demo_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo as it stands at the instant of a new `HandSetClock`: for all, so copy it to change it."""

    def make(folder: Path) -> None:
        make_demo(folder / "demo.bench", HandSetClock()).close()

    return made_once(tmp_path_factory, "demo", make) / "demo.bench"


@pytest.fixture
def demo_desk(demo_file: Path, tmp_path: Path, clock: HandSetClock) -> Iterator[Desk]:
    """A copy of the demo for a test alone."""
    folder = shutil.copytree(demo_file.parent, tmp_path / "demo")
    store = open_or_new(folder / demo_file.name)
    yield Desk(store, clock, person_id=1)
    store.close()


@pytest.fixture
def quiet_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    """What a person has set for their own terminal does not show in what is drawn."""
    for name in TERMINAL_SETTINGS:
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("TEXTUAL_ANIMATIONS", "none")
    monkeypatch.setenv("COLORTERM", "truecolor")
