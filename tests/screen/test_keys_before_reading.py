"""Keys and scans before a screen has read what it is about wait for that: none is lost or misread."""

from __future__ import annotations

from threading import Event

import pytest
from textual.screen import Screen

from bench.dashboard.app import BenchApp
from bench.dashboard.screens import parts
from bench.dashboard.screens.dialogs import cell, form
from bench.dashboard.screens.dialogs.cell import CellDialog
from bench.dashboard.screens.dialogs.form import Form
from bench.dashboard.screens.dialogs.part_forms import take_part_form
from bench.dashboard.screens.dialogs.unit_forms import hold_form
from bench.dashboard.screens.parts import PartsScreen
from bench.desk import Desk
from bench.work import drafts
from tests.screen.every_form import FORMS
from tests.screen.host import runs, settled
from tests.screen.scanner import send
from tests.screen.waiting import until
from tests.screen.workshop import new_unit


class Slow:
    """A reading that waits to be let on."""

    def __init__(self, patch: pytest.MonkeyPatch, module: object, name: str) -> None:
        self.may_read, self.asked = Event(), Event()
        read = getattr(module, name)

        def slow(*arguments: object) -> object:
            self.asked.set()
            assert self.may_read.wait(20)
            return read(*arguments)

        patch.setattr(module, name, slow)


async def open_and_send(app: BenchApp, screen: Screen[object], slow: Slow, text: str) -> None:
    """Open a screen, send this while it reads, and only then let it read."""
    async with app.run_test() as pilot:
        app.push_screen(screen)
        try:
            await until(pilot, slow.asked.is_set)
            send(app, text, 0.06)
            for _ in range(20):
                await pilot.pause(0.005)
        finally:
            slow.may_read.set()
        await settled(pilot)
        await settled(pilot)


async def test_a_key_of_a_screen(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    slow = Slow(monkeypatch, parts, "read_parts")
    app = BenchApp(desk)
    opened: list[Form[object]] = []
    monkeypatch.setattr(Form, "begin", lambda dialog, _facts: opened.append(dialog))
    await open_and_send(app, PartsScreen(new_unit(desk)), slow, "t")
    (asked,) = opened
    assert runs(asked, take_part_form)


async def test_what_is_typed_into_a_form(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    """It is not lost when the form fills in what it read."""
    drafts.save_draft(desk, "hold 1", {"reason": "waits"})
    slow = Slow(monkeypatch, form, "read_draft")
    dialog = hold_form(new_unit(desk), "10014")
    await open_and_send(BenchApp(desk), dialog, slow, " for a fan")
    assert dialog.value("reason") == "waits for a fan"


async def test_a_scan_goes_into_no_hidden_field(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    slow = Slow(monkeypatch, cell, "read_safety")
    app, dialog = BenchApp(desk), CellDialog(new_unit(desk))
    app.ear.hears = True
    said: list[str] = []
    monkeypatch.setattr(app, "notify", lambda message, **_: said.append(message))
    async with app.run_test() as pilot:
        app.push_screen(dialog)
        await until(pilot, lambda: slow.asked.is_set() and app.focused is not None)
        send(app, "4006381333931\r", 0.005)
        for _ in range(20):
            await pilot.pause(0.005)
        slow.may_read.set()
        await until(pilot, lambda: any("4006381333931" in one for one in said))
        assert dialog.value("reason") == ""
        assert dialog.is_current


async def test_a_form_that_has_read_has_a_field_for_the_next_key(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    """However late the framework would give the focus: here never."""
    monkeypatch.setattr(Form, "AUTO_FOCUS", "")
    app, dialog = BenchApp(desk), hold_form(new_unit(desk), "10014")
    async with app.run_test() as pilot:
        app.push_screen(dialog)
        await until(pilot, lambda: dialog.is_read)
        assert app.focused is dialog.field("reason").control


@pytest.mark.parametrize("form_name", ["StocktakeForm", "FinishDialog", "ShareForm"])
async def test_a_form_whose_fields_come_as_it_reads_begins_in_the_first_of_them(
    demo_desk: Desk, monkeypatch: pytest.MonkeyPatch, form_name: str
) -> None:
    """At the moment from which keys are handed on, not a frame later."""
    began: list[str] = []
    now_read = Form.now_read

    def noted(dialog: Form[object]) -> None:
        began.append(
            next((name for name, one in dialog._fields.items() if one.control is dialog.focused), "none")
        )
        now_read(dialog)

    monkeypatch.setattr(Form, "now_read", noted)
    app, dialog = BenchApp(demo_desk), FORMS[form_name](demo_desk)
    async with app.run_test() as pilot:
        app.push_screen(dialog)
        await until(pilot, lambda: dialog.is_read)
    assert began == [next(iter(dialog._fields))]
    assert began[0] not in {one.field_name for one in dialog.of.fields}
