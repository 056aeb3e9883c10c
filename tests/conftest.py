"""What every test may ask for: a clock it sets itself, and a desk on a fresh file."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from bench.store.engine import Store
from bench.work.desk import Desk
from bench.work.files import open_store

MINUTE_US = 60_000_000
WEDNESDAY_MORNING_US = 1_795_597_200_000_000  # 2026-11-25 09:00 UTC


@dataclass
class HandSetClock:
    """A clock that stands still until a test moves it."""

    wall_us: int = WEDNESDAY_MORNING_US
    steady: int = 1_000_000_000

    def now_us(self) -> int:
        return self.wall_us

    def steady_us(self) -> int:
        return self.steady

    def advance(self, minutes: float = 0, *, us: int = 0) -> int:
        """Let time pass on both clocks; answer the instant it is then."""
        passed = round(minutes * MINUTE_US) + us
        self.wall_us += passed
        self.steady += passed
        return self.wall_us

    def set_wall(self, instant_us: int) -> None:
        """Set the wall clock alone, as a person or a time server would."""
        self.wall_us = instant_us


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
