"""A unit's photographs on the screen, and the question for what comes into the watched folder."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from bench.dashboard.folder_opening import open_folder
from bench.dashboard.folder_watch import FolderWatch
from bench.dashboard.screens.dialogs.photograph_forms import (
    AskErase,
    DroppedForm,
    attach_form,
    caption_form,
    shows_form,
)
from bench.dashboard.screens.faults import FaultsScreen
from bench.dashboard.screens.photographs import PhotographsScreen
from bench.dashboard.widgets.picture import HALF, Picture
from bench.desk import Desk
from bench.domain.dropped import Stamp, come_to_rest, is_picture
from bench.errors import StoreError
from bench.store.photographs import photographs_folder
from bench.views.photographs import PhotographLine, read_photographs
from bench.views.unit import read_unit
from bench.work.faults import add_fault
from bench.work.photographs import attach_photographs
from bench.work.timers import start_task
from bench.work.units import add_unit
from bench.work.watched_folder import WatchedFolder
from tests.pictures import jpeg, png
from tests.screen.host import Host, opened, runs, sentences, settled, texts, typed, until
from tests.screen.undoing import undo_newest

SIZES = [(80, 24), (120, 36), (200, 50)]


@pytest.fixture
def phone(tmp_path: Path) -> Path:
    folder = tmp_path / "phone"
    folder.mkdir()
    return folder


@pytest.fixture
def unit_id(desk: Desk, phone: Path) -> int:
    unit_id = add_unit(desk, maker="Maker", model="[/] odd", tag_text="10014", route_id=5).unit_id
    (phone / "front.jpg").write_bytes(jpeg())
    attach_photographs(desk, unit_id, [str(phone / "front.jpg")], caption="the [b]lid[/b]")
    return unit_id


def lines(desk: Desk, unit_id: int) -> tuple[PhotographLine, ...]:
    return read_photographs(desk, unit_id).lines


def toasts(app: Host) -> str:
    return " ".join(notice.message for notice in app._notifications)


@pytest.mark.parametrize("size", SIZES)
async def test_photographs_stand_there_with_their_captions(
    desk: Desk, unit_id: int, size: tuple[int, int]
) -> None:
    async with opened(desk, PhotographsScreen(unit_id), size) as (app, pilot):
        await settled(pilot)
        shown = texts(app.screen)
        assert "the [b]lid[/b]" in shown
        assert "front.jpg" in shown
        assert "1 kept, 0 in papers" in shown
        picture = app.screen.query_one(Picture)
        assert picture.display == (size[0] >= 112)
        if picture.display:
            await until(pilot, lambda: picture.cells is not None)
            drawn = [picture.render_line(y) for y in range(picture.size.height)]
            assert any(HALF in strip.text for strip in drawn)
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])


async def test_what_one_shows_is_chosen_from_a_list(desk: Desk, unit_id: int) -> None:
    fault_id = add_fault(desk, unit_id, symptom="hinge cracked").fault_id
    async with opened(desk, PhotographsScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("b")
        await until(pilot, lambda: runs(app.screen, shows_form))
        await settled(pilot)
        app.screen.field("fault_id").put(str(fault_id))  # type: ignore[attr-defined]
        app.screen.field("model").put("yes")  # type: ignore[attr-defined]
        await pilot.press("ctrl+s")
        await until(pilot, lambda: lines(desk, unit_id)[0].fault_id == fault_id)
        assert lines(desk, unit_id)[0].model
        await until(pilot, lambda: "hinge cracked" in texts(app.screen))
        await undo_newest(pilot)
        await until(pilot, lambda: lines(desk, unit_id)[0].fault_id is None)


async def test_a_picture_of_a_fault_is_kept_from_its_list(desk: Desk, unit_id: int, phone: Path) -> None:
    add_fault(desk, unit_id, symptom="hinge cracked")
    (phone / "hinge.png").write_bytes(png())
    async with opened(desk, FaultsScreen(unit_id), (120, 36)) as (app, pilot):
        await settled(pilot)
        await pilot.press("p")
        await until(pilot, lambda: runs(app.screen, attach_form))
        await settled(pilot)
        app.screen.field("path").put(str(phone / "hinge.png"))  # type: ignore[attr-defined]
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "one shows it" in texts(app.screen))
        assert lines(desk, unit_id)[1].fault == "hinge cracked"
        await pilot.press("o")
        await until(pilot, lambda: isinstance(app.screen, PhotographsScreen))


async def test_a_picture_is_kept_by_its_path(desk: Desk, unit_id: int, phone: Path) -> None:
    (phone / "back cover.png").write_bytes(png())
    async with opened(desk, PhotographsScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("n")
        await until(pilot, lambda: runs(app.screen, attach_form))
        await settled(pilot)
        app.screen.field("path").put(str(phone / "gone.png"))  # type: ignore[attr-defined]
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "is not there" in sentences(app))
        app.screen.field("path").put(f"'{phone / 'back cover.png'}'")  # type: ignore[attr-defined]
        app.screen.field("task_id").put(str(read_unit(desk, unit_id).tasks[0].task_id))  # type: ignore[attr-defined]
        await pilot.press("ctrl+s")
        await until(pilot, lambda: isinstance(app.screen, PhotographsScreen))
        await until(pilot, lambda: "back-cover.png" in texts(app.screen))
        assert lines(desk, unit_id)[1].task == read_unit(desk, unit_id).tasks[0].name


async def test_caption_papers_removing_and_undo(desk: Desk, unit_id: int) -> None:
    async with opened(desk, PhotographsScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("enter")
        await until(pilot, lambda: runs(app.screen, caption_form))
        await settled(pilot)
        app.screen.field("caption").put("hinge")  # type: ignore[attr-defined]
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "hinge" in texts(app.screen))
        await pilot.press("s")
        await until(pilot, lambda: "1 in papers" in texts(app.screen))
        await pilot.press("s")
        await until(pilot, lambda: "0 in papers" in texts(app.screen))
        await pilot.press("x")
        await until(pilot, lambda: lines(desk, unit_id) == ())
        await until(pilot, lambda: "No photograph is kept" in texts(app.screen))
        await pilot.press("s")
        await until(pilot, lambda: "There is no photograph" in toasts(app))
        await undo_newest(pilot)
        await until(pilot, lambda: "hinge" in texts(app.screen))


async def test_erasing_asks_first(desk: Desk, unit_id: int) -> None:
    async with opened(desk, PhotographsScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("e")
        await until(pilot, lambda: isinstance(app.screen, AskErase))
        await pilot.press("enter")  # the button that is at hand first leaves it
        await until(pilot, lambda: isinstance(app.screen, PhotographsScreen))
        assert lines(desk, unit_id)[0].there
        await pilot.press("e")
        await until(pilot, lambda: isinstance(app.screen, AskErase))
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "erased" in texts(app.screen))
        assert lines(desk, unit_id)[0].caption == ""
        assert not photographs_folder(desk.store.path).joinpath("10014").exists()
        assert "Erased photograph 1 of 10014." in toasts(app)


async def test_a_damaged_or_missing_file_is_told_and_draws_nothing(desk: Desk, unit_id: int) -> None:
    path = Path(lines(desk, unit_id)[0].path)
    path.write_bytes(b"\xff\xd8\xff and nothing more")
    async with opened(desk, PhotographsScreen(unit_id), (120, 36)) as (app, pilot):
        await settled(pilot)
        assert app.screen.query_one(Picture).cells is None
        path.unlink()
        app.screen.ask()  # type: ignore[attr-defined]
        await until(pilot, lambda: "! missing" in texts(app.screen))
        assert "without a file" in texts(app.screen)


async def test_the_folder_is_opened_or_its_path_is_told(
    desk: Desk, unit_id: int, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.delenv("DISPLAY", raising=False)
    monkeypatch.delenv("WAYLAND_DISPLAY", raising=False)
    async with opened(desk, PhotographsScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("o")
        await until(pilot, lambda: "No desktop is there to open it" in toasts(app))
        assert app.clipboard == str(photographs_folder(desk.store.path) / "10014")
        open_folder(app.screen, str(tmp_path / "none"))  # type: ignore[arg-type]
        await until(pilot, lambda: "No photograph is kept yet" in toasts(app))
        started: list[object] = []
        monkeypatch.setenv("DISPLAY", ":9")
        monkeypatch.setattr("bench.dashboard.folder_opening.shutil.which", lambda name: f"/usr/bin/{name}")
        monkeypatch.setattr(
            "bench.dashboard.folder_opening.subprocess.Popen", lambda command, **_: started.append(command)
        )
        await pilot.press("o")
        await until(pilot, lambda: started == [["/usr/bin/xdg-open", app.clipboard]])


def test_a_file_is_taken_once_it_rests() -> None:
    old, grown = Stamp(10, 1), Stamp(20, 2)
    assert come_to_rest({}, {"a": old}, {}) == ()
    assert come_to_rest({"a": old}, {"a": grown}, {}) == ()
    assert come_to_rest({"a": grown}, {"a": grown}, {}) == ("a",)
    assert come_to_rest({"a": grown}, {"a": grown}, {"a": grown}) == ()
    assert come_to_rest({"a": grown}, {"a": grown}, {"a": old}) == ("a",)
    assert come_to_rest({"a": Stamp(0, 1)}, {"a": Stamp(0, 1)}, {}) == ()
    assert [is_picture(name) for name in ("a.JPG", ".a.jpg", "a.jpg.part", "a.heic", "jpg", ".jpg")] == [
        True,
        False,
        False,
        True,
        False,
        False,
    ]


def test_what_was_there_before_is_left_alone(phone: Path) -> None:
    (phone / "before.jpg").write_bytes(jpeg())
    watched = WatchedFolder(phone)
    assert watched.look() == ()
    assert watched.look() == ()
    (phone / "new.jpg").write_bytes(jpeg()[:100])
    assert watched.look() == ()
    (phone / "new.jpg").write_bytes(jpeg())
    assert watched.look() == ()
    assert watched.look() == (phone / "new.jpg",)
    assert watched.look() == ()
    with pytest.raises(StoreError, match="watched folder"):
        WatchedFolder(phone / "none").look()


async def test_what_the_phone_drops_goes_to_the_unit_on_the_bench_after_a_question(
    desk: Desk, unit_id: int, phone: Path
) -> None:
    start_task(desk, read_unit(desk, unit_id).tasks[0].task_id)
    async with opened(desk, PhotographsScreen(unit_id), (120, 36)) as (app, pilot):
        watch = FolderWatch(app, phone)

        async def look() -> None:
            watch.look()
            await settled(pilot)

        await look()
        (phone / "new.jpg").write_bytes(jpeg(shade=9))
        (phone / "other.png").write_bytes(png())
        await look()
        assert isinstance(app.screen, PhotographsScreen)
        await look()
        form = app.screen
        assert isinstance(form, DroppedForm)
        assert form.value("tag_text") == "10014"
        (phone / "late.jpg").write_bytes(jpeg(shade=18))
        await look()
        await look()
        assert app.screen is form  # never over another dialog
        await typed(pilot, "")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: len(lines(desk, unit_id)) == 3)
        await until(pilot, lambda: isinstance(app.screen, PhotographsScreen))
        await look()
        assert isinstance(app.screen, DroppedForm)
        await pilot.press("escape")
        await until(pilot, lambda: isinstance(app.screen, PhotographsScreen))
        await look()
        assert isinstance(app.screen, PhotographsScreen)
        assert sorted(os.listdir(phone)) == ["front.jpg", "late.jpg", "new.jpg", "other.png"]  # noqa: PTH208
        assert len(lines(desk, unit_id)) == 3


async def test_another_tag_and_moving_the_original(desk: Desk, unit_id: int, phone: Path) -> None:
    other = add_unit(desk, maker="Maker", model="N", tag_text="10022").unit_id
    (phone / "new.jpg").write_bytes(jpeg(shade=9))
    async with opened(desk, DroppedForm([phone / "new.jpg"]), (80, 24)) as (app, pilot):
        form = app.screen
        assert isinstance(form, DroppedForm)
        assert form.value("tag_text") == ""
        await pilot.press("ctrl+s")
        await until(pilot, lambda: sentences(app) != "")
        form.field("tag_text").put("10022")
        form.field("move").put("yes")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: app.answers == [True])
    assert [line.name for line in lines(desk, other)] == ["new.jpg"]
    assert not (phone / "new.jpg").exists()


async def test_a_folder_that_is_not_there_is_told_once(desk: Desk, unit_id: int, phone: Path) -> None:
    async with opened(desk, PhotographsScreen(unit_id), (120, 36)) as (app, pilot):
        watch = FolderWatch(app, phone / "none")
        for _ in range(3):
            watch.look()
            await settled(pilot)
        assert toasts(app).count("cannot be read") == 1
