"""The queue sorted by a person: within its stages, by values, kept, and undone by the third time."""

from __future__ import annotations

from collections.abc import Callable

from textual.pilot import Pilot

from bench.dashboard.presenters.arranged_rows import Arrangement
from bench.dashboard.presenters.queue_lines import Heading
from bench.dashboard.screens.dialogs.choose_columns import ITS_WIDTH, ColumnsDialog
from bench.dashboard.screens.first import FirstScreen
from bench.dashboard.widgets.queue_list import QueueList, QueueNames
from bench.desk import Desk
from bench.views.queue import QueueRow
from tests.screen.host import settled
from tests.screen.waiting import first_screen, text_of


def by_stage(screen: FirstScreen) -> list[list[QueueRow]]:
    """The units shown, stage by stage."""
    stages: list[list[QueueRow]] = []
    for line in screen.query_one(QueueList).items:
        if isinstance(line, Heading):
            stages.append([])
        else:
            stages[-1].append(line)
    return stages


async def sort_by(pilot: Pilot[int], downs: int) -> None:
    """Choose the column that many lines below the first."""
    await pilot.press("|")
    await settled(pilot)
    assert isinstance(pilot.app.screen, ColumnsDialog)
    await pilot.press("home", *["down"] * downs, "enter")
    await settled(pilot)
    await pilot.press("escape")
    await settled(pilot)


async def test_the_units_of_each_stage_are_sorted_and_the_cursor_stays(demo_desk: Desk) -> None:
    async with first_screen(demo_desk, (120, 36)) as (screen, pilot):
        own, kept = by_stage(screen), screen.query_one(QueueList).row
        keys: list[Callable[[QueueRow], object]] = [lambda one: one.tag, lambda one: one.model.casefold()]
        for place, key in enumerate(keys):
            for falling in (False, True):
                await sort_by(pilot, place)
                found = by_stage(screen)
                assert [len(stage) for stage in found] == [len(stage) for stage in own]
                for stage in found:
                    told = [key(one) for one in stage]
                    assert told == sorted(told, key=str, reverse=falling)
                assert screen.query_one(QueueList).row == kept
                assert ("▼" if falling else "▲") in text_of(screen.query_one(QueueNames))
            await sort_by(pilot, place)
            assert by_stage(screen) == own
        assert any(len(stage) > 2 for stage in own)


async def test_the_order_is_kept_and_hides_nothing(demo_desk: Desk) -> None:
    async with first_screen(demo_desk, (80, 24)) as (screen, pilot):
        await sort_by(pilot, 1)
        assert screen.bench.table_choices.of("queue") == Arrangement("Model")
        await pilot.press("|")
        await settled(pilot)
        await pilot.press("space")
        await settled(pilot)
        assert ITS_WIDTH in text_of(pilot.app.screen.query_one("#wrong"))
        await pilot.press("o", "escape")
        await settled(pilot)
        assert screen.bench.table_choices.of("queue") == Arrangement()
        assert "▲" not in text_of(screen.query_one(QueueNames))
