"""The register on the screen: lines in full, saved, people erased once their time is over."""

from __future__ import annotations

from pathlib import Path

import pytest

from bench.dashboard.screens.dialogs.file_forms import save_document_form
from bench.dashboard.screens.register import RegisterFacts, RegisterScreen
from bench.dashboard.screens.unit import UnitScreen
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.desk import Desk
from bench.domain.party import PartyTyped
from bench.views.parties import read_parties
from bench.work.purchases import edit_purchase
from bench.work.selling import sell_unit
from bench.work.units import add_unit
from tests.clocks import HandSetClock
from tests.screen.host import opened, runs, sentences, settled, texts, typed, until
from tests.work.looked_into import looked_into_if_need_be

SIZES = [(80, 24), (120, 36), (200, 50)]
YEARS_LATER_MINUTES = 30 * 366 * 24 * 60


@pytest.fixture
def unit_id(desk: Desk) -> int:
    unit_id = add_unit(desk, maker="Maker", model="[/] odd", serial="S 1", price_text="100").unit_id
    seller = PartyTyped("A [b]seller[/b]", "1 Road")
    edit_purchase(desk, unit_id, expected_text="", bought_on_text="today", invoice="R 7", seller=seller)
    looked_into_if_need_be(desk, unit_id)
    sell_unit(desk, unit_id, price_text="250", buyer_name="Buyer Xyz", open_tasks="skip", reason="sold")
    add_unit(desk, maker="Maker", model="still here", price_text="80")
    return unit_id


@pytest.mark.parametrize("size", SIZES)
async def test_a_line_is_shown_in_full(desk: Desk, unit_id: int, size: tuple[int, int]) -> None:
    async with opened(desk, RegisterScreen(), size) as (app, pilot):
        assert "[/] odd" in texts(app.screen.query_one("#rows"))
        detail = texts(app.screen.query_one("#detail"))
        for words in ("A [b]seller[/b]", "1 Road", "invoice R 7", "Buyer Xyz", "250.00 EUR", "Not advice"):
            assert words in " ".join(detail.split()), words
        assert app.screen.region.contains_region(app.screen.query_one("#detail").region)
        await pilot.press("tab")
        await until(pilot, lambda: "Buyer Xyz" in texts(app.screen.query_one("#people")))
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])


async def test_enter_opens_the_unit(desk: Desk, unit_id: int) -> None:
    async with opened(desk, RegisterScreen(), (120, 36)) as (app, pilot):
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, UnitScreen))
        assert isinstance(app.screen, UnitScreen)
        assert app.screen.unit_id == unit_id


@pytest.mark.parametrize(("ending", "begins"), [(".csv", "number"), (".html", "<!")])
async def test_it_is_saved(desk: Desk, unit_id: int, tmp_path: Path, ending: str, begins: str) -> None:
    file = tmp_path / f"register{ending}"
    async with opened(desk, RegisterScreen(), (120, 36)) as (app, pilot):
        await pilot.press("s")
        await until(pilot, lambda: runs(app.screen, save_document_form))
        await settled(pilot)
        app.screen.field("path").put(str(tmp_path / "register.doc"))  # type: ignore[attr-defined]
        await pilot.press("enter")
        await until(pilot, lambda: "does not say which format" in sentences(app))
        app.screen.field("path").put(str(file))  # type: ignore[attr-defined]
        await pilot.press("enter")
        await until(pilot, file.exists)
    assert file.read_text(encoding="utf-8").lstrip("\ufeff").startswith(begins)


async def test_people_are_erased_once_due_and_not_before(
    desk: Desk, unit_id: int, clock: HandSetClock
) -> None:
    async with opened(desk, RegisterScreen(), (120, 36)) as (app, pilot):
        await pilot.press("tab", "x")
        await settled(pilot)
        await typed(pilot, "asked for it")
        await pilot.press("enter")
        await settled(pilot)
        assert all(one.erased_us is None for one in read_parties(desk))
        clock.advance(minutes=YEARS_LATER_MINUTES)
        await pilot.press("d")
        await settled(pilot)
        await typed(pilot, "the time is over")
        await pilot.press("enter")
        await until(pilot, lambda: "Buyer Xyz" not in texts(app.screen))
    assert all(one.erased_us is not None for one in read_parties(desk))


async def test_its_first_page_comes_first_and_sums_only_with_all_of_it(
    desk: Desk, unit_id: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    shown: list[tuple[int, int, str, bool]] = []
    show = RegisterScreen.show

    def noting(screen: RegisterScreen, facts: RegisterFacts) -> None:
        show(screen, facts)
        head = screen.query_one("#head", LinesPanel).paint(118)
        words = "".join(part.text for line in head for part in line)
        lines, people = (len(screen.table(name).rows.items) for name in ("rows", "people"))
        shown.append((lines, people, words, screen.document_here() is not None))

    monkeypatch.setattr(RegisterScreen, "show", noting)
    monkeypatch.setattr("bench.dashboard.screens.register.FIRST_PAGE", 1)
    async with opened(desk, RegisterScreen(), (120, 36)) as (app, pilot):
        first, whole = shown
        assert first[:2] == (1, 1)
        assert whole[:2] == (2, 2)
        assert "others are being read" in first[2]
        assert "EUR" not in first[2]
        assert "sold 250.00 EUR" in whole[2]
        assert (first[3], whole[3]) == (False, True)
        add_unit(desk, maker="Maker", model="later", price_text="5")
        assert isinstance(app.screen, RegisterScreen)
        app.screen.ask()
        await settled(pilot)
        assert [one[0] for one in shown] == [1, 2, 3]
