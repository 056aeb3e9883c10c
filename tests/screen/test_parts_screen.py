"""A unit's parts on the screen: bought, out of a donor, to the shelf and back, swapped with a drive."""

from __future__ import annotations

import pytest

from bench.dashboard.screens.dialogs.buying_forms import DonorForm
from bench.dashboard.screens.dialogs.part_forms import edit_part_form, fit_part_form, take_part_form
from bench.dashboard.screens.dialogs.pick import choose_drive
from bench.dashboard.screens.dialogs.questions import ReasonDialog
from bench.dashboard.screens.parts import PartsScreen
from bench.dashboard.screens.parts_shelf import PartsShelfScreen
from bench.dashboard.widgets.jump_box import FilterBox
from bench.desk import Desk
from bench.views.drives import read_drives
from bench.views.parts import read_parts, read_shelf
from bench.work.components import scrap_part
from bench.work.drafts import save_draft
from bench.work.drives import add_drive
from bench.work.parts import fit_part
from bench.work.purchases import edit_purchase
from bench.work.units import add_unit
from tests.screen.host import Host, opened, runs, sentences, settled, texts, typed, until
from tests.screen.undoing import undo_newest

SIZES = [(80, 24), (120, 36), (200, 50)]


@pytest.fixture
def unit_id(desk: Desk) -> int:
    unit_id = add_unit(desk, maker="Maker", model="[/] odd", price_text="100", tag_text="10014").unit_id
    fit_part(desk, unit_id, name="fan [i]small[/i]", cost_text="15", supplier="A [b]shop[/b]")
    return unit_id


@pytest.fixture
def donor_id(desk: Desk) -> int:
    donor_id = add_unit(desk, maker="Maker", model="donor", price_text="40", tag_text="10022").unit_id
    edit_purchase(desk, donor_id, expected_text="80", bought_on_text="", invoice="")
    return donor_id


def put(app: Host, **values: str) -> None:
    for name, value in values.items():
        app.screen.field(name).put(value)  # type: ignore[attr-defined]


@pytest.mark.parametrize("size", SIZES)
async def test_parts_stand_there_with_the_cost_left(desk: Desk, unit_id: int, size: tuple[int, int]) -> None:
    async with opened(desk, PartsScreen(unit_id), size) as (app, pilot):
        assert "fan [i]small[/i]" in texts(app.screen)
        assert "115.00 EUR" in texts(app.screen.query_one("#head"))
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])


async def test_a_bought_part_is_fitted_and_set_right(desk: Desk, unit_id: int) -> None:
    async with opened(desk, PartsScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("n")
        await until(pilot, lambda: runs(app.screen, fit_part_form))
        await settled(pilot)
        await typed(pilot, "lid")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "cost is empty" in sentences(app))
        assert app.screen.field("name").value == "lid"  # type: ignore[attr-defined]
        put(app, cost_text="20")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "135.00 EUR" in texts(app.screen.query_one("#head")))
        await pilot.press("end", "enter")
        await until(pilot, lambda: runs(app.screen, edit_part_form))
        await settled(pilot)
        put(app, cost_text="22")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "137.00 EUR" in texts(app.screen.query_one("#head")))
        await undo_newest(pilot)
        await undo_newest(pilot)
        await until(pilot, lambda: "115.00 EUR" in texts(app.screen.query_one("#head")))


async def test_a_donors_part_carries_its_share_of_the_cost(desk: Desk, unit_id: int, donor_id: int) -> None:
    async with opened(desk, PartsScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("t")
        await until(pilot, lambda: runs(app.screen, take_part_form))
        await settled(pilot)
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "other unit is empty" in sentences(app))
        put(app, tag_text="10022", name="screen", worth_text="20")
        # 40 of cost, 80 expected of it all, 20 for the part: 40 x 20 / 80 = 10
        await until(pilot, lambda: app.screen.field("cost_text").value == "10.00 EUR")  # type: ignore[attr-defined]
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "125.00 EUR" in texts(app.screen.query_one("#head")))
    assert read_parts(desk, donor_id).left_minor == 3000


async def test_more_cost_than_is_left_is_refused_and_the_typing_stays(
    desk: Desk, unit_id: int, donor_id: int
) -> None:
    async with opened(desk, take_part_form(unit_id, "10014", into=True)) as (app, pilot):
        put(app, tag_text="10022", name="screen", cost_text="50")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "40.00 EUR of cost left" in sentences(app))
        assert app.screen.field("cost_text").value == "50"  # type: ignore[attr-defined]
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])


async def test_a_part_goes_to_the_shelf_and_into_another_unit(
    desk: Desk, unit_id: int, donor_id: int
) -> None:
    async with opened(desk, PartsScreen(donor_id), (120, 36)) as (app, pilot):
        await pilot.press("g")
        await settled(pilot)
        put(app, name="keyboard", cost_text="8")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "on the shelf" in texts(app.screen))
        assert read_shelf(desk).cost_minor == 800
    async with opened(desk, PartsScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("s")
        await settled(pilot)
        await pilot.press("enter")
        await until(pilot, lambda: "123.00 EUR" in texts(app.screen.query_one("#head")))


async def test_drives_are_swapped_by_their_serial_numbers(desk: Desk, unit_id: int, donor_id: int) -> None:
    add_drive(desk, unit_id, serial="S 1")
    add_drive(desk, donor_id, serial="S 2")
    async with opened(desk, PartsScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("w")
        await settled(pilot)
        put(app, tag_text="10022", name="drive", cost_a_text="10", cost_b_text="25", serial_a="S 1")
        put(app, serial_b="S 2")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "130.00 EUR" in texts(app.screen.query_one("#head")))
    assert [one.serial for one in read_drives(desk, unit_id).drives] == ["S 2"]
    assert [one.serial for one in read_drives(desk, donor_id).drives] == ["S 1"]


async def test_it_is_kept_for_its_parts_from_here(desk: Desk, donor_id: int) -> None:
    async with opened(desk, PartsScreen(donor_id), (120, 36)) as (app, pilot):
        await pilot.press("d")
        await until(pilot, lambda: isinstance(app.screen, DonorForm))
        await settled(pilot)
        await typed(pilot, "30")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "donor" in texts(app.screen.query_one("#head")).split("10022")[1])


async def test_a_half_filled_part_is_there_after_a_crash(desk: Desk, unit_id: int) -> None:
    save_draft(desk, f"fit part {unit_id}", {"name": "battery"})
    async with opened(desk, fit_part_form(unit_id, "10014")) as (app, _):
        assert app.screen.field("name").value == "battery"  # type: ignore[attr-defined]


async def test_a_part_that_may_be_a_drive_asks_which_one(desk: Desk, unit_id: int, donor_id: int) -> None:
    drive_id = add_drive(desk, unit_id, serial="S [b]1[/b]")
    async with opened(desk, take_part_form(unit_id, "10014", into=False), (120, 36)) as (app, pilot):
        await settled(pilot)
        put(app, tag_text="10022", name="SSD", cost_text="10")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: runs(app.screen, choose_drive))
        await settled(pilot)
        assert app.screen.heading.endswith("d1 S [b]1[/b].")
        await pilot.press("enter")
        await until(pilot, lambda: app.answers == [True])
    assert [one.drive_id for one in read_drives(desk, donor_id).drives] == [drive_id]


async def test_a_part_fitted_twice_asks_why(desk: Desk, unit_id: int) -> None:
    async with opened(desk, fit_part_form(unit_id, "10014"), (120, 36)) as (app, pilot):
        await settled(pilot)
        put(app, name="fan [i]small[/i]", cost_text="15")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: isinstance(app.screen, ReasonDialog))
        await settled(pilot)
        await typed(pilot, "a second one")
        await pilot.press("enter")
        await until(pilot, lambda: app.answers == [True])
    assert len(read_parts(desk, unit_id).lines) == 2


async def test_what_has_gone_from_the_shelf_is_turned_to_and_back_and_the_filter_keeps_its_keys(
    demo_desk: Desk,
) -> None:
    async with opened(demo_desk, PartsShelfScreen(), (120, 36)) as (app, pilot):
        screen = app.screen
        assert isinstance(screen, PartsShelfScreen)
        there = len(screen.table("rows").rows.items)
        await pilot.press("g")
        await settled(pilot)
        gone = screen.table("gone")
        assert gone.is_current
        assert not screen.table("rows").display
        assert {row.record.gone for row in (one.cells for one in gone.rows.items)} == {"sent back"}
        await pilot.press("x")
        await settled(pilot)
        assert "There is no part under the cursor." in texts_of_toasts(app)
        await pilot.press("g")
        await settled(pilot)
        await pilot.press("slash", "f")
        scrap_part(demo_desk, read_shelf(demo_desk).lines[0].component_id, reason="slow")
        screen.ask()
        await settled(pilot)
        await pilot.press("a", "n")
        await settled(pilot)
        assert screen.query_one(FilterBox).value == "fan"
        assert screen.table("rows").display
        assert there > 3


def texts_of_toasts(app: Host) -> str:
    return "\n".join(str(one.message) for one in app._notifications)
