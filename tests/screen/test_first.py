from __future__ import annotations

import pytest
from textual.widgets import Input

from bench.dashboard.screens.dialogs.questions import ReasonDialog
from bench.dashboard.screens.first import FirstScreen
from bench.dashboard.widgets.queue_list import QueueList
from bench.dashboard.widgets.safety_panel import AlarmBar, SafetyPanel, StockPanel
from bench.dashboard.widgets.tasks_panel import TasksPanel
from bench.dashboard.widgets.too_small import TooSmall
from bench.dashboard.widgets.top_line import TopLine
from bench.dashboard.widgets.week_chart import WeekBar
from bench.desk import Desk
from bench.domain.tags import tag_from_number
from bench.views.queue import read_queue
from bench.work.timers import stop_entry
from bench.work.units import add_unit
from tests.clocks import HandSetClock
from tests.screen.busy_shop import HOSTILE
from tests.screen.host import settled
from tests.screen.waiting import first_screen, text_of, until

SIZES = [(80, 24), (120, 36), (200, 50)]


def queue_of(screen: FirstScreen) -> QueueList:
    return screen.query_one(QueueList)


@pytest.mark.parametrize("size", SIZES)
async def test_every_unit_is_under_its_stage(busy: Desk, size: tuple[int, int]) -> None:
    view = read_queue(busy)
    async with first_screen(busy, size) as (screen, _):
        queue = queue_of(screen)
        shown = [getattr(item, "unit_id", item.stage_id * -1) for item in queue.items]
        expected: list[int] = []
        for stage in view.stages:
            if stage.rows:
                expected += [-stage.stage_id, *(row.unit_id for row in stage.rows)]
        assert shown == expected


@pytest.mark.parametrize("size", SIZES)
async def test_nothing_reaches_into_its_neighbour(busy: Desk, size: tuple[int, int]) -> None:
    async with first_screen(busy, size) as (screen, pilot):
        await until(pilot, lambda: screen.unit is not None)
        seen = screen.query("TopLine, AlarmBar, #names, #queue, #tasks, #safety, #stock, #week, KeyBar")
        regions = [widget.region for widget in seen if widget.region.area]
        assert len(regions) >= 6
        for index, region in enumerate(regions):
            assert screen.region.contains_region(region)
            for other in regions[index + 1 :]:
                assert not region.intersection(other).area


async def test_names_from_people_are_shown_as_they_are(busy: Desk) -> None:
    async with first_screen(busy, (200, 50)) as (screen, _):
        text = text_of(queue_of(screen))
        assert "[red]x[/]" in text
        assert HOSTILE[2][:4] in text
        assert "‖ on hold: part" in text
        assert "\u200d" not in text
        assert "wwwww" in text


async def test_what_hurts_is_above_everything_in_words(busy: Desk) -> None:
    async with first_screen(busy) as (screen, _):
        bar = screen.query_one(AlarmBar)
        alarmed = [row.tag for stage in read_queue(busy).stages for row in stage.rows if row.battery_alarm]
        assert bar.region.y == 1
        assert all(tag in text_of(bar) for tag in alarmed)
        assert "BATTERY CONNECTED, COVER OFF" in text_of(bar)


async def test_a_dialog_does_not_dim_the_alarm(busy: Desk) -> None:
    async with first_screen(busy) as (screen, pilot):
        loud = text_of(screen.query_one(AlarmBar))
        screen.app.push_screen(ReasonDialog("A reason", "Why", draft="skip 1"))
        await until(pilot, lambda: isinstance(screen.app.screen, ReasonDialog))
        await until(pilot, lambda: any(bar.display for bar in screen.app.screen.query(AlarmBar)))
        over = screen.app.screen.query_one(AlarmBar)
        assert text_of(over).strip() == loud.strip()
        assert over.region == screen.query_one(AlarmBar).region, "over the dimmed one, which does not show"


async def test_no_alarm_no_bar(desk: Desk) -> None:
    async with first_screen(desk) as (screen, _):
        assert not screen.query_one(AlarmBar).display


async def test_an_empty_bench_says_what_to_press(desk: Desk) -> None:
    async with first_screen(desk) as (screen, _):
        assert "Press n to put the first unit on it" in text_of(queue_of(screen))


async def test_top_line_ticks_with_the_clock(busy: Desk, clock: HandSetClock) -> None:
    async with first_screen(busy) as (screen, pilot):
        top = screen.query_one(TopLine)
        assert "1 h 01" in text_of(top)
        assert "today 1 h 01" in text_of(top)
        clock.advance(minutes=1, us=1_000_000)
        screen.bench.second_hand.tick()
        await until(pilot, lambda: "1 h 02" in text_of(top).partition("today")[0])
        assert "►62/" in text_of(queue_of(screen))
        assert "today 1 h 02" in text_of(top)


async def test_panels_follow_the_cursor(busy: Desk) -> None:
    async with first_screen(busy, (200, 50)) as (screen, pilot):
        await pilot.press("end")
        row = queue_of(screen).row
        assert row is not None
        await until(pilot, lambda: screen.unit is not None and screen.unit.unit_id == row.unit_id)
        assert row.tag in text_of(screen.query_one(SafetyPanel))
        assert row.next_task[:20] in text_of(screen.query_one(TasksPanel))


async def test_tasks_stand_beside_the_queue_only_where_there_is_room(busy: Desk) -> None:
    async with first_screen(busy, (120, 36)) as (screen, _):
        assert not screen.query_one(TasksPanel).display
    async with first_screen(busy, (200, 50)) as (screen, _):
        assert screen.query_one(TasksPanel).display


async def test_tab_cycles_the_folded_panels_and_the_queue_keeps_the_keys(busy: Desk) -> None:
    async with first_screen(busy, (80, 24)) as (screen, pilot):
        names = ["safety", "stock", "week-panel", "tasks", "safety"]
        for index, name in enumerate(names):
            if index:
                await pilot.press("tab")
                await settled(pilot)
            shown = [one for one in names[:4] if screen.query_one(f"#{one}").region.area]
            assert shown == [name]
            assert screen.focused is queue_of(screen)


async def test_tab_gives_the_next_panel_the_keys_where_all_are_shown(busy: Desk) -> None:
    async with first_screen(busy, (120, 36)) as (screen, pilot):
        await pilot.press("tab")
        assert isinstance(screen.focused, StockPanel)
        await pilot.press("tab")
        assert screen.focused is queue_of(screen)


async def test_filter_narrows_as_one_types_and_escape_clears(busy: Desk) -> None:
    async with first_screen(busy) as (screen, pilot):
        queue = queue_of(screen)
        everything = queue.items
        await pilot.press("slash", *"maple 13")
        await until(pilot, lambda: len(queue.items) == 2)
        assert queue.row is not None
        assert queue.row.model == "Invented Maple 13 inch"
        await pilot.press("enter")
        assert screen.focused is queue
        assert len(queue.items) == 2
        await pilot.press("escape")
        await until(pilot, lambda: queue.items == everything)


async def test_filter_finds_the_reason_a_unit_is_held(busy: Desk) -> None:
    async with first_screen(busy) as (screen, pilot):
        queue = queue_of(screen)
        await pilot.press("slash", *"on order")
        await until(pilot, lambda: len(queue.items) == 2)
        assert queue.row is not None
        assert queue.row.held == "part on order: [b]fan[/b]"


async def test_a_filter_that_matches_nothing_says_so(busy: Desk) -> None:
    async with first_screen(busy) as (screen, pilot):
        await pilot.press("slash", *"zzz")
        await until(pilot, lambda: not queue_of(screen).items)
        assert "Press Esc to see every unit" in text_of(queue_of(screen))


async def test_typed_digits_and_enter_go_to_the_unit(busy: Desk) -> None:
    view = read_queue(busy)
    target = view.stages[2].rows[1]
    async with first_screen(busy) as (screen, pilot):
        await pilot.press(*target.tag, "enter")
        await until(pilot, lambda: screen.unit is not None and screen.unit.unit_id == target.unit_id)
        assert queue_of(screen).row == target
        assert screen.focused is queue_of(screen)


async def test_a_tag_is_found_behind_a_filter(busy: Desk) -> None:
    target = read_queue(busy).stages[2].rows[1]
    async with first_screen(busy) as (screen, pilot):
        await pilot.press("slash", *"late", "enter", *target.tag, "enter")
        await until(pilot, lambda: queue_of(screen).row == target)
        assert screen.query_one("#filter", Input).value == ""


async def test_a_wrong_check_digit_says_so_and_moves_nothing(busy: Desk) -> None:
    row = read_queue(busy).stages[0].rows[0]
    wrong = row.tag[:-1] + str((int(row.tag[-1]) + 1) % 10)
    async with first_screen(busy) as (screen, pilot):
        before = queue_of(screen).row
        await pilot.press(*wrong, "enter")
        await until(pilot, lambda: bool(screen.query("Toast")))
        assert "does not fit the digits before it" in toasts(screen)
        assert queue_of(screen).row == before


async def test_a_tag_nobody_bears_says_so(busy: Desk) -> None:
    async with first_screen(busy) as (screen, pilot):
        await pilot.press(*tag_from_number(9_999), "enter")
        await until(pilot, lambda: "No unit bears the tag" in toasts(screen))


async def test_another_programs_change_shows_and_the_cursor_stays_on_its_unit(busy: Desk) -> None:
    async with first_screen(busy) as (screen, pilot):
        queue = queue_of(screen)
        await pilot.press("end")
        kept = queue.row
        assert kept is not None
        added = add_unit(busy, maker="Brand", model="new one", due_text="2025-01-01")
        await until(pilot, lambda: queue.row_of_tag(added.tag) is not None)
        assert queue.row is not None
        assert queue.row.unit_id == kept.unit_id


async def test_s_stops_what_one_times_here_and_starts_it_again(busy: Desk) -> None:
    running = read_queue(busy).running()[0]
    async with first_screen(busy) as (screen, pilot):
        screen.go_to_unit(running.unit_id)
        await pilot.press("s")
        await until(pilot, lambda: screen.view is not None and not screen.view.running())
        await pilot.press("s")
        await until(pilot, lambda: screen.view is not None and len(screen.view.running()) == 1)
        assert screen.view is not None
        assert screen.view.running()[0].task_id == running.task_id


async def test_a_stop_elsewhere_stops_the_ticking(busy: Desk) -> None:
    running = read_queue(busy).running()[0]
    async with first_screen(busy) as (screen, pilot):
        stop_entry(busy, running.entry_id)
        await until(pilot, lambda: "►" not in text_of(queue_of(screen)))
        assert "Ada (you) –" in text_of(screen.query_one(TopLine))


async def test_the_week_is_shown_with_numbers(busy: Desk) -> None:
    async with first_screen(busy) as (screen, _):
        text = text_of(screen.query_one("#week", WeekBar))
        assert "Wed 1.0" in text
        assert "total 1 h 01" in text


@pytest.mark.parametrize("size", [(50, 24), (120, 12)])
async def test_a_window_too_small_says_so(busy: Desk, size: tuple[int, int]) -> None:
    async with first_screen(busy, size) as (screen, pilot):
        await until(pilot, lambda: bool(screen.query(TooSmall)))
        assert screen.get_widget_at(size[0] // 2, size[1] // 2)[0] is screen.query_one(TooSmall)


async def test_q_leaves_and_the_timer_goes_on(busy: Desk) -> None:
    async with first_screen(busy) as (screen, pilot):
        await pilot.press("q")
        app = screen.app
        await until(pilot, lambda: app.return_code is not None)
        assert app.return_code == 0
    assert len(read_queue(busy).running()) == 1


def toasts(screen: FirstScreen) -> str:
    return "\n".join(str(toast.render()) for toast in screen.query("Toast"))


async def test_the_cursor_begins_on_the_unit_one_is_timing(busy: Desk) -> None:
    running = read_queue(busy).running()[0]
    async with first_screen(busy) as (screen, _):
        row = queue_of(screen).row
        assert row is not None
        assert row.unit_id == running.unit_id
        assert screen.unit is not None
        assert screen.unit.unit_id == running.unit_id
