"""What every table can do: be filtered, sorted, have its columns chosen, its rows marked."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import Label, OptionList

from bench.dashboard.screens.dialogs.choose_columns import ColumnsDialog
from bench.dashboard.screens.journal import JournalScreen
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.screens.stock import StockScreen
from bench.dashboard.screens.unit import UnitScreen
from bench.dashboard.screens.week import WeekScreen
from bench.dashboard.table_choices import TableChoices
from bench.dashboard.widgets.jump_box import FilterBox
from bench.dashboard.widgets.row_table import RowTable
from bench.desk import Desk
from bench.views.stock import read_stock
from bench.views.unit import read_unit
from bench.work.consumables import add_consumable
from bench.work.stock import restock
from tests.screen.host import Host, opened, settled, texts, typed, until
from tests.screen.undoing import undo_newest
from tests.screen.workshop import fill_shelf, new_unit

SIZES = [(80, 24), (120, 36), (200, 50)]


def sheet(app: Host) -> Sheet[object]:
    assert isinstance(app.screen, Sheet)
    return app.screen


def table(app: Host) -> RowTable:
    found = sheet(app).table_meant()
    assert found is not None
    return found


def names(app: Host) -> list[str]:
    """The first cells of the rows."""
    return [row.cells[0].text for row in table(app).rows.items]  # type: ignore[union-attr]


def notes(app: Host) -> str:
    return str(table(app).border_subtitle or "")


def toasts(app: Host) -> str:
    return "\n".join(str(toast.render()) for toast in app.screen.query("Toast"))


async def choose(pilot: Pilot[int], column: str) -> None:
    """Open the choice of columns and put the cursor on one."""
    await pilot.press("|")
    await settled(pilot)
    dialog = pilot.app.screen
    assert isinstance(dialog, ColumnsDialog)
    columns = dialog.query_one(OptionList)
    columns.highlighted = next(
        at for at, line in enumerate(columns.options) if f" {column} " in str(line.prompt)
    )
    await settled(pilot)


@pytest.mark.parametrize("size", SIZES)
async def test_a_table_is_filtered_as_one_types_and_escape_shows_every_line(
    desk: Desk, size: tuple[int, int]
) -> None:
    async with opened(desk, StockScreen(), size) as (app, pilot):
        every = len(table(app).rows.items)
        await pilot.press("/")
        await typed(pilot, "isopr")
        await settled(pilot)
        assert isinstance(app.focused, FilterBox)
        assert app.screen.query_one("#filter-label", Label).region.width > 0
        found = names(app)
        assert 0 < len(found) < every
        assert all("isopr" in name.casefold() for name in found)
        assert notes(app) == f"{len(found)} of {every} lines; totals are of all"
        assert found[0] in texts(table(app)), "the table is seen while one types"
        await pilot.press("enter")
        await settled(pilot)
        assert table(app).is_current
        assert names(app) == found
        await pilot.press("escape")
        await settled(pilot)
        assert len(table(app).rows.items) == every
        assert notes(app) == ""
        assert isinstance(app.screen, StockScreen)
        await pilot.press("escape")
        await settled(pilot)
        assert not isinstance(app.screen, StockScreen)


async def test_keys_behind_the_slash_are_text_however_fast_they_come(desk: Desk) -> None:
    fill_shelf(desk)
    async with opened(desk, StockScreen(), (120, 36)) as (app, pilot):
        await pilot.press("/", "n", "x", "u")
        await settled(pilot)
        assert app.screen.query_one(FilterBox).value == "nxu"
        assert names(app) == []
        assert "Nothing matches." in texts(table(app))
        await pilot.press("escape")
        await settled(pilot)
        assert table(app).is_current
        assert len(names(app)) > 3


async def test_each_table_keeps_its_own_filter(desk: Desk) -> None:
    async with opened(desk, WeekScreen(), (120, 36)) as (app, pilot):
        screen = sheet(app)
        screen.table("weeks").take_focus()
        await pilot.press("/")
        await typed(pilot, "2026-W4")
        await pilot.press("enter")
        screen.table("people").take_focus()
        await pilot.press("/")
        await settled(pilot)
        assert app.screen.query_one(FilterBox).value == ""
        assert "people" in str(app.screen.query_one("#filter-label", Label).render()).casefold()
        assert screen.table("weeks").filter_text == "2026-W4"


async def test_what_stays_shown_under_a_filter_is_filtered_when_it_is_read_again(desk: Desk) -> None:
    async with opened(desk, StockScreen(), (120, 36)) as (app, pilot):
        await pilot.press("/")
        await typed(pilot, "[b]odd")
        await pilot.press("enter")
        assert names(app) == []
        add_consumable(desk, name="[b]odd[/] glue", base_unit="ml", pack_text="10", lead_days_text="1")
        sheet(app).ask()
        await settled(pilot)
        assert names(app) == ["[b]odd[/] glue"]
        assert "[b]odd[/] glue" in texts(table(app))


async def test_a_table_is_sorted_by_a_columns_values_and_the_cursor_stays_on_its_row(desk: Desk) -> None:
    fill_shelf(desk)
    levels = {line.name: line.on_hand for line in read_stock(desk).lines}
    async with opened(desk, StockScreen(), (120, 36)) as (app, pilot):
        own = names(app)
        kept = table(app).key
        await choose(pilot, "On hand")
        await pilot.press("enter")
        await settled(pilot)
        await pilot.press("escape")
        await settled(pilot)
        by_level = [levels[name] for name in names(app)]
        assert by_level == sorted(by_level)
        assert names(app) != own
        assert table(app).key == kept
        assert "▲On hand" in texts(table(app))
        await choose(pilot, "On hand")
        await pilot.press("enter", "escape")
        await settled(pilot)
        assert [levels[name] for name in names(app)] == sorted(by_level, reverse=True)
        assert "▼On hand" in texts(table(app))
        await choose(pilot, "On hand")
        await pilot.press("enter", "escape")
        await settled(pilot)
        assert names(app) == own


async def test_a_click_on_a_columns_name_sorts_by_it(desk: Desk) -> None:
    async with opened(desk, StockScreen(), (120, 36)) as (app, pilot):
        await pilot.click(table(app).names, offset=(3, 0))
        await settled(pilot)
        assert names(app) == sorted(names(app), key=str.casefold)
        assert "▲Consumable" in texts(table(app))
        await pilot.click(table(app).names, offset=(3, 0))
        await settled(pilot)
        assert names(app) == sorted(names(app), key=str.casefold, reverse=True)


async def test_columns_are_hidden_and_shown_and_that_is_kept(desk: Desk, tmp_path: Path) -> None:
    kept_in = tmp_path / "tables.json"
    async with opened(desk, StockScreen(), (80, 24)) as (app, pilot):
        app.table_choices = TableChoices(kept_in)
        assert "Lasts" in texts(table(app).names)
        assert "Lead" not in texts(table(app).names)
        for column in ("Lasts", "Lead"):
            await choose(pilot, column)
            await pilot.press("space")
            await settled(pilot)
            await pilot.press("escape")
            await settled(pilot)
        assert "Lasts" not in texts(table(app).names)
        assert "Lead" in texts(table(app).names)
    again = TableChoices(kept_in).of("stock")
    assert (again.hidden, again.shown) == (frozenset({"Lasts"}), frozenset({"Lead"}))
    screen = StockScreen()
    async with opened(desk, JournalScreen(), (80, 24)) as (app, pilot):
        app.table_choices = TableChoices(kept_in)
        app.push_screen(screen)
        await settled(pilot)
        assert "Lead" in texts(table(app).names)
        await choose(pilot, "Lead")
        await pilot.press("o")
        await settled(pilot)
        await pilot.press("escape")
        await settled(pilot)
        assert "Lasts" in texts(table(app).names)
    assert kept_in.read_text() == "{}"


async def test_the_last_column_cannot_be_hidden_and_a_bar_of_words_not_be_sorted_by(desk: Desk) -> None:
    async with opened(desk, UnitScreen(new_unit(desk)), (120, 36)) as (app, pilot):
        sheet(app).table("detail").take_focus()
        await pilot.press("|", "enter")
        await settled(pilot)
        assert "keep the order that they have" in str(app.screen.query_one("#wrong").render())
        await pilot.press("space", "down", "space", "down", "space")
        await settled(pilot)
        assert "last column that is shown" in str(app.screen.query_one("#wrong").render())


async def test_marked_tasks_are_finished_in_one_act_that_is_undone_as_one(desk: Desk) -> None:
    fill_shelf(desk)
    unit_id = new_unit(desk)

    def states() -> list[str]:
        return [one.state for one in read_unit(desk, unit_id).tasks[:2]]

    async with opened(desk, UnitScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("home", "space", "space")
        await settled(pilot)
        assert notes(app) == "2 marked"
        assert texts(table(app)).count("◆") == 2
        await pilot.press("d")
        await until(pilot, lambda: states() == ["done", "done"])
        await settled(pilot)
        assert notes(app) == ""
        assert "◆" not in texts(table(app))
        await undo_newest(pilot)
        await until(pilot, lambda: states() == ["todo", "todo"])


async def test_marked_tasks_are_skipped_for_one_reason_and_taken_up_again(desk: Desk) -> None:
    unit_id = new_unit(desk)

    def reasons() -> list[str | None]:
        return [one.skip_reason for one in read_unit(desk, unit_id).tasks[:2]]

    async with opened(desk, UnitScreen(unit_id), (80, 24)) as (_app, pilot):
        await pilot.press("home", "space", "space", "z")
        await settled(pilot)
        await typed(pilot, "done by the owner")
        await pilot.press("enter")
        await until(pilot, lambda: reasons() == ["done by the owner"] * 2)
        await settled(pilot)
        await pilot.press("home", "space", "space", "Z")
        await until(pilot, lambda: {one.state for one in read_unit(desk, unit_id).tasks} == {"todo"})


async def test_one_marked_task_that_cannot_be_finished_stops_all_and_the_marks_stay(desk: Desk) -> None:
    unit_id = new_unit(desk)
    async with opened(desk, UnitScreen(unit_id), (120, 36)) as (app, pilot):
        soak = next(one.task_id for one in read_unit(desk, unit_id).tasks if one.test)
        await pilot.press("home", "space")
        rows = table(app).rows
        rows.move_to(next(at for at, row in enumerate(rows.items) if row.key == soak))
        await pilot.press("space", "d")
        await settled(pilot)
        assert "Nothing was changed of any of them" in toasts(app)
        assert {one.state for one in read_unit(desk, unit_id).tasks} == {"todo"}
        assert notes(app) == "2 marked"
        await pilot.press("escape")
        await settled(pilot)
        assert notes(app) == ""
        assert isinstance(app.screen, UnitScreen)


async def test_headings_and_totals_bear_no_mark(desk: Desk) -> None:
    unit_id = new_unit(desk)
    restock(desk, read_stock(desk).lines[0].consumable_id, packs_text="1")
    async with opened(desk, UnitScreen(unit_id), (120, 36)) as (app, pilot):
        tasks = table(app)
        assert all(tasks.rows.mark_key(row) is None for row in tasks.rows.items if row.heading)
    async with opened(desk, WeekScreen(), (120, 36)) as (app, pilot):
        sheet(app).table("hours").take_focus()
        await pilot.press("end", "space")
        await settled(pilot)
        assert "cannot be marked" in toasts(app)
