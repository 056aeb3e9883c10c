"""A stocktake: all consumables in one table, one reason, one line of the journal, undone as one."""

from __future__ import annotations

import pytest

from bench.dashboard.scanning import LATER_WAIT
from bench.dashboard.screens.dialogs.stocktake import COUNTED, StocktakeForm
from bench.desk import Desk
from bench.domain.starting_set import ISOPROPYL
from bench.views.journal import read_journal
from bench.views.shop import read_draft
from bench.views.stock import read_stock
from bench.work.consumables import set_code
from bench.work.undo import undo
from tests.screen.host import opened, sentences, settled, typed, until
from tests.screen.scanner import scan
from tests.screen.workshop import fill_shelf, level

SIZES = [(80, 24), (120, 36), (200, 50)]


@pytest.fixture
def shelf(desk: Desk) -> dict[str, int]:
    fill_shelf(desk)
    return {line.name: line.consumable_id for line in read_stock(desk).lines}


def levels(desk: Desk) -> dict[int, int]:
    return {line.consumable_id: line.on_hand for line in read_stock(desk).lines}


@pytest.mark.parametrize("size", SIZES)
async def test_every_name_stands_there_whole_with_what_the_book_says(
    desk: Desk, shelf: dict[str, int], size: tuple[int, int]
) -> None:
    async with opened(desk, StocktakeForm(), size) as (app, _):
        dialog = app.screen
        assert isinstance(dialog, StocktakeForm)
        for name, number in shelf.items():
            (line,) = dialog.field(f"{COUNTED}{number}").lines()
            assert name in line
            assert "book: " in line


async def test_a_scan_goes_to_the_line_of_what_was_scanned_wherever_the_cursor_is(
    desk: Desk, shelf: dict[str, int]
) -> None:
    *_, before_last, last = sorted(shelf, key=str.casefold)
    set_code(desk, shelf[last], "4006381333931")
    set_code(desk, shelf[before_last], "5901234123457")
    async with opened(desk, StocktakeForm()) as (app, pilot):
        app.ear.hears = True
        form = app.screen
        assert isinstance(form, StocktakeForm)

        def at(name: str) -> bool:
            return app.focused is not None and form.field(name) in app.focused.ancestors_with_self

        await scan(pilot, "4006381333931")
        await until(pilot, lambda: at(f"{COUNTED}{shelf[last]}"))
        await typed(pilot, "7")
        await until(pilot, lambda: form.value(f"{COUNTED}{shelf[last]}") == "7")
        form.field("reason").take_focus()
        await pilot.pause(LATER_WAIT)  # nobody scans as fast behind a key
        await scan(pilot, "5901234123457")
        await until(pilot, lambda: at(f"{COUNTED}{shelf[before_last]}"))
        await typed(pilot, "8")
        await until(pilot, lambda: form.value(f"{COUNTED}{shelf[before_last]}") == "8")
        assert sum(bool(value) for value in form.values().values()) == 2


async def test_what_was_typed_is_counted_and_the_rest_stays(desk: Desk, shelf: dict[str, int]) -> None:
    before, lines = levels(desk), len(read_journal(desk).lines)
    first = sorted(shelf, key=str.casefold)[0]
    async with opened(desk, StocktakeForm()) as (app, pilot):
        await typed(pilot, "3")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "reason is empty" in sentences(app))
        assert levels(desk) == before
        await typed(pilot, "month end")
        await pilot.press("enter")
        await until(pilot, lambda: app.answers == [True])
        await settled(pilot)
    assert levels(desk) == before | {shelf[first]: 3_000}
    newest = read_journal(desk).lines[0]
    assert len(read_journal(desk).lines) == lines + 1
    assert (newest.action, newest.reason) == ("stocktake", "month end")
    assert first in newest.summary
    assert read_draft(desk, "stocktake") == {}


async def test_all_are_undone_as_one(desk: Desk, shelf: dict[str, int]) -> None:
    before = levels(desk)
    async with opened(desk, StocktakeForm()) as (app, pilot):
        for _ in shelf:
            await typed(pilot, "3")
            await pilot.press("enter")
        await typed(pilot, "month end")
        await pilot.press("enter")
        await until(pilot, lambda: app.answers == [True])
    assert set(levels(desk).values()) == {3_000}
    undo(desk, read_journal(desk).lines[0].journal_id)
    assert levels(desk) == before


async def test_one_that_cannot_be_read_changes_none_and_keeps_the_typing(
    desk: Desk, shelf: dict[str, int]
) -> None:
    before = levels(desk)
    async with opened(desk, StocktakeForm()) as (app, pilot):
        dialog = app.screen
        assert isinstance(dialog, StocktakeForm)
        good, bad = (dialog.field(f"{COUNTED}{shelf[name]}") for name in ("foam swabs", ISOPROPYL))
        good.put("3")
        bad.put("3 kg")
        dialog.field("reason").put("month end")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "kept in" in bad.said)
        assert (good.value, good.said) == ("3", "")
    assert levels(desk) == before


async def test_nothing_typed_is_no_stocktake(desk: Desk, shelf: dict[str, int]) -> None:
    async with opened(desk, StocktakeForm()) as (app, pilot):
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "Nothing was counted" in sentences(app))
    assert level(desk).consumable_id in shelf.values()
