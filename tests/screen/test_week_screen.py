"""The week's screen: hours, weeks, people, estimates, the entries behind a figure, the saved sheet."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from bench.dashboard.screens.dialogs.file_forms import save_document_form
from bench.dashboard.screens.dialogs.questions import ReasonDialog
from bench.dashboard.screens.dialogs.time_forms import CorrectEntry
from bench.dashboard.screens.money import MoneyScreen
from bench.dashboard.screens.week import WeekScreen
from bench.dashboard.widgets.row_table import RowTable
from bench.desk import Desk
from bench.domain.weeks import IsoWeek
from bench.views.routes import read_route, read_routes
from bench.views.week import read_week
from bench.work.selling import sell_unit
from bench.work.shop import add_person
from bench.work.timers import finish_task, start_task, stop_entry
from bench.work.units import add_unit
from tests.clocks import HandSetClock
from tests.screen.host import Host, opened, runs, settled, texts, typed, until
from tests.screen.undoing import undo_newest
from tests.screen.workshop import FULL, LOOK_OVER, new_unit, task
from tests.work.looked_into import looked_into_if_need_be


@pytest.fixture
def week(desk: Desk, clock: HandSetClock) -> IsoWeek:
    """An hour and a half of Ada's, half an hour of Bo's, all finished."""
    bo = desk.as_person(add_person(desk, "Bo [b]"))
    for who, minutes in ((desk, 60), (desk, 30), (bo, 30)):
        task_id = task(desk, new_unit(desk), LOOK_OVER).task_id
        entry = start_task(who, task_id)
        clock.advance(minutes)
        stop_entry(who, entry.entry_id)
        finish_task(who, task_id)
    return IsoWeek.at(clock.now_us(), "Europe/Berlin")


def shown(app: Host) -> WeekScreen:
    assert isinstance(app.screen, WeekScreen)
    return app.screen


@pytest.mark.parametrize("size", [(80, 24), (120, 36), (200, 50)])
async def test_every_panel_can_be_seen(desk: Desk, week: IsoWeek, size: tuple[int, int]) -> None:
    async with opened(desk, WeekScreen(), size) as (app, pilot):
        assert f"Week {week}" in texts(shown(app))
        assert "2 h 00 hands-on" in texts(shown(app))
        assert "2.0 h" in texts(shown(app).table("hours"))
        seen = set()
        for _ in range(6):
            table = next(one for one in shown(app).query(RowTable) if one.is_current)
            await settled(pilot)
            assert table.rows.size.height >= 3, table.id
            assert app.screen.region.contains_region(table.region)
            seen.add(table.id)
            await pilot.press("tab")
        assert seen == {"hours", "sold", "entries", "people", "weeks", "estimates"}


async def test_a_figure_shows_the_entries_behind_it_and_escape_all_again(desk: Desk, week: IsoWeek) -> None:
    async with opened(desk, WeekScreen(), (120, 36)) as (app, pilot):
        people = shown(app).table("people")
        people.take_focus()
        people.rows.move_to(
            next(n for n, row in enumerate(people.rows.items) if row.key == ("person", "Bo [b]"))
        )
        await pilot.press("enter")
        await settled(pilot)
        entries = shown(app).table("entries")
        assert entries.is_current
        assert len([row for row in entries.rows.items if not row.heading]) == 1
        assert "Only person Bo [b]" in texts(entries)
        await pilot.press("escape")
        assert len(entries.rows.items) == 3
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])


async def test_what_an_hour_earned_stands_there_and_opens_the_units_money(
    desk: Desk, week: IsoWeek, clock: HandSetClock
) -> None:
    """120.00 - 75.00 paid = 45.00 in an hour and a half: 30.00 an hour."""
    unit_id = add_unit(desk, maker="", model="[b]odd[/b]", price_text="75", route_id=1).unit_id
    entry = start_task(desk, task(desk, unit_id, LOOK_OVER).task_id)
    clock.advance(90)
    stop_entry(desk, entry.entry_id)
    looked_into_if_need_be(desk, unit_id)
    sell_unit(
        desk, unit_id, price_text="120", shipping_text="0", open_tasks="skip", reason="only looked over"
    )
    async with opened(desk, WeekScreen(), (120, 36)) as (app, pilot):
        assert "1 sold, 30.00 EUR per hour, 3 h 30 hands-on" in texts(shown(app))
        sold = shown(app).table("sold")
        assert [cell.text for cell in sold.rows.items[0].cells[1:]] == [
            *("[b]odd[/b]", "45.00 EUR", "1.5 h", "30.00 EUR")
        ]
        assert [row.cells[4].text for row in sold.rows.items[1:]] == ["30.00 EUR", "12.86 EUR"]  # 45 / 3.5 h
        sold.take_focus()
        await pilot.press("end", "enter")
        await settled(pilot)
        assert shown(app).table("sold").is_current  # the sum of them all opens nothing
        await pilot.press("home", "enter")
        await until(pilot, lambda: isinstance(app.screen, MoneyScreen))
        assert isinstance(app.screen, MoneyScreen)
        assert app.screen.unit_id == unit_id


async def test_a_correction_changes_the_sums(desk: Desk, week: IsoWeek) -> None:
    async with opened(desk, WeekScreen(), (120, 36)) as (app, pilot):
        shown(app).table("entries").take_focus()
        await pilot.press("home", "enter")
        await until(pilot, lambda: isinstance(app.screen, CorrectEntry))
        await settled(pilot)
        dialog = app.screen
        assert isinstance(dialog, CorrectEntry)
        dialog.field("stop_text").put("+30")
        dialog.field("reason").put("a call")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "1 h 30 hands-on" in texts(app.screen))
        assert "* 30 min" in texts(shown(app).table("entries"))
        await undo_newest(pilot)
        await until(pilot, lambda: isinstance(app.screen, ReasonDialog))
        await settled(pilot)
        await pilot.press(*"slip", "enter")
        await until(pilot, lambda: "2 h 00 hands-on" in texts(app.screen))


async def test_arrows_and_brackets_go_from_week_to_week(desk: Desk, week: IsoWeek) -> None:
    async with opened(desk, WeekScreen()) as (app, pilot):
        await pilot.press("left")
        await until(pilot, lambda: f"Week {week.previous()}" in texts(app.screen))
        await pilot.press("left_square_bracket")
        await until(pilot, lambda: f"Week {week.previous(2)}" in texts(app.screen))
        await pilot.press("right")
        await until(pilot, lambda: f"Week {week.previous()}" in texts(app.screen))
        await pilot.press("t")
        await until(pilot, lambda: f"Week {week}" in texts(app.screen))


async def test_what_was_measured_becomes_the_estimate(desk: Desk, week: IsoWeek) -> None:
    async with opened(desk, WeekScreen(), (120, 36)) as (app, pilot):
        await pilot.press("a")
        await settled(pilot)
        await pilot.press("down", "enter")
        route = next(one.route_id for one in read_routes(desk) if one.name == FULL)

        def estimates() -> list[int]:
            return [one.estimate_minutes for one in read_route(desk, route).tasks if one.name == LOOK_OVER]

        await until(pilot, lambda: estimates() == [48])  # type 7: 30 + 0.6 * (60 - 30), the 80th percentile
        assert isinstance(app.screen, WeekScreen)


async def test_a_running_timer_counts_on(desk: Desk, week: IsoWeek, clock: HandSetClock) -> None:
    start_task(desk, task(desk, new_unit(desk), LOOK_OVER).task_id)
    async with opened(desk, WeekScreen(), (120, 36)) as (app, pilot):
        clock.advance(2)
        app.second_hand.tick()
        await until(pilot, lambda: "► 2 min 00" in texts(shown(app).table("entries")))
        await until(pilot, lambda: "2 h 02 hands-on" in texts(shown(app)))


async def test_the_sheet_is_saved_in_the_format_its_name_asks_for(
    desk: Desk, week: IsoWeek, tmp_path: Path
) -> None:
    async with opened(desk, WeekScreen()) as (app, pilot):
        await pilot.press("s")
        await until(pilot, lambda: runs(app.screen, save_document_form))
        dialog = app.screen
        assert runs(dialog, save_document_form)
        dialog.field("path").put(str(tmp_path / "week.pdf"))
        await pilot.press("enter")
        await settled(pilot)
        assert "End it in .txt, .csv or .json" in dialog.field("path").said
        dialog.field("path").put(str(tmp_path / "week.json"))
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, WeekScreen))
    assert json.loads((tmp_path / "week.json").read_text(encoding="utf-8"))["week"] == str(week)


async def test_time_is_added_to_the_entrys_task(desk: Desk, week: IsoWeek) -> None:
    async with opened(desk, WeekScreen(), (120, 36)) as (app, pilot):
        shown(app).table("entries").take_focus()
        await pilot.press("n")
        await settled(pilot)
        await typed(pilot, "8:00")
        await pilot.press("enter", *"+15", "enter", "x", "enter")
        await until(pilot, lambda: "2 h 15 hands-on" in texts(app.screen))


async def test_where_one_panel_is_seen_only_its_lines_are_acted_on(desk: Desk, week: IsoWeek) -> None:
    async with opened(desk, WeekScreen(), (80, 24)) as (app, pilot):
        screen = shown(app)
        assert screen.table("hours").is_current
        for key, panel in (("e", "entries"), ("a", "estimates"), ("n", "entries")):
            await pilot.press(key)
            await settled(pilot)
            assert app.screen is screen, "nothing is asked of a line that nobody sees"
            assert screen.table(panel).is_current
        await pilot.press("e")
        await until(pilot, lambda: isinstance(app.screen, CorrectEntry))


@pytest.mark.parametrize("size", [(80, 24), (120, 36), (200, 50)])
async def test_tags_and_tasks_stand_whole_and_the_newest_entry_is_at_hand(
    desk: Desk, week: IsoWeek, size: tuple[int, int]
) -> None:
    async with opened(desk, WeekScreen(), size) as (app, pilot):
        screen = shown(app)
        screen.table("entries").take_focus()
        await settled(pilot)
        newest = read_week(desk).entries[-1]
        lines = texts(screen.table("entries")).splitlines()
        (at,) = (line for line in lines if line.lstrip("│ ").startswith("▌"))
        assert newest.tag in at
        assert f" {LOOK_OVER} " in at
        assert "Wed 11:30–12:00" in at
        screen.table("estimates").take_focus()
        await settled(pilot)
        assert LOOK_OVER in texts(screen.table("estimates"))
