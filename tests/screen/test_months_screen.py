"""A month and a year on the screen: what the hour earned with bars, what is tied up, slow and used."""

from __future__ import annotations

import pytest

from bench.dashboard.presenters.month_rows import ADDING_UP
from bench.dashboard.screens.months import MonthsScreen
from bench.dashboard.screens.stock import ConsumableScreen
from bench.dashboard.screens.unit import UnitScreen
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.desk import Desk
from bench.domain.safety import CLOSING
from bench.domain.spans import Span
from bench.views.months import AsOfNow, MonthSheet
from bench.views.unit import read_unit
from bench.work.safety import go_on_without
from bench.work.selling import sell_unit
from bench.work.timers import finish_task, start_task
from bench.work.units import add_unit, edit_unit
from tests.clocks import HandSetClock
from tests.screen.host import Host, opened, settled, texts, until
from tests.screen.workshop import CLEANING, LOOK_OVER, fill_shelf, new_unit, open_cover, task
from tests.work.looked_into import looked_into_if_need_be

SIZES = [(80, 24), (120, 36), (200, 50)]


@pytest.fixture
def sold_id(desk: Desk, clock: HandSetClock) -> int:
    """An hour on a unit bought for 100 and sold for 160, its cleaning finished; another waits, for 70."""
    fill_shelf(desk)
    unit_id = new_unit(desk, "[/] model")
    priced(desk, unit_id, "100")
    start_task(desk, task(desk, unit_id, LOOK_OVER).task_id)
    clock.advance(minutes=60)
    finish_task(desk, task(desk, unit_id, LOOK_OVER).task_id)
    open_cover(desk, unit_id)
    finish_task(desk, task(desk, unit_id, CLEANING).task_id)
    looked_into_if_need_be(desk, unit_id)
    go_on_without(desk, unit_id, CLOSING, "sold open")
    sell_unit(desk, unit_id, price_text="160", shipping_text="0", open_tasks="skip", reason="sold as it is")
    add_unit(desk, maker="Maker", model="waits [x]", price_text="70")
    clock.advance(minutes=2 * 24 * 60)
    return unit_id


def priced(desk: Desk, unit_id: int, text: str) -> None:
    unit = read_unit(desk, unit_id)
    edit_unit(
        desk,
        unit_id,
        maker=unit.maker,
        model=unit.model,
        serial="",
        note="",
        due_text="",
        price_text=text,
        tag_text=unit.tag,
    )


def shown(app: Host) -> MonthsScreen:
    assert isinstance(app.screen, MonthsScreen)
    return app.screen


@pytest.mark.parametrize("size", SIZES)
async def test_every_panel_shows_its_chart(desk: Desk, sold_id: int, size: tuple[int, int]) -> None:
    async with opened(desk, MonthsScreen(), size) as (app, pilot):
        await until(pilot, lambda: "November 2026" in texts(app.screen.query_one("#head")))
        for name, words in (
            ("earned", "full refurbish"),
            ("total", "margin, before labour"),
            ("tied", "70.00"),
            ("slow", "waits [x]"),
            ("used", "isopropyl"),
        ):
            table = shown(app).table(name)
            table.take_focus()
            await settled(pilot)
            assert words in texts(table), name
            assert table.rows.size.height >= 3, name
            if name != "total":
                assert "█" in texts(table), name
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])


async def test_a_month_is_left_for_the_one_before_and_for_the_year(desk: Desk, sold_id: int) -> None:
    async with opened(desk, MonthsScreen(), (120, 36)) as (app, pilot):
        await pilot.press("left")
        await until(pilot, lambda: "October 2026" in texts(app.screen.query_one("#head")))
        assert "Nothing sold" in texts(shown(app).table("earned"))
        await pilot.press("t")
        await until(pilot, lambda: "November 2026" in texts(app.screen.query_one("#head")))
        await pilot.press("m")
        await until(pilot, lambda: "by month" in texts(shown(app).table("earned")))
        earned = shown(app).table("earned")
        earned.take_focus()
        earned.rows.move_to(next(n for n, row in enumerate(earned.rows.items) if row.key == ("month", 10)))
        await pilot.press("enter")
        await until(pilot, lambda: shown(app).span == Span(2026, 11))
        await until(pilot, lambda: "November 2026" in texts(app.screen.query_one("#head")))


async def test_slow_units_and_consumables_open(desk: Desk, sold_id: int) -> None:
    async with opened(desk, MonthsScreen(), (120, 36)) as (app, pilot):
        shown(app).table("slow").take_focus()
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, UnitScreen))
        await settled(pilot)
        await pilot.press("escape")
        await until(pilot, lambda: isinstance(app.screen, MonthsScreen))
        shown(app).table("used").take_focus()
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, ConsumableScreen))


async def test_a_year_shows_what_stands_now_first_and_no_sum_before_it_is_known(
    desk: Desk, sold_id: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    noted: list[dict[str, str]] = []
    show = MonthsScreen.show

    def noting(screen: MonthsScreen, facts: MonthSheet | AsOfNow) -> None:
        show(screen, facts)
        head = screen.query_one("#head", LinesPanel).paint(118)
        said = {"head": "".join(part.text for line in head for part in line)}
        for name in ("earned", "total", "used", "tied", "slow"):
            rows = screen.table(name).rows
            said[name] = "".join(part.text for row in rows.items for part in rows.line_of(row, 60))
        noted.append(said)

    monkeypatch.setattr(MonthsScreen, "show", noting)
    async with opened(desk, MonthsScreen(whole_year=True), (120, 36)) as (app, pilot):
        first, whole = noted
        assert {first[name] for name in ("earned", "total", "used")} == {ADDING_UP}
        assert "1 sold" in whole["head"]
        assert "sold" not in first["head"]
        assert first["head"].endswith(f"{ADDING_UP} ")
        assert "70.00" in first["tied"]
        assert "Maker wa" in first["slow"]
        assert all(ADDING_UP not in said for said in whole.values())
        assert (first["tied"], first["slow"]) == (whole["tied"], whole["slow"])
        shown(app).ask()
        await settled(pilot)
        assert len(noted) == 2, "what is shown already is not begun again"
        await pilot.press("left")
        await settled(pilot)
        assert [said["head"].split()[0] for said in noted] == ["2026", "2026", "2025", "2025"]
