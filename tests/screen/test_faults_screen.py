"""Faults and tests by key: a line of text from two screens, the rest in forms, a test's outcome asked for."""

from __future__ import annotations

import pytest
from textual.widgets import Static

from bench.dashboard.screens.dialogs.fault_forms import fault_form, fault_line_form, outcome_form
from bench.dashboard.screens.dialogs.finish import FinishDialog
from bench.dashboard.screens.dialogs.tasks_in_the_way import OpenTasksDialog
from bench.dashboard.screens.faults import FaultsScreen, ShopFaultsScreen
from bench.dashboard.screens.unit import UnitScreen
from bench.desk import Desk
from bench.views.faults import FaultLine, read_unit_faults
from bench.views.outcomes import read_outcomes
from bench.views.unit import read_unit
from bench.work.faults import add_fault, edit_fault, point_to_fault
from bench.work.outcomes import end_test
from bench.work.parts import fit_part
from bench.work.tasks import add_task
from tests.screen.host import Host, opened, runs, settled, texts, typed, until
from tests.screen.waiting import first_screen
from tests.screen.workshop import new_unit

SIZES = [(80, 24), (120, 36), (200, 50)]
ODD = "fan [b]rattles[/b] [/]"


@pytest.fixture
def unit_id(desk: Desk) -> int:
    return new_unit(desk, model="[/] odd")


def the_faults(desk: Desk, unit_id: int) -> tuple[FaultLine, ...]:
    return read_unit_faults(desk, unit_id).faults


def put(app: Host, **values: str) -> None:
    for name, value in values.items():
        app.screen.field(name).put(value)  # type: ignore[attr-defined]


@pytest.mark.parametrize("size", SIZES)
async def test_a_units_faults_and_tests_stand_there(desk: Desk, unit_id: int, size: tuple[int, int]) -> None:
    add_fault(desk, unit_id, symptom=ODD, suspected="the [i]bearing[/i]")
    end_test(desk, unit_id, kind="soak", outcome="failed", figures={"hottest": "99"}, symptom="shuts down")
    async with opened(desk, FaultsScreen(unit_id), size) as (app, pilot):
        shown = texts(app.screen)
        assert ODD in shown
        assert "the [i]bearing[/i]" in shown
        assert "2 open" in shown
        await pilot.press("tab")
        await settled(pilot)
        shown = texts(app.screen)
        assert "Soak test" in shown
        assert "Hottest 99.0 °C" in shown
        for table in ("faults", "outcomes"):
            assert app.screen.region.contains_region(app.screen.query_one(f"#{table}").region)
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])


async def test_one_key_and_a_line_add_one_on_a_units_screen(desk: Desk, unit_id: int) -> None:
    async with opened(desk, UnitScreen(unit_id), (80, 24)) as (app, pilot):
        await pilot.press("i")
        await until(pilot, lambda: runs(app.screen, fault_line_form))
        await settled(pilot)
        await typed(pilot, "hinge is loose")
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, UnitScreen))
    (fault,) = the_faults(desk, unit_id)
    assert (fault.symptom, fault.place) == ("hinge is loose", "hinge")


async def test_and_on_the_first_screen(desk: Desk, unit_id: int) -> None:
    async with first_screen(desk, (80, 24)) as (_, pilot):
        await settled(pilot)
        await pilot.press("i")
        await until(pilot, lambda: runs(pilot.app.screen, fault_line_form))
        await settled(pilot)
        await typed(pilot, "no sound")
        await pilot.press("enter")
        await until(pilot, lambda: len(the_faults(desk, unit_id)) == 1)


async def test_nothing_typed_is_told_and_adds_nothing(desk: Desk, unit_id: int) -> None:
    async with opened(desk, fault_line_form(unit_id, "10014")) as (app, pilot):
        await pilot.press("enter")
        await settled(pilot)
        assert "What is seen is empty" in app.screen.field("symptom").said  # type: ignore[attr-defined]
    assert the_faults(desk, unit_id) == ()


async def test_the_rest_is_said_in_a_form(desk: Desk, unit_id: int) -> None:
    add_fault(desk, unit_id, symptom="dark")
    async with opened(desk, FaultsScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("enter")
        await until(pilot, lambda: runs(app.screen, fault_form))
        await settled(pilot)
        put(app, place="display", origin="ours", cause="cable torn", state="stays")
        await pilot.press("ctrl+s")
        await settled(pilot)
        assert "Why it stays" in app.screen.field("done").said  # type: ignore[attr-defined]
        put(app, state="cured", done="new cable")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: isinstance(app.screen, FaultsScreen))
        await until(pilot, lambda: "none open" in texts(app.screen))
    (fault,) = the_faults(desk, unit_id)
    assert (fault.place, fault.origin, fault.state, fault.done) == ("display", "ours", "cured", "new cable")


async def test_a_part_belongs_to_it_by_a_form(desk: Desk, unit_id: int) -> None:
    fault_id = add_fault(desk, unit_id, symptom="dark").fault_id
    part = fit_part(desk, unit_id, name="cable", cost_text="9")
    async with opened(desk, FaultsScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("b")
        await settled(pilot)
        put(app, part_id=str(part.part_id))
        await pilot.press("ctrl+s")
        await until(pilot, lambda: isinstance(app.screen, FaultsScreen))
    with desk.store.read() as connection:
        assert connection.execute("SELECT fault_id FROM part").fetchone()[0] == fault_id


async def test_a_test_is_ended_from_there(desk: Desk, unit_id: int) -> None:
    async with opened(desk, FaultsScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("t")
        await settled(pilot)
        await pilot.press("down", "enter")
        await until(pilot, lambda: runs(app.screen, outcome_form))
        await settled(pilot)
        assert app.screen.of.heading.startswith("Memory test of ")  # type: ignore[attr-defined]
        put(app, outcome="failed", errors="12", symptom="errors at once")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: isinstance(app.screen, FaultsScreen))
    (run,) = read_outcomes(desk, unit_id)
    assert (run.kind, run.outcome, run.figures) == ("memory", "failed", {"errors": 12})
    assert the_faults(desk, unit_id)[0].symptom == "errors at once"


def soak_task(desk: Desk, unit_id: int) -> int:
    return add_task(
        desk,
        unit_id,
        name="run it hot",
        stage_id=read_unit(desk, unit_id).stage_id,
        estimate_text="60",
        unattended=True,
        lid_off=False,
        test="soak",
    )


async def test_done_on_a_test_asks_how_it_ended(desk: Desk, unit_id: int) -> None:
    task_id = soak_task(desk, unit_id)
    fault_id = add_fault(desk, unit_id, symptom="shuts down").fault_id
    async with opened(desk, FinishDialog(task_id)) as (app, pilot):
        dialog = app.screen
        assert isinstance(dialog, FinishDialog)
        assert dialog.query_one("#box").scroll_y == 0
        await pilot.press("ctrl+s")
        await settled(pilot)
        assert "The outcome is not chosen" in dialog.field("outcome").said
        put(app, outcome="passed", hottest="a lot", cures=str(fault_id))
        await pilot.press("ctrl+s")
        await settled(pilot)
        assert dialog.field("hottest").said
        put(app, hottest="88.5", ran_text="4h")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: app.answers == [True])
    assert next(one for one in read_unit(desk, unit_id).tasks if one.task_id == task_id).state == "done"
    assert the_faults(desk, unit_id)[0].closing_test == "soak"
    assert read_outcomes(desk, unit_id)[0].measured == "Hottest 88.5 °C"


async def test_what_is_typed_into_it_is_there_again(desk: Desk, unit_id: int) -> None:
    task_id = soak_task(desk, unit_id)
    async with opened(desk, FinishDialog(task_id)) as (app, pilot):
        put(app, symptom="smells", outcome="failed")
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])
        again = FinishDialog(task_id)
        app.push_screen(again)
        await settled(pilot)
        assert (again.value("symptom"), again.value("outcome")) == ("smells", "failed")
        assert "restored" in str(again.query_one("#restored", Static).render())


@pytest.mark.parametrize("size", SIZES)
async def test_the_units_screen_tells_them_in_few_lines(
    desk: Desk, unit_id: int, size: tuple[int, int]
) -> None:
    for symptom in ("fan rattles", ODD, "hinge loose", "lid scratched"):
        add_fault(desk, unit_id, symptom=symptom)
    end_test(desk, unit_id, kind="wireless", outcome="passed")
    end_test(desk, unit_id, kind="sound", outcome="failed")
    async with opened(desk, UnitScreen(unit_id), size) as (app, pilot):
        facts = app.screen.query_one("#facts")
        await pilot.press("tab", "tab")
        await settled(pilot)
        shown = texts(facts)
        assert "fan: fan rattles" in shown
        assert "and 3 more" in shown
        assert "sound failed, wireless passed" in shown
        await pilot.press("down", "enter")
        await until(pilot, lambda: isinstance(app.screen, FaultsScreen))


@pytest.mark.parametrize("size", SIZES)
async def test_the_shops_faults_and_what_they_cost(desk: Desk, unit_id: int, size: tuple[int, int]) -> None:
    fault_id = add_fault(desk, unit_id, symptom=ODD).fault_id
    closed = add_fault(desk, unit_id, symptom="hinge loose").fault_id
    edit_fault(desk, closed, state="cured", done="tightened")
    part = fit_part(desk, unit_id, name="fan", cost_text="12.50")
    point_to_fault(desk, fault_id, part_id=part.part_id)
    async with opened(desk, ShopFaultsScreen(), size) as (app, pilot):
        assert ODD[:12] in texts(app.screen)
        assert "hinge loose" not in texts(app.screen.query_one("#listed"))
        await pilot.press("a")
        await until(pilot, lambda: "hinge loose" in texts(app.screen.query_one("#listed")))
        await pilot.press("v")
        await pilot.press("tab")
        await until(pilot, lambda: "[/] odd" in texts(app.screen.query_one("#groups")))
        assert "12.50" in texts(app.screen.query_one("#groups"))
        assert "the shop's setting until 30 sales tell" in texts(app.screen.query_one("#rates"))
        await pilot.press("tab")
        await settled(pilot)
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, FaultsScreen))


async def test_a_fault_that_was_none_goes_with_a_reason(desk: Desk, unit_id: int) -> None:
    add_fault(desk, unit_id, symptom="dark")
    end_test(desk, unit_id, kind="sound", outcome="passed")
    async with opened(desk, FaultsScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("x")
        await settled(pilot)
        await typed(pilot, "the lamp was off")
        await pilot.press("enter")
        await until(pilot, lambda: the_faults(desk, unit_id) == ())
        await until(pilot, lambda: isinstance(app.screen, FaultsScreen))
        await settled(pilot)
        await pilot.press("tab", "x")
        await settled(pilot)
        await typed(pilot, "another unit")
        await pilot.press("enter")
        await until(pilot, lambda: read_outcomes(desk, unit_id) == ())


async def test_marking_a_test_done_on_the_way_asks_how_it_ended(desk: Desk, unit_id: int) -> None:
    task_id = soak_task(desk, unit_id)
    inspected = read_unit(desk, unit_id).stage_id + 1
    dialog = OpenTasksDialog(unit_id, inspected, ((task_id, "run it hot"),))
    async with opened(desk, dialog) as (app, pilot):
        await pilot.press("d")
        await until(pilot, lambda: isinstance(app.screen, FinishDialog))
        await settled(pilot)
        put(app, outcome="broken off")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: app.screen is dialog)
        await pilot.press("d")
        await until(pilot, lambda: isinstance(app.screen, FinishDialog))
        await settled(pilot)
        put(app, outcome="passed")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: app.answers == [True])
    assert read_unit(desk, unit_id).stage_id == inspected
    assert [one.outcome for one in read_outcomes(desk, unit_id)] == ["broken off", "passed"]
