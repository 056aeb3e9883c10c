"""A scan on screens and in dialogs: it goes where it belongs and presses no key."""

from __future__ import annotations

import pytest
from textual import events
from textual.app import App
from textual.screen import Screen
from textual.widgets import Input

from bench.dashboard.keys_in_order import Key, KeyLine, Waiting
from bench.dashboard.scanning import Ear
from bench.dashboard.screens.dialogs.drive_forms import move_drive_form
from bench.dashboard.screens.dialogs.questions import UnknownScan
from bench.dashboard.screens.dialogs.safety_list import SafetyListDialog
from bench.dashboard.screens.dialogs.stock_forms import restock_form
from bench.dashboard.screens.dialogs.unit_forms import hold_form, unit_form
from bench.dashboard.screens.parts import PartsScreen
from bench.dashboard.screens.parts_shelf import PartsShelfScreen
from bench.dashboard.screens.unit import UnitScreen
from bench.dashboard.screens.wiping import WipingScreen
from bench.dashboard.widgets.jump_box import JumpBox
from bench.dashboard.widgets.queue_list import QueueList
from bench.dashboard.widgets.row_table import RowTable
from bench.desk import Desk
from bench.domain.safety import OPENING
from bench.views.drives import read_drives
from bench.views.journal import read_journal
from bench.views.labels import part_label
from bench.views.parts import read_parts
from bench.views.safety import read_safety
from bench.views.stock import read_stock
from bench.work.consumables import set_code
from bench.work.drives import add_drive
from bench.work.parts import fit_part, take_part
from bench.work.units import UnitAdded, add_unit
from tests.screen.host import opened, runs, settled, until
from tests.screen.scanner import key_event, scan, send
from tests.screen.waiting import first_screen

PACES = (0.001, 0.005, 0.020)


@pytest.fixture
def unit(desk: Desk) -> UnitAdded:
    add_unit(desk, maker="", model="Other")
    return add_unit(desk, maker="Maker", model="Model 9", serial="qSNdx 19")


@pytest.mark.parametrize("pace", PACES)
async def test_a_scan_on_the_first_screen_goes_to_the_unit(desk: Desk, unit: UnitAdded, pace: float) -> None:
    async with first_screen(desk) as (first, pilot):
        first.bench.ear.hears = True
        for text in (unit.tag, "qSNdx 19"):
            first.query_one(QueueList).go_to_unit(1)
            await scan(pilot, text, pace)
            await until(pilot, lambda: first.unit_here().unit_id == unit.unit_id)  # type: ignore[union-attr]
        assert pilot.app.screen is first
        assert not first.query_one(JumpBox).has_focus
    assert {line.action for line in read_journal(desk).lines} == {"add unit"}


async def test_an_unknown_scan_offers_to_take_it_in(desk: Desk) -> None:
    async with first_screen(desk) as (first, pilot):
        first.bench.ear.hears = True
        await scan(pilot, "NEW-77")
        await until(pilot, lambda: isinstance(pilot.app.screen, UnknownScan))
        await scan(pilot, "NEW-88")
        await until(
            pilot,
            lambda: isinstance(pilot.app.screen, UnknownScan) and pilot.app.screen.found.text == "NEW-88",
        )
        assert len(pilot.app.screen_stack) == 2
        await pilot.press("t")
        await until(pilot, lambda: runs(pilot.app.screen, unit_form))
        form = pilot.app.screen
        assert runs(form, unit_form)
        await until(pilot, lambda: "serial" in form._fields and form.value("serial") == "NEW-88")


async def test_a_drive_leads_to_its_unit(desk: Desk, unit: UnitAdded) -> None:
    add_drive(desk, unit.unit_id, serial="DRV-1")
    async with first_screen(desk) as (first, pilot):
        first.bench.ear.hears = True
        await scan(pilot, "DRV-1")
        await until(pilot, lambda: isinstance(pilot.app.screen, WipingScreen))
        await scan(pilot, unit.tag)
        await until(pilot, lambda: isinstance(pilot.app.screen, UnitScreen))


async def test_a_part_and_a_drive_lead_to_where_they_are(desk: Desk, unit: UnitAdded) -> None:
    fit_part(desk, unit.unit_id, name="fan", cost_text="9")
    (fan,) = read_parts(desk, unit.unit_id).in_it
    code = part_label(fan).code
    drive_id = add_drive(desk, unit.unit_id, serial="DRV-1")
    async with first_screen(desk) as (first, pilot):
        first.bench.ear.hears = True
        await scan(pilot, code)
        await until(pilot, lambda: isinstance(pilot.app.screen, PartsScreen))
        await settled(pilot)
        assert pilot.app.screen.query_one("#rows", RowTable).key == fan.part_id
        take_part(desk, unit.unit_id, name="fan", cost_text="9")
        take_part(desk, unit.unit_id, name="drive", cost_text="0", drive_id=drive_id)
        for text, named in ((code, "fan"), ("DRV-1", "drive")):
            await scan(pilot, text)
            await until(pilot, lambda: isinstance(pilot.app.screen, PartsShelfScreen))
            await settled(pilot)
            assert pilot.app.screen.query_one("#rows", RowTable).record.name == named


async def test_a_scan_stays_in_the_field_that_waits_for_it(desk: Desk, unit: UnitAdded) -> None:
    drive_id = add_drive(desk, unit.unit_id, serial="DRV-1")
    drive = next(one for one in read_drives(desk, unit.unit_id).drives if one.drive_id == drive_id)
    async with opened(desk, move_drive_form(drive)) as (app, pilot):
        app.ear.hears = True
        await scan(pilot, "10014")
        form = app.screen
        assert runs(form, move_drive_form)
        assert form.value("tag_text") == "10014"
        assert not app.answers
    async with opened(desk, unit_form()) as (app, pilot):
        app.ear.hears = True
        form = app.screen
        assert runs(form, unit_form)
        form.field("serial").take_focus()
        await scan(pilot, "ABC 1")
        assert form.value("serial") == "ABC 1"
        assert app.focused is not None
        assert form.field("route") in app.focused.ancestors_with_self, "on to the next field"


async def test_a_scan_in_a_text_stays_there_and_sends_nothing(desk: Desk, unit: UnitAdded) -> None:
    async with opened(desk, hold_form(unit.unit_id, unit.tag)) as (app, pilot):
        app.ear.hears = True
        await scan(pilot, "waits for 77")
        dialog = app.screen
        assert runs(dialog, hold_form)
        assert dialog.value("reason") == "waits for 77"
        assert not app.answers


async def test_a_consumables_code_chooses_it_and_no_number_is_typed(desk: Desk) -> None:
    line = read_stock(desk).lines[-1]
    set_code(desk, line.consumable_id, "4006381333931")
    async with opened(desk, restock_form()) as (app, pilot):
        app.ear.hears = True
        form = app.screen
        assert runs(form, restock_form)
        form.field("packs_text").put("3")
        form.field("packs_text").take_focus()
        await scan(pilot, "4006381333931")
        await until(pilot, lambda: form.value("consumable") == str(line.consumable_id))
        assert "4006" not in form.value("packs_text")


@pytest.mark.parametrize("pace", PACES)
async def test_nothing_a_scanner_sends_ticks_a_safety_list(desk: Desk, unit: UnitAdded, pace: float) -> None:
    dialog: Screen[bool] = SafetyListDialog(unit.unit_id, OPENING)
    async with opened(desk, dialog) as (app, pilot):
        app.ear.hears = True
        for text in ("1234", "1 2 3 4", " ", "    ", "a", "x w "):
            await scan(pilot, text, pace)
            assert isinstance(app.screen, SafetyListDialog), text
        assert not app.answers
    assert not any(tick.at_us for tick in read_safety(desk, unit.unit_id).opening)
    assert {line.action for line in read_journal(desk).lines} == {"add unit"}


async def test_keys_take_effect_in_their_order_however_fast(desk: Desk) -> None:
    """All of it lies in the queue before the first key is looked at."""
    async with opened(desk, unit_form()) as (app, pilot):
        app.ear.hears = True
        form = app.screen
        assert runs(form, unit_form)
        send(app, "ABC↓xyz↓12\x7f3↑77\x15abc\x7fd↑Mo↓", 0.06)
        await until(pilot, lambda: form.value("maker") == "Mo")
        await until(
            pilot, lambda: app.focused is not None and form.field("model") in app.focused.ancestors_with_self
        )
        assert [form.value(name) for name in ("maker", "model", "serial")] == ["Mo", "abd", "13"]


async def test_a_paste_is_no_scan(desk: Desk) -> None:
    async with opened(desk, unit_form()) as (app, pilot):
        app.ear.hears = True
        app.post_message(events.Paste("pasted text"))
        await settled(pilot)
        form = app.screen
        assert runs(form, unit_form)
        assert form.value("maker") == "pasted text"


class Names(KeyLine):
    """Keeps only what the keys are called that came through."""

    def __init__(self, app: App[int]) -> None:
        super().__init__(app, app.on_event)
        self.names: list[str] = []

    async def put(self, *items: Key | Waiting) -> None:
        self.names += [item.key for item in items if isinstance(item, events.Key)]


async def test_no_key_is_lost_after_what_was_typed_into_a_field() -> None:
    """Keys that took effect are gone, and Python gives their place in memory to those that follow."""
    app = App[int]()
    async with app.run_test() as pilot:
        await app.mount(Input())
        app.query_one(Input).focus()
        await pilot.pause()
        line = Names(app)
        ear = Ear(app, line, lambda _scan, done: done(), lambda: False)
        ear.hears = True
        for character in "4006381333931\r":
            await ear.take(key_event(character))
        assert line.names == list("4006381333931"), "straight into the field"
        for key in [key_event("\x1b") for _ in range(1_000)]:
            await ear.take(key)
        assert line.names[13:] == ["escape"] * 1_000
