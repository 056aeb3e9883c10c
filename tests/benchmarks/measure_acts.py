"""From the key to the drawing that confirms it, on the demo and on three years of a large shop.

Against a key in a bare table of Textual: one commit, as safe as ours (WAL, FULL), one cell drawn again.
By the clock, from the key that decides until what it did stands on the screen; further panels may follow.
Each act is looked for in the file each time.
"""

from __future__ import annotations

import re
import sqlite3
import time
from collections.abc import Awaitable, Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from statistics import median
from typing import Any, ClassVar, NamedTuple

import pytest
from rich.console import RenderableType
from textual._compositor import ChopsUpdate, LayoutUpdate
from textual.app import App, ComposeResult
from textual.binding import BindingType
from textual.pilot import Pilot
from textual.screen import Screen
from textual.widgets import DataTable

from bench.dashboard.app import BenchApp, look_for_cycles
from bench.desk import Desk
from bench.store.engine import PRAGMAS
from bench.views.queue import read_queue
from bench.views.unit import read_unit
from bench.work.undo import undo
from bench.work.units import add_unit
from tests.benchmarks.floors import TABLE_ROWS
from tests.benchmarks.grown_demo import DAYS, grown_demo
from tests.benchmarks.measuring import Ratio
from tests.screen.host import Host, settled

ROUNDS = 9
AT_MOST = 5.0  # the aim is 4; of a restock all that follows is timed


class Drawn(NamedTuple):
    """A drawing: when, and the pieces of text in it."""

    at_s: float
    words: str


def note(app: Ours | Floor, renderable: RenderableType | None) -> None:
    """Note what goes to the terminal."""
    update = getattr(renderable, "_update", renderable)
    if isinstance(update, ChopsUpdate):
        pieces = [piece for line in update.chops for piece in line.values() if piece is not None]
    elif isinstance(update, LayoutUpdate):
        pieces = [piece for line in update.strips for piece in line]
    else:
        return
    app.drawn.append(Drawn(time.perf_counter(), " ".join(piece.text for piece in pieces)))


class Ours(Host):
    """The dashboard; notes when it drew what."""

    get_default_screen = BenchApp.get_default_screen

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.drawn: list[Drawn] = []

    def _display(self, screen: Screen[Any], renderable: RenderableType | None) -> None:
        super()._display(screen, renderable)
        note(self, renderable)


class Floor(App[int]):
    """A table whose key writes a row and draws a cell again."""

    BINDINGS: ClassVar[list[BindingType]] = [("s", "write")]

    def __init__(self, connection: sqlite3.Connection) -> None:
        super().__init__()
        self.connection = connection
        self.drawn: list[Drawn] = []
        self.written = 0

    def compose(self) -> ComposeResult:
        yield DataTable(cursor_type="row")

    def _display(self, screen: Screen[Any], renderable: RenderableType | None) -> None:
        super()._display(screen, renderable)
        note(self, renderable)

    def on_mount(self) -> None:
        table = self.query_one(DataTable)
        self.columns = table.add_columns("tag", "model", "next", "time")
        self.rows = [
            table.add_row(str(n), f"Maker Model {n}", "look over", f"{n} min") for n in range(TABLE_ROWS)
        ]

    def action_write(self) -> None:
        self.connection.execute("INSERT INTO written (name) VALUES ('hello')")
        self.written += 1
        self.query_one(DataTable).update_cell(self.rows[3], self.columns[3], f"{self.written} s")


async def timed(pilot: Pilot[int], *keys: str, shows: Callable[[], str] = lambda: "") -> float:
    """Press all; seconds from the last of them until the first drawing that shows what it answers then.

    Until the last drawing where that is nothing.
    """
    for key in keys[:-1]:
        await pilot.press(key)
        await settled(pilot)
    app = pilot.app
    assert isinstance(app, Ours | Floor)
    app.drawn.clear()
    began = time.perf_counter()
    await pilot.press(keys[-1])
    await settled(pilot)
    pattern = shows()
    shown = [one for one in app.drawn if re.search(pattern, one.words)]
    return (shown[0] if pattern else shown[-1]).at_s - began


class Person:
    """Someone who does each act once a round, each round with the cursor on another new unit."""

    def __init__(self, desk: Desk, pilot: Pilot[int]) -> None:
        self.desk, self.pilot, self.unit_id = desk, pilot, 0

    async def go_to(self, unit_id: int) -> None:
        self.unit_id = unit_id
        await self.pilot.press(*read_unit(self.desk, unit_id).tag, "enter")
        await settled(self.pilot)

    def runs(self) -> bool:
        return self.unit_id in [one.unit_id for one in read_queue(self.desk).running()]

    def next_task(self) -> str:
        unit = read_unit(self.desk, self.unit_id)
        following = next(one.name for one in unit.tasks if one.state == "todo")
        return rf"{unit.tag}.{{1,60}}{re.escape(following[:10])}"

    def moved(self) -> str:
        return f"{read_unit(self.desk, self.unit_id).stage} ─"

    def done(self) -> int:
        return sum(one.state == "done" for one in read_unit(self.desk, self.unit_id).tasks)

    def received(self) -> int:
        with self.desk.store.read() as connection:
            return int(
                connection.execute("SELECT COUNT(*) FROM movement WHERE kind = 'receipt'").fetchone()[0]
            )

    async def start(self) -> float:
        took = await timed(self.pilot, "s", shows=lambda: r"\(you\) ►")
        assert self.runs()
        return took

    async def stop(self) -> float:
        took = await timed(self.pilot, "s", shows=lambda: r"\(you\) –")
        assert not self.runs()
        return took

    async def finish(self) -> float:
        done = self.done()
        took = await timed(self.pilot, "d", "enter", shows=self.next_task)
        assert self.done() == done + 1
        return took

    async def move(self) -> float:
        stage = read_unit(self.desk, self.unit_id).stage
        took = await timed(self.pilot, "m", shows=self.moved)
        assert read_unit(self.desk, self.unit_id).stage != stage
        return took

    async def restock(self) -> float:
        before = self.received()
        took = await timed(self.pilot, "r", "ctrl+s")
        assert self.received() == before + 1
        return took


@contextmanager
def plain(path: Path) -> Iterator[sqlite3.Connection]:
    """A file of nothing but one table, written as safely."""
    connection = sqlite3.connect(path, isolation_level=None)
    for pragma in PRAGMAS:
        connection.execute(pragma)
    connection.execute("CREATE TABLE written (id INTEGER PRIMARY KEY, name TEXT)")
    yield connection
    connection.close()


@pytest.mark.parametrize("days", [0, DAYS], ids=["demo", "100x"])
async def test_key_to_confirmed(tmp_path: Path, days: int) -> None:
    taken: dict[str, list[float]] = {}
    floor: list[float] = []
    with grown_demo(tmp_path / "shop.bench", days=days) as desk, plain(tmp_path / "plain.db") as connection:
        units = [add_unit(desk, maker="Fenn", model="One", route_id=1).unit_id for _ in range(ROUNDS)]
        app = Ours(desk)
        async with app.run_test(size=(120, 36), notifications=True) as pilot:
            await settled(pilot)
            look_for_cycles()
            person = Person(desk, pilot)
            acts: dict[str, Callable[[], Awaitable[float]]] = {
                "start": person.start,
                "stop": person.stop,
                "done": person.finish,
                "move": person.move,
                "restock": person.restock,
            }
            for unit_id in units:
                await person.go_to(unit_id)
                for name, act in acts.items():
                    taken.setdefault(name, []).append(await act())
                undo(desk)  # the restock, so that the next round finds as much low
        bare = Floor(connection)
        async with bare.run_test(size=(120, 36)) as pilot:
            await settled(pilot)
            floor = [
                await timed(pilot, "s", shows=lambda n=number: f" {n + 1} s") for number in range(ROUNDS)
            ]
        assert bare.written == ROUNDS
    slow = []
    for name, seconds in taken.items():
        ratio = Ratio(name, median(seconds[1:]), median(floor[1:]))
        print(f"{name}, {days} days: {ratio.ours * 1000:.1f} ms, {ratio.times:.2f} times")
        if ratio.times > AT_MOST:
            slow.append(name)
    assert not slow
