"""The ground of the state machine: a shop's file for each run, what it says, and an act of a person."""

from __future__ import annotations

import shutil
import tempfile
from collections import Counter
from collections.abc import Callable
from pathlib import Path

from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize

from bench.desk import Desk
from bench.domain.party import PartyTyped
from bench.errors import BenchError
from bench.work.check import check_record
from bench.work.files import open_existing
from bench.work.photographs_on_disk import check_photographs
from bench.work.units import add_unit
from tests.clocks import HandSetClock
from tests.faults.model import Act, Model
from tests.faults.shops import make_shop

WHY = "by chance"
PEOPLE = st.integers(1, 3)
UNITS = st.integers(1, 4)
OWNED = 7
ANY = st.integers(0, 10**6)
SEEN: Counter[str] = Counter()


def pattern(folder: Path) -> Path:
    """A shop to copy for each run, made once in a folder."""
    path = folder / "pattern.bench"
    if not path.exists():
        make_shop(path, HandSetClock())
        store = open_existing(path)
        owner = PartyTyped("Ann Owner")
        added = add_unit(Desk(store, HandSetClock(), 1), maker="", model="M", route_id=1, owner=owner)
        assert added.unit_id == OWNED
        store.close()
    return path


class Ground(RuleBasedStateMachine):
    """Each rule does one thing as one person; what is refused must leave all as it was."""

    kept: Path

    @initialize(begun=st.booleans())
    def open(self, begun: bool) -> None:
        self.folder = Path(tempfile.mkdtemp(dir=self.kept))
        path = Path(shutil.copy2(pattern(self.kept), self.folder / "shop.bench"))
        self.clock = HandSetClock()
        self.store = open_existing(path)
        self.first = self.newest()
        self.acts: dict[int, Act] = {}
        self.undone: dict[int, Act] = {}
        if begun:
            self.begin()

    def begin(self) -> None:
        """What is done first in some runs."""

    def teardown(self) -> None:
        if hasattr(self, "store"):
            with self.store.read() as connection:
                found = check_record(connection)
                pictures = check_photographs(connection, self.store.path)
            self.store.close()
            shutil.rmtree(self.folder)
            assert (found.differences, found.sums) == ((), ())
            assert pictures.agrees, pictures
            assert [one for one in found.rules if "has left the shop and no passed wipe" not in one] == []

    # What the file says.

    def one(self, text: str, *values: object) -> int:
        with self.store.read() as connection:
            row = connection.execute(text, values).fetchone()
        return row[0] if row is not None and row[0] is not None else 0

    def text(self, text: str, *values: object) -> str:
        with self.store.read() as connection:
            row = connection.execute(text, values).fetchone()
        return str(row[0]) if row is not None else ""

    def component(self, part: int) -> int:
        return self.one("SELECT component_id FROM part WHERE id = ?", part)

    def all(self, text: str) -> list[tuple[object, ...]]:
        with self.store.read() as connection:
            return [tuple(row) for row in connection.execute(text)]

    def newest(self) -> int:
        return self.one("SELECT MAX(id) FROM journal")

    def chosen(self, text: str, choice: int) -> int:
        """One of the numbers that a SELECT answers; 0 where there is none."""
        found = self.all(text)
        return int(str(found[choice % len(found)][0])) if found else 0

    def act(self, person: int, words: str, do: Callable[[Desk], Callable[[Model], None]]) -> None:
        """Do it; what was accepted stands as an act."""
        self.clock.advance(minutes=1)
        before = self.newest()
        SEEN["steps"] += 1
        try:
            does = do(Desk(self.store, self.clock, person))
        except BenchError:
            assert self.newest() == before
            SEEN["refused"] += 1
            return
        assert self.newest() == before + 1
        SEEN[words] += 1
        self.acts[before + 1] = Act(before + 1, person, words, does)
