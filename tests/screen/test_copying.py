"""Copying: what is there by one letter each, to the clipboard and into a file; text selected by mouse."""

from __future__ import annotations

import stat
from pathlib import Path

import pytest
from textual import events
from textual.pilot import Pilot

from bench.dashboard import clipboard
from bench.dashboard.clipboard import copied_file, drop_copied, keep_copied
from bench.dashboard.screens.dialogs.access_word import AccessWordDialog
from bench.dashboard.screens.dialogs.copy_menu import CopyMenu
from bench.dashboard.screens.papers import PapersScreen
from bench.dashboard.screens.stock import StockScreen
from bench.dashboard.screens.unit import UnitScreen
from bench.dashboard.screens.week import WeekScreen
from bench.dashboard.widgets.queue_list import QueueList
from bench.dashboard.widgets.safety_panel import StockPanel
from bench.desk import Desk
from bench.errors import StoreError
from bench.reports.listing import listing_text
from bench.reports.unit_sheet import unit_text
from bench.reports.week_sheet import week_text
from bench.views.listing import read_listing
from bench.views.queue import QueueRow
from bench.views.unit import read_unit
from tests.screen.host import Host, opened, settled, until
from tests.screen.waiting import first_screen
from tests.screen.workshop import new_unit

FAMILY = "family \U0001f469\u200d\U0001f469\u200d\U0001f467 laptop"


def kept(desk: Desk) -> str:
    path = copied_file(desk.store.path)
    return path.read_bytes().decode() if path.exists() else ""


def toasts(app: Host) -> str:
    return "\n".join(str(toast.render()) for toast in app.screen.query("Toast"))


async def copy(pilot: Pilot[int], letter: str) -> str:
    """Copy what that letter stands for; answers what the clipboard then holds."""
    await pilot.press("y")
    await settled(pilot)
    assert isinstance(pilot.app.screen, CopyMenu)
    await pilot.press(letter)
    await settled(pilot)
    return pilot.app.clipboard


async def test_a_row_and_a_cell_and_all_lines_are_copied_and_kept_in_a_file(desk: Desk) -> None:
    async with opened(desk, StockScreen(), (120, 36)) as (app, pilot):
        row = await copy(pilot, "r")
        name = row.split("\t")[0]
        assert "\t" in row
        assert kept(desk) == row
        path = copied_file(desk.store.path)
        assert stat.S_IMODE(path.stat().st_mode) == 0o600
        assert f"Copied the row. It is in {path} too." in toasts(app)
        assert await copy(pilot, "1") == name
        every = (await copy(pilot, "a")).split("\n")
        assert every[0].startswith("Consumable\t")
        assert row in every
        assert kept(desk) == "\n".join(every)


async def test_marked_rows_are_copied_together(desk: Desk) -> None:
    async with opened(desk, StockScreen(), (120, 36)) as (_app, pilot):
        await pilot.press("home", "space", "space")
        assert len((await copy(pilot, "r")).split("\n")) == 2


async def test_a_units_tag_and_sheet_and_listing_are_copied_literally(desk: Desk) -> None:
    unit_id = new_unit(desk, model=FAMILY)
    unit = read_unit(desk, unit_id)
    async with opened(desk, UnitScreen(unit_id), (120, 36)) as (app, pilot):
        assert await copy(pilot, "t") == unit.tag
        assert await copy(pilot, "s") == unit_text(read_unit(desk, unit_id))
        assert await copy(pilot, "l") == listing_text(read_listing(desk, unit_id))
        assert kept(desk) == app.clipboard


async def test_on_the_first_screen_the_unit_under_the_cursor_is_copied(busy: Desk) -> None:
    async with first_screen(busy) as (screen, pilot):
        row = screen.unit_here()
        assert row is not None
        assert await copy(pilot, "t") == row.tag
        assert (await copy(pilot, "r")).startswith(f"{row.tag}\t{row.model}\t")
        await pilot.press("space", "space")
        assert len(screen.query_one(QueueList).marked) == 2
        assert len((await copy(pilot, "r")).split("\n")) == 2
        marked = [row for row in screen.query_one(QueueList).marked if isinstance(row, QueueRow)]
        assert await copy(pilot, "t") == "\n".join(row.tag for row in marked)
        sheets = await copy(pilot, "s")
        for row in marked:
            assert unit_text(read_unit(busy, row.unit_id)).rstrip() in sheets


async def test_beside_the_queue_the_row_of_the_panel_is_copied(busy: Desk) -> None:
    async with first_screen(busy, (200, 50)) as (screen, pilot):
        await pilot.press("tab", "down")
        task = screen.task_here()
        assert task is not None
        assert task.name in await copy(pilot, "r")
        await pilot.press("tab", "down")
        line = screen.query_one(StockPanel).current
        assert line is not None
        row = await copy(pilot, "r")
        assert row.startswith(f"{line.name}\t")
        assert " EUR" in row


async def test_typed_text_is_copied_as_it_was_typed(busy: Desk) -> None:
    async with first_screen(busy) as (screen, pilot):
        rows = [row for stage in screen.view.stages for row in stage.rows]  # type: ignore[union-attr]
        screen.go_to_unit(next(row.unit_id for row in rows if "family" in row.model))
        await settled(pilot)
        assert FAMILY in await copy(pilot, "r")


async def test_a_document_is_copied_as_text(desk: Desk) -> None:
    async with opened(desk, WeekScreen(), (120, 36)) as (app, pilot):
        week = app.screen
        assert isinstance(week, WeekScreen)
        assert week.facts is not None
        assert await copy(pilot, "d") == week_text(week.facts)
    async with opened(desk, PapersScreen(new_unit(desk)), (120, 36)) as (_app, pilot):
        assert "Maker" in await copy(pilot, "d")


async def test_nothing_is_never_copied(desk: Desk) -> None:
    async with opened(desk, UnitScreen(new_unit(desk)), (120, 36)) as (app, pilot):
        await copy(pilot, "t")
        before = app.clipboard
        app.copy_to_clipboard("  \n")
        await settled(pilot)
        assert clipboard.NOTHING in toasts(app)
        assert (app.clipboard, kept(desk)) == (before, before)


async def test_a_hidden_word_is_not_copied(desk: Desk) -> None:
    async with opened(desk, AccessWordDialog(1), (80, 24)) as (app, pilot):
        await pilot.press("s", "e", "c", "shift+home", "ctrl+c")
        await settled(pilot)
        assert app.clipboard == ""
        assert kept(desk) == ""


async def test_where_the_file_cannot_be_written_that_is_said(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise StoreError("The copy went to the terminal alone.")

    monkeypatch.setattr(clipboard, "keep_copied", full)
    async with opened(desk, UnitScreen(new_unit(desk)), (120, 36)) as (app, pilot):
        assert await copy(pilot, "t")
        assert "The copy went to the terminal alone." in toasts(app)


def test_the_file_is_ones_own_and_never_someone_elses(tmp_path: Path) -> None:
    data, other = tmp_path / "workshop.bench", tmp_path / "other"
    other.write_text("stays")
    copied_file(data).symlink_to(other)
    keep_copied(copied_file(data), "text\r\n")
    assert other.read_text() == "stays"
    assert copied_file(data).read_bytes() == b"text\r\n"
    drop_copied(data)
    assert not copied_file(data).exists()
    drop_copied(data)
    with pytest.raises(StoreError, match="cannot be written"):
        keep_copied(tmp_path / "gone" / "copied.txt", "text")


async def drag(pilot: Pilot[int], start: tuple[int, int], end: tuple[int, int]) -> None:
    """Press the mouse, draw it along, let it go."""
    await pilot.mouse_down(offset=start)
    await pilot._post_mouse_events([events.MouseMove], offset=end, button=1)
    await pilot.mouse_up(offset=end)
    await settled(pilot)


@pytest.mark.parametrize("panel", ["#queue", "#safety", "#stock", "#tasks", "TopLine", "KeyBar"])
async def test_text_is_selected_by_mouse_in_every_panel_and_copied(busy: Desk, panel: str) -> None:
    async with first_screen(busy, (200, 50)) as (screen, pilot):
        widget = screen.query_one(panel)
        x, y = widget.content_region.offset
        drawn = widget.render_line(0).text
        await drag(pilot, (x + 2, y), (x + 20, y))
        assert screen.get_selected_text() == drawn[2:21].rstrip()
        await pilot.press("ctrl+c")
        await settled(pilot)
        assert pilot.app.clipboard == drawn[2:21].rstrip()
        assert pilot.app.is_running
        await pilot.press("ctrl+c", "escape")


async def test_lines_are_selected_from_one_to_another_and_lit(busy: Desk) -> None:
    async with first_screen(busy) as (screen, pilot):
        queue = screen.query_one(QueueList)
        x, y = queue.content_region.offset
        first, second = (queue.render_line(at).text for at in (1, 2))
        plain = queue.render_lines(queue.size.region)[1]
        await drag(pilot, (x + 1, y + 1), (x + 5, y + 2))
        assert screen.get_selected_text() == f"{first[1:].rstrip()}\n{second[:6].rstrip()}"
        lit = queue.render_lines(queue.size.region)[1]
        assert lit.text == plain.text
        assert lit != plain


async def test_copying_with_nothing_selected_says_how_to_leave_and_does_not(busy: Desk) -> None:
    async with first_screen(busy) as (screen, pilot):
        await pilot.press("ctrl+c")
        await settled(pilot)
        assert pilot.app.is_running
        assert pilot.app.return_code is None
        await until(pilot, lambda: "ctrl+q" in toasts(pilot.app))  # type: ignore[arg-type]
        assert screen.app.clipboard == ""
