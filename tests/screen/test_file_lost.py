"""The file goes under the open dashboard: said loudly within a second, nothing written, a copy offered."""

from __future__ import annotations

from pathlib import Path

from textual.widgets import Static

from bench.dashboard.app import BenchApp
from bench.dashboard.screens.dialogs.file_forms import FileLostDialog
from bench.desk import Desk
from bench.store.engine import Store
from bench.work.units import add_unit
from tests.screen.waiting import until


def is_asked(app: BenchApp) -> bool:
    return isinstance(app.screen, FileLostDialog) and bool(app.screen.query("#do-enter"))


async def test_a_lost_file_is_said_at_once_and_a_copy_saved(busy: Desk, tmp_path: Path) -> None:
    app = BenchApp(busy)
    async with app.run_test(size=(120, 36)) as pilot:
        tag = add_unit(busy, maker="", model="the last").tag
        busy.store.path.unlink()
        await until(pilot, lambda: is_asked(app))
        said = str(app.screen.query_one("#above", Static).content)
        assert str(busy.store.path) in said
        assert "Nothing more is written" in said
        saved = tmp_path / "busy-saved-1.bench"
        await until(pilot, lambda: str(saved) in app.screen.value("path"))
        await pilot.press("enter")
        await until(pilot, lambda: not is_asked(app))
    kept = Store(saved)
    with kept.read() as connection:
        assert connection.execute("SELECT 1 FROM unit WHERE tag = ?", (tag,)).fetchone()
    kept.close()
    assert not busy.store.path.exists()


async def test_trying_to_write_all_the_same_asks_again(busy: Desk) -> None:
    app = BenchApp(busy)
    async with app.run_test(size=(120, 36)) as pilot:
        busy.store.path.rename(busy.store.path.with_name("moved.bench"))
        await until(pilot, lambda: is_asked(app))
        await pilot.press("escape")
        await until(pilot, lambda: not is_asked(app))
        app.file_watch.look()
        await pilot.pause()
        assert not is_asked(app), "once is enough while nobody tries to write"
        app.change(lambda: add_unit(busy, maker="", model="M"))
        await until(pilot, lambda: is_asked(app))
