"""A unit's drives on the screen: records, verification, the way to the listing, certificates saved."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.widgets import Static

from bench.dashboard.screens.dialogs.drive_forms import WipeForm, drive_form, verify_form
from bench.dashboard.screens.dialogs.file_forms import save_document_form
from bench.dashboard.screens.papers import CertificateScreen, PapersScreen
from bench.dashboard.screens.wiping import WipingScreen
from bench.dashboard.widgets.lines_scroll import LinesScroll
from bench.desk import Desk
from bench.domain.holding import NO_DRIVE
from bench.store.tables import Unit
from bench.views.drives import read_drives
from bench.views.shop import read_draft
from bench.work.drafts import save_draft
from bench.work.drives import add_drive
from bench.work.selling import sell_unit
from bench.work.shop import add_person
from bench.work.units import add_unit
from bench.work.wanting import answered_for
from bench.work.wipes import record_wipe, verify_wipe
from tests.screen.host import Host, opened, runs, sentences, settled, texts, typed, until
from tests.work.looked_into import looked_into_if_need_be

SIZES = [(80, 24), (120, 36), (200, 50)]


@pytest.fixture
def unit_id(desk: Desk) -> int:
    unit_id = add_unit(desk, maker="Maker", model="[/] odd [b]model[/b]", tag_text="10014").unit_id
    add_drive(desk, unit_id, model="D [1]", serial="S 1", size_text="256")
    return unit_id


def answered(desk: Desk, unit_id: int) -> frozenset[str]:
    with desk.store.write() as session:
        return answered_for(session, session.get_one(Unit, unit_id))


def paper(app: Host) -> str:
    lines = app.screen.query_one(LinesScroll).lines
    return "\n".join("".join(part.text for part in line) for line in lines)


@pytest.mark.parametrize("size", SIZES)
async def test_a_drive_without_a_wipe_is_said_loudly(desk: Desk, unit_id: int, size: tuple[int, int]) -> None:
    async with opened(desk, WipingScreen(unit_id), size) as (app, pilot):
        assert "D [1] S 1" in texts(app.screen)
        assert "! 1 of 1 without a passed wipe" in texts(app.screen.query_one("#head"))
        for table in ("drives", "wipes"):
            rows = app.screen.query_one(f"#{table}")
            assert app.screen.region.contains_region(rows.region)
            assert rows.size.height >= 3
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])


async def test_that_someone_looked_and_saw_none_takes_one_key(desk: Desk) -> None:
    unit_id = add_unit(desk, maker="Maker", model="Empty").unit_id
    async with opened(desk, WipingScreen(unit_id), (120, 36)) as (app, pilot):
        assert "l says that you looked and none is in it" in texts(app.screen)
        await pilot.press("l")
        await until(pilot, lambda: NO_DRIVE in answered(desk, unit_id))


async def test_a_wipe_is_recorded_and_verified_by_the_keys(desk: Desk, unit_id: int) -> None:
    async with opened(desk, WipingScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("w")
        await until(pilot, lambda: isinstance(app.screen, WipeForm))
        await settled(pilot)
        form = app.screen
        assert isinstance(form, WipeForm)
        form.field("method").put("purge")
        await until(pilot, lambda: "infeasible" in texts(form.query_one("#method")))
        assert form.region.contains_region(form.field("technique").region)
        assert form.field("technique").region.height == 1
        await pilot.press("ctrl+s")
        wrong = form.field("technique")
        await until(pilot, lambda: "technique is empty" in wrong.said)
        assert form.value("method") == "purge"
        form.field("technique").put("NVMe sanitize, [block] erase")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "not verified" in texts(app.screen))
        await pilot.press("v")
        await until(pilot, lambda: runs(app.screen, verify_form))
        await settled(pilot)
        await typed(pilot, "read back in full")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "result of a verification" in sentences(app))
        app.screen.field("result").put("passed")  # type: ignore[attr-defined]
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "✓ every drive wiped" in texts(app.screen.query_one("#head")))
    wipe = read_drives(desk, unit_id).drives[0].wipes[0]
    assert (wipe.method, wipe.result, wipe.verification) == ("purge", "passed", "read back in full")
    assert read_draft(desk, f"verify {wipe.wipe_id}") == {}


async def test_going_on_without_a_wipe_needs_a_reason(desk: Desk, unit_id: int) -> None:
    async with opened(desk, WipingScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("o")
        await settled(pilot)
        await pilot.press("enter")
        await until(pilot, lambda: "is empty" in sentences(app))
        await typed(pilot, "new [i]drive[/i], sealed")
        await pilot.press("enter")
        await until(pilot, lambda: "reason typed" in texts(app.screen))
        detail = app.screen.query_one("#detail")
        await until(pilot, lambda: "new [i]drive[/i], sealed" in texts(detail))
    assert read_drives(desk, unit_id).may_be_listed


async def test_a_drive_is_added_edited_moved_and_removed(desk: Desk, unit_id: int) -> None:
    other = add_unit(desk, maker="", model="other", tag_text="10022").unit_id
    async with opened(desk, WipingScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("n")
        await until(pilot, lambda: runs(app.screen, drive_form))
        await settled(pilot)
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "neither model nor serial" in sentences(app))
        app.screen.field("serial").put("S 2")  # type: ignore[attr-defined]
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "S 2" in texts(app.screen.query_one("#drives")))
        await pilot.press("e")
        await settled(pilot)
        assert app.screen.field("size_text").value == "256"  # type: ignore[attr-defined]
        await pilot.press("escape")
        await settled(pilot)
        await pilot.press("m")
        await settled(pilot)
        await typed(pilot, "10022")
        await pilot.press("enter")
        await typed(pilot, "0")
        await pilot.press("enter")
        await until(pilot, lambda: "S 1" not in texts(app.screen.query_one("#drives")))
        await pilot.press("x")
        await settled(pilot)
        await typed(pilot, "was never there")
        await pilot.press("enter")
        await until(pilot, lambda: "No drive recorded" in texts(app.screen))
    assert [one.serial for one in read_drives(desk, other).drives] == ["S 1"]


async def test_a_half_filled_wipe_is_there_after_a_crash(desk: Desk, unit_id: int) -> None:
    drive = read_drives(desk, unit_id).drives[0]
    save_draft(desk, f"wipe {drive.drive_id}", {"method": "clear", "technique": "overwrite"})
    async with opened(desk, WipeForm(drive)) as (app, _):
        assert app.screen.field("method").value == "clear"  # type: ignore[attr-defined]
        assert app.screen.field("technique").value == "overwrite"  # type: ignore[attr-defined]


@pytest.fixture
def wipe_id(desk: Desk, unit_id: int) -> int:
    drive = read_drives(desk, unit_id).drives[0]
    wipe_id = record_wipe(desk, drive.drive_id, method="purge", technique="block erase").wipe_id
    verify_wipe(desk, wipe_id, result="passed", verification="read back in full")
    return wipe_id


@pytest.mark.parametrize("ending", [".txt", ".html", ".pdf"])
async def test_the_certificate_is_saved_in_each_format(
    desk: Desk, unit_id: int, wipe_id: int, tmp_path: Path, ending: str
) -> None:
    async with opened(desk, WipingScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("c")
        await until(pilot, lambda: isinstance(app.screen, CertificateScreen))
        await until(pilot, lambda: "Certificate of sanitization" in paper(app))
        await pilot.press("s")
        await until(pilot, lambda: runs(app.screen, save_document_form))
        await settled(pilot)
        app.screen.field("path").put(str(tmp_path / "c.doc"))  # type: ignore[attr-defined]
        await pilot.press("enter")
        await until(pilot, lambda: "does not say which format" in sentences(app))
        file = tmp_path / f"certificate{ending}"
        app.screen.field("path").put(str(file))  # type: ignore[attr-defined]
        await pilot.press("enter")
        await until(pilot, lambda: file.exists() and isinstance(app.screen, CertificateScreen))
    begins = {".txt": b"Certificate of sanitization", ".html": b"<!", ".pdf": b"%PDF"}
    assert file.read_bytes().startswith(begins[ending])


async def test_a_wipe_that_was_not_verified_has_no_certificate(desk: Desk, unit_id: int) -> None:
    drive = read_drives(desk, unit_id).drives[0]
    wipe_id = record_wipe(desk, drive.drive_id, method="clear", technique="overwrite").wipe_id
    async with opened(desk, CertificateScreen(wipe_id), (120, 36)) as (app, pilot):
        assert "nothing to certify" in paper(app)
        await pilot.press("s")
        await settled(pilot)
        assert isinstance(app.screen, CertificateScreen)


@pytest.mark.parametrize("size", SIZES)
async def test_the_papers_of_a_unit_are_shown_in_turn_and_saved(
    desk: Desk, unit_id: int, wipe_id: int, tmp_path: Path, size: tuple[int, int]
) -> None:
    async with opened(desk, PapersScreen(unit_id), size) as (app, pilot):
        assert "[/] odd [b]model[/b]" in paper(app)
        await pilot.press("tab")
        await until(pilot, lambda: "Not tested" in paper(app))
        await pilot.press("tab")
        await until(pilot, lambda: "is not sold" in paper(app))
        looked_into_if_need_be(desk, unit_id)
        sell_unit(desk, unit_id, price_text="200", open_tasks="skip", reason="sold")
        await until(pilot, lambda: "200.00 EUR" in paper(app))
        await pilot.press("s")
        await settled(pilot)
        file = tmp_path / "note.html"
        app.screen.field("path").put(str(file))  # type: ignore[attr-defined]
        await pilot.press("enter")
        await until(pilot, file.exists)
        await settled(pilot)
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])


async def test_tool_title_and_place_are_those_of_the_persons_last_wipe(desk: Desk, unit_id: int) -> None:
    bo = desk.as_person(add_person(desk, "Bo"))
    other = add_drive(desk, unit_id, model="D 2", serial="S 2")
    told = {"tool": "drivewash", "tool_version": "2.1", "location": "[b]bench[/b] 2", "title": "technician"}
    wipe = record_wipe(desk, other, method="clear", technique="overwrite", **told)
    record_wipe(bo, other, method="clear", technique="overwrite", tool="Bo's own", location="bench 3")
    drive = read_drives(desk, unit_id).drives[0]
    async with opened(desk, WipeForm(drive), (120, 36)) as (app, _):
        form = app.screen
        assert isinstance(form, WipeForm)
        assert {name: form.value(name) for name in told} == told
        assert (form.value("method"), form.value("technique")) == ("", ""), "what was done is said each time"
        assert "look whether they still hold" in str(form.query_one("#known", Static).render())
    line = next(one for one in read_drives(desk, unit_id).drives[1].wipes if one.wipe_id == wipe.wipe_id)
    async with opened(desk, verify_form(drive, line), (120, 36)) as (app, _):
        form = app.screen  # type: ignore[assignment]
        assert (form.value("title"), form.value("location")) == ("technician", "[b]bench[/b] 2")
        assert (form.value("verification"), form.value("result")) == ("", "")
    verify_wipe(desk, wipe.wipe_id, verification="read back", result="passed", location="the back room")
    async with opened(desk, verify_form(drive, line), (120, 36)) as (app, _):
        form = app.screen  # type: ignore[assignment]
        assert (form.value("title"), form.value("location")) == ("", "the back room")
    async with opened(desk.as_person(add_person(desk, "Cy")), WipeForm(drive), (120, 36)) as (app, _):
        form = app.screen
        assert isinstance(form, WipeForm)
        assert form.value("tool") == ""
        assert str(form.query_one("#known", Static).render()) == ""
