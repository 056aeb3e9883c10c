"""A phone drops a picture while the real program runs: it asks, and the picture goes to its unit."""

from __future__ import annotations

from pathlib import Path

from bench.desk import Desk, SystemClock
from bench.views.photographs import read_photographs
from bench.views.unit import read_unit
from bench.work.files import open_existing
from bench.work.timers import start_task
from bench.work.units import add_unit
from tests.pictures import SECRET, jpeg
from tests.pty.program import make_shop
from tests.pty.terminal import Terminal, screen_environment


def dropped_until_asked(terminal: Terminal, phone: Path) -> Path:
    """Drop one picture after the other: what was there at the first look is left alone, whenever that was."""
    for number in range(10):
        picture = phone / f"IMG_{number}.jpg"
        picture.write_bytes(jpeg(shade=number)[:200])
        picture.write_bytes(jpeg(shade=number))
        try:
            terminal.wait_for("The watched folder has a photograph", patience=3)
        except AssertionError:
            continue
        return picture
    raise AssertionError("it never asked")


def test_what_a_phone_drops_goes_to_the_unit_on_the_bench(tmp_path: Path) -> None:
    shop, phone = make_shop(tmp_path / "shop.bench"), tmp_path / "phone"
    phone.mkdir()
    store = open_existing(shop)
    desk = Desk(store, SystemClock(), person_id=1)
    unit_id = add_unit(desk, maker="Maker", model="One", tag_text="10014", route_id=1).unit_id
    start_task(desk, read_unit(desk, unit_id).tasks[0].task_id)
    env = screen_environment(tmp_path, BENCH_WATCHED_FOLDER=str(phone))
    with Terminal(["--data", str(shop)], env) as terminal:
        terminal.wait_for("My workshop")
        (phone / "before.part").write_bytes(jpeg())
        picture = dropped_until_asked(terminal, phone)
        terminal.wait_for(f"{picture.name}. Attach to which unit?")
        assert "10014" in terminal.text()
        terminal.send("the lid\x13")
        terminal.wait_for(f"{picture.name} kept")
    (line,) = read_photographs(desk, unit_id).lines
    assert (line.name, line.caption, line.there) == (picture.name, "the lid", True)
    assert SECRET not in Path(line.path).read_bytes()
    assert picture.exists()
    store.close()
