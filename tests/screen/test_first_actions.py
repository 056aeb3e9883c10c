"""The keys of the first screen, each through to what the file then holds."""

from __future__ import annotations

from contextlib import closing
from pathlib import Path

import pytest
from pypdfium2 import PdfDocument
from textual.pilot import Pilot

from bench.dashboard.screens.dialogs.form import Form
from bench.dashboard.screens.first import FirstScreen
from bench.dashboard.widgets.queue_list import QueueList, QueueNames
from bench.desk import Desk
from bench.domain.safety import OPENING, OPENING_ITEMS
from bench.views.queue import QueueRow, read_queue
from bench.views.unit import read_unit
from bench.work.safety import tick
from bench.work.units import add_unit
from tests.screen.host import sentences, settled
from tests.screen.undoing import undo_newest
from tests.screen.waiting import first_screen, text_of, until


def rows_of(desk: Desk) -> list[QueueRow]:
    return [row for stage in read_queue(desk).stages for row in stage.rows]


def row_with(desk: Desk, model: str) -> QueueRow:
    return next(row for row in rows_of(desk) if model in row.model)


def stage_of(desk: Desk, unit_id: int) -> str:
    return next(s.name for s in read_queue(desk).stages for row in s.rows if row.unit_id == unit_id)


def open_now(screen: FirstScreen) -> str:
    shown = screen.app.screen
    return getattr(shown, "made_by", "") or type(shown).__name__


def toasts(screen: FirstScreen) -> str:
    return "\n".join(str(toast.render()) for toast in screen.query("Toast"))


@pytest.mark.parametrize(
    ("key", "opens"),
    [
        ("enter", "UnitScreen"),
        ("n", "unit_form"),
        ("e", "unit_form"),
        ("d", "FinishDialog"),
        ("g", "choose_stage"),
        ("h", "hold_form"),
        ("o", "SafetyListDialog"),
        ("c", "SafetyListDialog"),
        ("x", "CellDialog"),
        ("r", "restock_form"),
        ("k", "count_form"),
        ("p", "choose_person"),
        ("t", "StockScreen"),
        ("j", "JournalScreen"),
        ("w", "WeekScreen"),
        ("v", "RoutesScreen"),
        ("comma", "SettingsScreen"),
        ("f1", "ManualScreen"),
        ("question_mark", "HelpScreen"),
    ],
)
async def test_a_key_opens_what_it_says_and_escape_comes_back(busy: Desk, key: str, opens: str) -> None:
    async with first_screen(busy) as (screen, pilot):
        screen.go_to_unit(row_with(busy, "Maple 12").unit_id)
        await pilot.press(key)
        await until(pilot, lambda: open_now(screen) == opens)
        await pilot.press("escape")
        await until(pilot, lambda: screen.app.screen is screen)


async def test_the_stock_panels_line_opens_its_movements(busy: Desk) -> None:
    async with first_screen(busy) as (screen, pilot):
        await pilot.press("tab", "down", "enter")
        await until(pilot, lambda: open_now(screen) == "ConsumableScreen")


async def test_move_on_and_back_say_where_the_unit_stands_now(busy: Desk) -> None:
    unit = row_with(busy, "Late one")
    async with first_screen(busy) as (screen, pilot):
        screen.go_to_unit(unit.unit_id)
        await pilot.press("m")
        await until(pilot, lambda: stage_of(busy, unit.unit_id) != "received")
        there = stage_of(busy, unit.unit_id)
        await until(pilot, lambda: f"{unit.tag} moved to {there}." in toasts(screen))
        queue = screen.query_one(QueueList)
        await until(pilot, lambda: queue.row is not None and queue.row.stage_id != unit.stage_id)
        assert queue.row is not None
        assert queue.row.unit_id == unit.unit_id
        await pilot.press("b")
        await until(pilot, lambda: stage_of(busy, unit.unit_id) == "received")
        await pilot.press("b")
        await until(pilot, lambda: "stands at the first stage" in toasts(screen))


async def test_moving_past_unfinished_tasks_asks(busy: Desk) -> None:
    unit = row_with(busy, "日本")
    async with first_screen(busy) as (screen, pilot):
        screen.go_to_unit(unit.unit_id)
        await pilot.press("m")
        await until(pilot, lambda: open_now(screen) == "OpenTasksDialog")
        await pilot.press("escape")
        await until(pilot, lambda: screen.app.screen is screen)
        assert stage_of(busy, unit.unit_id) == "received"


async def test_a_lid_off_task_asks_for_the_opening_list_and_starts_once_it_is_ticked(busy: Desk) -> None:
    unit = row_with(busy, "[red]")
    async with first_screen(busy) as (screen, pilot):
        screen.go_to_unit(unit.unit_id)
        await pilot.press("s")
        await until(pilot, lambda: open_now(screen) == "SafetyListDialog")
        tick(busy, unit.unit_id, OPENING, list(OPENING_ITEMS), screws=9)
        screen.app.screen.dismiss(True)
        await until(pilot, lambda: any(one.unit_id == unit.unit_id for one in read_queue(busy).running()))
        await until(pilot, lambda: "Stopped meanwhile: " in toasts(screen))


async def test_a_refused_opening_list_starts_nothing(busy: Desk) -> None:
    unit = row_with(busy, "[red]")
    before = read_queue(busy).running()
    async with first_screen(busy) as (screen, pilot):
        screen.go_to_unit(unit.unit_id)
        await pilot.press("s")
        await until(pilot, lambda: open_now(screen) == "SafetyListDialog")
        await pilot.press("escape")
        await until(pilot, lambda: screen.app.screen is screen)
    assert read_queue(busy).running() == before


async def test_h_releases_a_held_unit(busy: Desk) -> None:
    unit = next(row for row in rows_of(busy) if row.held)
    async with first_screen(busy) as (screen, pilot):
        screen.go_to_unit(unit.unit_id)
        await pilot.press("h")
        await until(pilot, lambda: all(row.held is None for row in rows_of(busy)))
        await until(pilot, lambda: f"{unit.tag} is released." in toasts(screen))


async def test_u_takes_the_release_back(busy: Desk) -> None:
    unit = next(row for row in rows_of(busy) if row.held)
    async with first_screen(busy) as (screen, pilot):
        screen.go_to_unit(unit.unit_id)
        await pilot.press("h")
        await until(pilot, lambda: all(row.held is None for row in rows_of(busy)))
        await undo_newest(pilot)
        await until(pilot, lambda: any(row.held == unit.held for row in rows_of(busy)))
        await until(pilot, lambda: "Undone: " in toasts(screen))


async def test_a_task_beside_the_queue_starts_and_stops_with_enter(busy: Desk) -> None:
    unit = row_with(busy, "Maple 12")
    async with first_screen(busy, (200, 50)) as (screen, pilot):
        screen.go_to_unit(unit.unit_id)
        await until(pilot, lambda: screen.unit is not None and screen.unit.unit_id == unit.unit_id)
        await pilot.press("tab")
        task = screen.task_here()
        assert task is not None
        await pilot.press("enter")
        await until(pilot, lambda: task.task_id in {one.task_id for one in read_queue(busy).running()})
        await until(pilot, lambda: bool((here := screen.task_here()) and here.running))
        await pilot.press("s")
        await until(pilot, lambda: task.task_id not in {one.task_id for one in read_queue(busy).running()})


async def test_two_keys_in_a_row_are_done_in_that_order(busy: Desk) -> None:
    running = read_queue(busy).running()[0]
    async with first_screen(busy) as (screen, pilot):
        screen.go_to_unit(running.unit_id)
        await pilot.press("s")
        await until(pilot, lambda: not read_queue(busy).running())
        await until(pilot, lambda: screen.view is not None and not screen.view.running())
        await pilot.press("s")
        await until(pilot, lambda: len(read_queue(busy).running()) == 1)


@pytest.mark.parametrize("key", ["s", "d", "m", "b", "g", "h", "o", "c", "x", "e"])
async def test_without_a_unit_a_key_says_so(desk: Desk, key: str) -> None:
    async with first_screen(desk) as (screen, pilot):
        await pilot.press(key)
        await until(pilot, lambda: "There is no unit under the cursor." in toasts(screen))
        assert screen.app.screen is screen


async def test_the_alarm_bar_leads_to_its_unit(busy: Desk) -> None:
    alarmed = next(row for row in rows_of(busy) if row.battery_alarm)
    async with first_screen(busy) as (screen, pilot):
        await pilot.click("#alarm")
        queue = screen.query_one(QueueList)
        await until(pilot, lambda: queue.row is not None and queue.row.unit_id == alarmed.unit_id)


async def test_the_key_bar_can_be_clicked(busy: Desk) -> None:
    async with first_screen(busy) as (screen, pilot):
        await pilot.click("KeyBar", offset=(16, 0))
        await until(pilot, lambda: open_now(screen) == "unit_form")


async def test_marked_units_are_moved_held_and_released_in_one_act_each(desk: Desk) -> None:
    units = [add_unit(desk, maker="Fenn", model=f"Model {n}").unit_id for n in range(3)]

    def told() -> list[tuple[str, str | None]]:
        return [(one.stage, one.held) for one in (read_unit(desk, unit_id) for unit_id in units)]

    async with first_screen(desk) as (screen, pilot):
        names = screen.query_one(QueueNames)
        screen.go_to_unit(units[0])
        await pilot.press("space", "space")
        assert text_of(names).rstrip().endswith("2 marked")
        assert text_of(screen.query_one(QueueList)).count("◆") == 2
        await pilot.press("m")
        await until(pilot, lambda: [one[0] for one in told()] == ["inspected", "inspected", "received"])
        await until(pilot, lambda: "marked" not in text_of(names))
        await undo_newest(pilot)
        await until(pilot, lambda: {one[0] for one in told()} == {"received"})
        screen.go_to_unit(units[1])
        await pilot.press("space", "space", "h")
        await until(pilot, lambda: open_now(screen) == "ReasonDialog")
        await pilot.press(*"no screws", "enter")
        await until(pilot, lambda: [one[1] for one in told()] == [None, "no screws", "no screws"])
        await until(pilot, lambda: "marked" not in text_of(names))
        screen.go_to_unit(units[1])
        await pilot.press("space", "space", "h")
        await until(pilot, lambda: {one[1] for one in told()} == {None})


async def test_marked_units_go_to_a_stage_that_is_chosen_once(desk: Desk) -> None:
    units = [add_unit(desk, maker="Fenn", model=f"Model {n}").unit_id for n in range(2)]
    async with first_screen(desk) as (screen, pilot):
        screen.go_to_unit(units[0])
        await pilot.press("space", "space", "g")
        await until(pilot, lambda: open_now(screen) == "choose_stage_of_all")
        await settled(pilot)
        await pilot.press("down", "enter")
        await until(pilot, lambda: {read_unit(desk, one).stage for one in units} == {"inspected"})


async def test_one_marked_unit_that_cannot_move_stops_all_and_escape_takes_the_marks_off(busy: Desk) -> None:
    async with first_screen(busy) as (screen, pilot):
        await pilot.press("home", *["space"] * 11, "m")
        await until(pilot, lambda: "Nothing was changed of any of them" in toasts(screen))
        assert len(screen.query_one(QueueList).marked) > 1
        await pilot.press("escape")
        await until(pilot, lambda: screen.query_one(QueueList).marked == ())


async def test_the_papers_of_marked_units_are_saved_in_one_file(demo_desk: Desk, tmp_path: Path) -> None:
    path = tmp_path / "papers.pdf"
    async with first_screen(demo_desk, (120, 36)) as (screen, pilot):
        await pilot.press("home", *["space"] * 3)
        tags = [row.tag for row in screen._marked()]
        for kind, told in (("labels", 0), ("buyer_sheets", 3)):
            await save_papers(screen, pilot, kind, path)
            await until(pilot, path.exists)
            await until(pilot, lambda: pilot.app.screen is screen)
            with closing(PdfDocument(path.read_bytes())) as pdf:
                pages = [page.get_textpage().get_text_range() for page in pdf]
            assert len(pages) >= 3
            assert not told or sum(any(tag in page for page in pages) for tag in tags) == told
            path.unlink()
        assert len(screen._marked()) == 3, "still marked for the next paper"


@pytest.mark.parametrize(
    ("kind", "file", "says"),
    [
        pytest.param("hand_overs", "papers.pdf", "sold", id="of one that is not sold there is none"),
        pytest.param("labels", "labels.png", ".pdf", id="a picture holds one label"),
    ],
)
async def test_papers_that_cannot_be_in_one_file_are_not_saved(
    demo_desk: Desk, tmp_path: Path, kind: str, file: str, says: str
) -> None:
    path = tmp_path / file
    async with first_screen(demo_desk, (120, 36)) as (screen, pilot):
        await pilot.press("home", "space", "space")
        await save_papers(screen, pilot, kind, path)
        await until(pilot, lambda: says in sentences(pilot.app.screen))
        assert not path.exists()


async def save_papers(screen: FirstScreen, pilot: Pilot[int], kind: str, path: Path) -> None:
    """Fill in the form for the papers of the marked units, and send it."""
    await pilot.press("f")
    await settled(pilot)
    await pilot.press("h")
    await until(pilot, lambda: open_now(screen) == "save_papers_form")
    await settled(pilot)
    form = pilot.app.screen
    assert isinstance(form, Form)
    form.field("paper").put(kind)
    form.field("path").put(str(path))
    await pilot.press("ctrl+s")


async def test_marks_are_of_units_that_the_filter_shows(busy: Desk) -> None:
    async with first_screen(busy) as (screen, pilot):
        queue = screen.query_one(QueueList)
        await pilot.press("home", *["space"] * 3)
        every = len(queue.marked)
        await pilot.press("/", *"maple 12", "enter")
        await until(pilot, lambda: len(queue.items) == 2)
        assert len(queue.marked) < every
