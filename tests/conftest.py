"""What every test may ask for: a clock to set, and a desk on a fresh file."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from bench.store.engine import Store
from bench.work.desk import Desk
from bench.work.files import open_store
from tests.clocks import HandSetClock


@pytest.fixture
def clock() -> HandSetClock:
    return HandSetClock()


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    opened = open_store(tmp_path / "workshop.bench", person="Ada", zone="Europe/Berlin")
    yield opened
    opened.close()


@pytest.fixture
def desk(store: Store, clock: HandSetClock) -> Desk:
    return Desk(store, clock, person_id=1)
