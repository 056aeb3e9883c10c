from __future__ import annotations

import time
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import replace
from typing import Any

from textual.app import App, ComposeResult
from textual.pilot import Pilot

from bench.dashboard.widgets.line_list import LineList
from bench.dashboard.widgets.looks import LOOK_CLASSES
from bench.dashboard.widgets.queue_list import QueueList
from bench.dashboard.widgets.top_line import TopLine
from bench.domain.durations import MINUTE_US, SECOND_US
from bench.views.queue import QueueRow, QueueStage, QueueView
from tests.screen.made_up import NOW_US, ROW, RUNNING, many, view
from tests.screen.waiting import text_of, until


class Drawn(QueueList):
    """A queue that remembers which lines it drew."""

    def __init__(self) -> None:
        super().__init__(id="queue")
        self.drawn: list[int] = []

    def render_line(self, y: int) -> Any:
        self.drawn.append(y)
        return super().render_line(y)


class OneQueue(App[None]):
    """A queue alone."""

    COMPONENT_CLASSES = LOOK_CLASSES
    CSS = "LineList { overflow-x: hidden; scrollbar-size-vertical: 1; scrollbar-gutter: stable; }"

    def __init__(self, shown: QueueView) -> None:
        super().__init__()
        self.shown = shown
        self.moved = 0
        self.chosen = 0

    def compose(self) -> ComposeResult:
        yield Drawn()

    def on_mount(self) -> None:
        self.queue.view = self.shown

    @property
    def queue(self) -> Drawn:
        return self.query_one(Drawn)

    def on_line_list_moved(self, event: LineList.Moved) -> None:
        assert event.control is self.queue
        self.moved += 1

    def on_line_list_chosen(self) -> None:
        self.chosen += 1


@asynccontextmanager
async def queue_of(
    shown: QueueView, size: tuple[int, int] = (80, 12)
) -> AsyncIterator[tuple[Drawn, Pilot[None]]]:
    app = OneQueue(shown)
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        yield app.queue, pilot


def tags(queue: QueueList) -> list[str]:
    return [line.split()[0] for line in text_of(queue).replace("▌", " ").splitlines() if line.strip()]


def under(queue: QueueList) -> int:
    assert queue.row is not None
    return queue.row.unit_id


async def test_the_cursor_skips_headings_and_shows_them_on_the_way_up() -> None:
    rows = many(3)
    shown = view(*(replace(row, stage_id=row.unit_id) for row in rows))
    async with queue_of(shown, (80, 3)) as (queue, pilot):
        assert under(queue) == 1
        await pilot.press("down")
        assert under(queue) == 2
        await pilot.press("end")
        assert under(queue) == 3
        await pilot.press("home")
        assert under(queue) == 1
        assert text_of(queue).splitlines()[0].split()[0] == "stage"


async def test_pages_go_by_what_is_seen() -> None:
    async with queue_of(view(*many(90)), (80, 12)) as (queue, pilot):
        await pilot.press("pagedown")
        assert under(queue) == 12
        await pilot.press("pagedown", "pageup")
        assert under(queue) == 12
        assert queue.cursor in queue.visible_range


async def test_up_at_the_top_and_down_at_the_end_stay() -> None:
    async with queue_of(view(*many(2))) as (queue, pilot):
        await pilot.press("up", "up")
        assert under(queue) == 1
        await pilot.press("down", "down", "down")
        assert under(queue) == 2


async def test_a_move_draws_two_lines_again_not_the_list() -> None:
    async with queue_of(view(*many(50)), (80, 12)) as (queue, pilot):
        queue.drawn.clear()
        await pilot.press("down")
        await pilot.pause()
        assert set(queue.drawn) == {1, 2}


async def test_a_tick_draws_the_visible_lines_that_run_and_no_other() -> None:
    rows = [replace(row, running=(RUNNING,)) if row.unit_id in (3, 40) else row for row in many(50)]
    async with queue_of(view(*rows), (80, 12)) as (queue, pilot):
        queue.drawn.clear()
        queue.tick(NOW_US)
        await pilot.pause()
        assert set(queue.drawn) == {3}
        assert "► 5 min 00" in text_of(queue)


async def test_a_tick_draws_no_line_that_says_the_same() -> None:
    """Beyond ten minutes a running time changes once a minute, and costs the terminal nothing in between."""
    ran_for_us = 30 * MINUTE_US
    running = replace(RUNNING, started_us=NOW_US - ran_for_us)
    async with queue_of(view(*(replace(row, running=(running,)) for row in many(5)))) as (queue, pilot):
        queue.tick(NOW_US)
        await pilot.pause()
        queue.drawn.clear()
        for second in range(1, 60):
            queue.tick(NOW_US + second * SECOND_US)
        await pilot.pause()
        assert queue.drawn == []
        assert "► 30 min" in text_of(queue)
        queue.drawn.clear()
        queue.tick(NOW_US + MINUTE_US)
        await pilot.pause()
        assert set(queue.drawn) == {1, 2, 3, 4, 5}
        assert "► 31 min" in text_of(queue)


class DrawnLine(TopLine):
    """A top line that counts how often it was drawn."""

    def __init__(self) -> None:
        super().__init__()
        self.times_drawn = 0

    def render_line(self, y: int) -> Any:
        self.times_drawn += 1
        return super().render_line(y)


class OneTopLine(App[None]):
    """A top line alone."""

    COMPONENT_CLASSES = LOOK_CLASSES
    CSS = "TopLine { height: 1; }"

    def compose(self) -> ComposeResult:
        yield DrawnLine()


async def test_the_top_line_is_drawn_once_a_minute() -> None:
    app = OneTopLine()
    async with app.run_test(size=(120, 4)) as pilot:
        line = app.query_one(DrawnLine)
        line.view, line.now_us = view(*many(1)), NOW_US
        await pilot.pause()
        before = line.times_drawn
        for second in range(1, 60):
            line.now_us = NOW_US + second * SECOND_US
            await pilot.pause()
        assert line.times_drawn == before > 0
        line.now_us = NOW_US + MINUTE_US
        await pilot.pause()
        assert line.times_drawn > before


async def test_a_new_snapshot_draws_what_differs_and_no_other() -> None:
    rows = many(50)
    async with queue_of(view(*rows), (80, 12)) as (queue, pilot):
        queue.drawn.clear()
        queue.view = view(*(replace(row, next_task="other") if row.unit_id == 5 else row for row in rows))
        await pilot.pause()
        assert set(queue.drawn) == {5}


async def test_the_cursor_stays_on_its_unit_when_others_come_and_go() -> None:
    rows = many(50)
    async with queue_of(view(*rows)) as (queue, pilot):
        await pilot.press("end")
        queue.view = view(*rows[10:])
        assert under(queue) == 50
        queue.view = view(*(replace(rows[49], stage_id=-1),), *rows[:49])
        assert under(queue) == 50
        assert queue.cursor == 1
        assert queue.cursor in queue.visible_range


async def test_the_cursor_goes_to_the_next_unit_when_its_own_leaves() -> None:
    rows = many(5)
    async with queue_of(view(*rows)) as (queue, pilot):
        await pilot.press("down")
        queue.view = view(rows[0], *rows[2:])
        assert under(queue) == 3
        queue.view = view()
        assert queue.row is None


async def test_scrolling_away_is_not_undone_by_a_new_snapshot() -> None:
    rows = many(50)
    async with queue_of(view(*rows)) as (queue, pilot):
        queue.scroll_to(y=20, animate=False, immediate=True)
        queue.view = view(*(replace(row, next_task="other") for row in rows))
        await pilot.pause()
        assert queue.scroll_offset.y == 20


async def test_a_click_puts_the_cursor_and_a_double_click_opens() -> None:
    async with queue_of(view(*many(9))) as (queue, pilot):
        await pilot.click(queue, offset=(10, 4))
        assert under(queue) == 4
        await pilot.click(queue, offset=(10, 0))
        assert under(queue) == 4
        await pilot.double_click(queue, offset=(10, 5))
        app = pilot.app
        assert isinstance(app, OneQueue)
        await until(pilot, lambda: app.chosen == 1)
        assert under(queue) == 5


async def test_the_wheel_scrolls_and_leaves_the_cursor() -> None:
    async with queue_of(view(*many(50))) as (queue, pilot):
        queue.scroll_down(animate=False, immediate=True)
        await pilot.pause()
        assert queue.scroll_offset.y == 1
        assert under(queue) == 1


async def test_a_final_stage_shows_its_count_and_lists_nobody() -> None:
    sold = QueueStage(9, "sold", lid_off=False, final=True, count=1234, rows=())
    shown = view(ROW)
    async with queue_of(replace(shown, stages=(*shown.stages, sold))) as (queue, pilot):
        assert text_of(queue).splitlines()[2].endswith(" 1234")
        await pilot.press("end")
        assert under(queue) == ROW.unit_id


async def test_a_final_stage_tells_the_ways_out_apart() -> None:
    ways = (("sold", 30), ("handed back", 3), ("kept", 1), ("scrapped", 2), ("parts", 4))
    sold = QueueStage(9, "sold", lid_off=False, final=True, count=40, rows=(), ways=ways)
    shown = view(ROW)
    told = "sold 30, handed back 3, kept for the shop 1, scrapped 2, broken for parts 4"
    async with queue_of(replace(shown, stages=(*shown.stages, sold)), (120, 24)) as (queue, _):
        last = text_of(queue).splitlines()[2]
        assert told in last
        assert last.rstrip().endswith(" 40")
    async with queue_of(replace(shown, stages=(*shown.stages, sold)), (60, 24)) as (queue, _):
        last = text_of(queue).splitlines()[2]
        assert "sold 30, handed back 3" in last
        assert last.rstrip().endswith(" 40")


async def test_hostile_names_take_one_line_each() -> None:
    names = ["[red]x[/]", "a\nb", "\x1b[31mred", "w" * 10_000, "\U0001f469\u200d\U0001f467", "日本語" * 50]
    rows = [replace(ROW, unit_id=n, tag=f"1000{n}", model=name) for n, name in enumerate(names)]
    async with queue_of(view(*rows)) as (queue, _):
        assert tags(queue) == ["stage", *(row.tag for row in rows)]
        assert "[red]x[/]" in text_of(queue)
        assert "\x1b" not in text_of(queue)
        widths = {queue.render_line(y).cell_length for y in range(queue.size.height)}
        assert widths == {queue.line_width}


async def test_a_hundred_thousand_units_cost_a_key_no_more_than_thirty() -> None:
    """`common practice, no source`: ten times the time for thirty units is allowed, for noise."""
    took: dict[int, float] = {}
    for count in (30, 100_000):
        async with queue_of(view(*many(count)), (120, 36)) as (queue, _):
            before = time.perf_counter()
            for _ in range(20):
                queue.action_down()
            took[count] = time.perf_counter() - before
            assert under(queue) == 21
    assert took[100_000] < 10 * took[30] + 0.05


def test_rows_of_a_view_are_told_apart_by_value() -> None:
    assert replace(ROW, spent_us=1) != ROW
    assert isinstance(ROW, QueueRow)


async def test_the_cursor_is_in_view_from_the_first_paint() -> None:
    shown = view(*many(50))

    class Late(OneQueue):
        def on_mount(self) -> None:
            super().on_mount()
            self.queue.go_to_unit(40)

    app = Late(shown)
    async with app.run_test(size=(80, 12)) as pilot:
        await pilot.pause()
        assert app.queue.cursor in app.queue.visible_range
