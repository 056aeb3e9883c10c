"""A unit's condition on the screen: readings side by side, definitions, files, the battery weighed."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.widgets import Static

from bench.dashboard.screens.condition import ConditionScreen
from bench.dashboard.screens.dialogs.cell import CellDialog
from bench.dashboard.screens.dialogs.condition_forms import ReadingForm, WeighBattery, reading_file_form
from bench.dashboard.screens.dialogs.questions import ReasonDialog
from bench.desk import Desk
from bench.domain.condition.fields import SUBJECTS
from bench.views.condition import read_condition
from bench.views.safety import read_safety
from bench.views.shop import read_draft
from bench.work.drafts import save_draft
from bench.work.readings import add_reading
from bench.work.units import add_unit
from tests.screen.host import Host, opened, runs, sentences, settled, texts, typed, until
from tests.screen.undoing import undo_newest

SIZES = [(80, 24), (120, 36), (200, 50)]
# A battery's uevent text, made up; units by the kernel's power supply class: µWh and µV.
UEVENT = """POWER_SUPPLY_NAME=BAT0
POWER_SUPPLY_TYPE=Battery
POWER_SUPPLY_ENERGY_FULL_DESIGN=57020000
POWER_SUPPLY_ENERGY_FULL=40600000
POWER_SUPPLY_CYCLE_COUNT=312
"""


@pytest.fixture
def unit_id(desk: Desk) -> int:
    unit_id = add_unit(desk, maker="Maker", model="[/] odd [b]model[/b]").unit_id
    fields = {"design": "50", "full": "30", "fitted": "glued in"}
    add_reading(desk, unit_id, moment="before", subject="battery", fields=fields, note="[i]note[/i]")
    add_reading(desk, unit_id, moment="after", subject="battery", fields={"design": "50", "full": "48"})
    return unit_id


def shown(app: Host) -> ConditionScreen:
    assert isinstance(app.screen, ConditionScreen)
    return app.screen


def put_cursor(screen: ConditionScreen, words: str) -> None:
    table = screen.table("rows")
    at = next(n for n, row in enumerate(table.rows.items) if not row.heading and words in row.cells[0].text)
    table.rows.move_to(at)


@pytest.mark.parametrize("size", SIZES)
async def test_before_and_after_stand_side_by_side(desk: Desk, unit_id: int, size: tuple[int, int]) -> None:
    async with opened(desk, ConditionScreen(unit_id), size) as (app, _):
        assert "[/] odd [b]model[/b]" in texts(app.screen)
        line = next(one for one in texts(app.screen).splitlines() if "Full charge" in one)
        assert line.index("30.00 Wh") < line.index("48.00 Wh")
        assert "7 of 8 not measured" in texts(app.screen.query_one("#head"))


@pytest.mark.parametrize("size", SIZES)
async def test_the_definition_of_a_verdict_stands_below_it(
    desk: Desk, unit_id: int, size: tuple[int, int]
) -> None:
    async with opened(desk, ConditionScreen(unit_id), size) as (app, pilot):
        put_cursor(shown(app), "96.0 %")
        definition = app.screen.query_one("#definition")
        await until(pilot, lambda: "full charge capacity ÷ design capacity" in texts(definition))
        assert app.screen.region.contains_region(definition.region)
        put_cursor(shown(app), "Full charge")
        await until(pilot, lambda: "[i]note[/i]" in texts(definition))


async def test_a_reading_is_typed_in_and_an_error_keeps_the_typing(desk: Desk, unit_id: int) -> None:
    async with opened(desk, ConditionScreen(unit_id), (120, 36)) as (app, pilot):
        put_cursor(shown(app), "not measured")
        await pilot.press("n")
        await until(pilot, lambda: isinstance(app.screen, ReadingForm))
        await settled(pilot)
        form = app.screen
        assert isinstance(form, ReadingForm)
        assert form.subject.name == "drive"
        await typed(pilot, "256")
        form.field("used").put("300")
        await pilot.press("ctrl+s")
        wrong = form.field("used")
        await until(pilot, lambda: "0 to 255" in wrong.said)
        assert form.value("size") == "256"
        form.field("used").put("12")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "256 GB" in texts(app.screen))
        assert read_draft(desk, f"reading {unit_id} drive") == {}


@pytest.mark.parametrize("subject", SUBJECTS)
async def test_every_subject_has_a_form_of_its_fields(desk: Desk, unit_id: int, subject: str) -> None:
    async with opened(desk, ReadingForm(unit_id, subject, "1")) as (app, pilot):
        form = app.screen
        assert isinstance(form, ReadingForm)
        for field in SUBJECTS[subject].fields:
            assert form.field(field.given.name).value == ""
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "Nothing was typed" in str(form.query_one("#wrong", Static).render()))
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])


async def test_a_half_filled_reading_is_there_after_a_crash(desk: Desk, unit_id: int) -> None:
    save_draft(desk, f"reading {unit_id} heat", {"load": "91"})
    async with opened(desk, ReadingForm(unit_id, "heat", "1")) as (app, _):
        form = app.screen
        assert isinstance(form, ReadingForm)
        assert form.value("load") == "91"


async def test_swelling_stops_the_work_and_shows_what_comes_next(desk: Desk, unit_id: int) -> None:
    async with opened(desk, ConditionScreen(unit_id), (120, 36)) as (app, pilot):
        put_cursor(shown(app), "Full charge")
        await pilot.press("n")
        await until(pilot, lambda: isinstance(app.screen, ReadingForm))
        await settled(pilot)
        form = app.screen
        assert isinstance(form, ReadingForm)
        form.field("swelling").put("yes")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: isinstance(app.screen, CellDialog))
    assert read_safety(desk, unit_id).cell_finding == "swollen"


async def test_a_file_is_read_by_its_path(desk: Desk, unit_id: int, tmp_path: Path) -> None:
    file = tmp_path / "BAT0.txt"
    file.write_text(UEVENT, encoding="utf-8")
    broken = tmp_path / "half.json"
    broken.write_text('{"device": ', encoding="utf-8")
    async with opened(desk, reading_file_form(unit_id, "1")) as (app, pilot):
        form = app.screen
        assert runs(form, reading_file_form)
        await pilot.press("ctrl+s")
        wrong = form.field("path")
        await until(pilot, lambda: "not named" in wrong.said)
        form.field("path").put(str(broken))
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "JSON" in sentences(form))
        assert form.value("path") == str(broken)
        form.field("path").put(str(file))
        await pilot.press("ctrl+s")
        await until(pilot, lambda: app.answers == [False])
    assert len(read_condition(desk, unit_id).subjects[0].before) == 2


async def test_a_reading_is_taken_off_with_a_reason_and_taken_back(desk: Desk, unit_id: int) -> None:
    async with opened(desk, ConditionScreen(unit_id), (120, 36)) as (app, pilot):
        put_cursor(shown(app), "Full charge")
        await pilot.press("x")
        await settled(pilot)
        await pilot.press("down", "enter")
        await until(pilot, lambda: isinstance(app.screen, ReasonDialog))
        await settled(pilot)
        await typed(pilot, "other unit")
        await pilot.press("enter")
        await until(pilot, lambda: "48.00 Wh" not in texts(app.screen))
        await undo_newest(pilot)
        await until(pilot, lambda: "48.00 Wh" in texts(app.screen))
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])


async def test_the_battery_is_weighed_as_it_is_typed(desk: Desk) -> None:
    unit_id = add_unit(desk, maker="", model="one").unit_id
    fields = {"design": "50", "full": "30", "fitted": "clipped in"}
    add_reading(desk, unit_id, moment="before", subject="battery", fields=fields)
    async with opened(desk, ConditionScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("w")
        await until(pilot, lambda: isinstance(app.screen, WeighBattery))
        await settled(pilot)
        choice = app.screen.query_one("#choice")
        assert "sell as is" in texts(choice)
        await typed(pilot, "30")
        app.screen.field("gain_text").put("60")  # type: ignore[attr-defined]
        await until(pilot, lambda: "The sale gains more" in texts(choice))
        await pilot.press("escape")
        await until(pilot, lambda: isinstance(app.screen, ConditionScreen))
