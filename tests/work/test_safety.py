"""The lists keep their order, screws are counted, a bad cell stops everything until it is dealt with."""

from __future__ import annotations

import pytest

from bench.desk import Desk
from bench.domain.safety import (
    AFTER_A_BAD_CELL,
    CAUTION_CLOSING,
    CAUTION_CONNECTED,
    CAUTION_COVER_ON,
    CAUTION_MAINS,
    CAUTION_SOLVENT,
    CAUTION_STILL_IN,
    CLOSING,
    CLOSING_ITEMS,
    FINDINGS,
    OPENING,
    OPENING_ITEMS,
    battery_connected,
    caution_for,
    missing,
)
from bench.errors import BadInput, NotFound, Refused
from bench.views.journal import read_journal
from bench.views.safety import read_safety
from bench.views.unit import read_unit
from bench.work.safety import clear_cell, go_on_without, report_cell, tick, untick
from bench.work.timers import start_task
from bench.work.units import add_unit


@pytest.fixture
def unit_id(desk: Desk) -> int:
    return add_unit(desk, maker="", model="Full", route_id=1).unit_id


def test_ticks_are_kept_with_who_and_when(desk: Desk, unit_id: int) -> None:
    view = tick(desk, unit_id, OPENING, ["strap", "shut_down"], screws=12)
    ticked = {line.item: (line.person, line.at_us) for line in view.opening if line.person}
    assert ticked == dict.fromkeys(("shut_down", "strap"), ("Ada", desk.clock.now_us()))
    assert (view.screws_out, view.battery_connected) == (12, True)


def test_ticking_twice_changes_nothing(desk: Desk, unit_id: int) -> None:
    once = tick(desk, unit_id, OPENING, ["strap"])
    assert tick(desk, unit_id, OPENING, ["strap"]) == once


def test_battery_goes_back_in_last(desk: Desk, unit_id: int) -> None:
    tick(desk, unit_id, OPENING, list(OPENING_ITEMS), screws=8)
    with pytest.raises(Refused, match="last"):
        tick(desk, unit_id, CLOSING, ["battery_in"])
    tick(desk, unit_id, CLOSING, ["gasket", "antennas"])
    with pytest.raises(BadInput, match="counted"):
        tick(desk, unit_id, CLOSING, ["screws_back"])
    with pytest.raises(BadInput, match="came out: 8; 7 went back"):
        tick(desk, unit_id, CLOSING, ["screws_back"], screws=7)
    view = tick(desk, unit_id, CLOSING, ["screws_back"], screws=7, note="one thread stripped")
    assert (view.screws_back, view.closing[0].note) == (7, "one thread stripped")
    assert tick(desk, unit_id, CLOSING, ["battery_in"]).battery_connected


@pytest.mark.parametrize("screws", [-1, 1000])
def test_screws_that_cannot_be(desk: Desk, unit_id: int, screws: int) -> None:
    with pytest.raises(BadInput):
        tick(desk, unit_id, OPENING, ["strap"], screws=screws)
    assert read_safety(desk, unit_id).screws_out is None


def test_unknown_lists_items_and_units(desk: Desk, unit_id: int) -> None:
    with pytest.raises(BadInput):
        tick(desk, unit_id, OPENING, ["gasket"])
    with pytest.raises(BadInput):
        tick(desk, unit_id, "elsewhere", ["gasket"])
    with pytest.raises(NotFound):
        tick(desk, 999, OPENING, ["strap"])
    with pytest.raises(BadInput):
        report_cell(desk, unit_id, "odd")


def test_untick(desk: Desk, unit_id: int) -> None:
    tick(desk, unit_id, OPENING, ["strap"])
    assert untick(desk, unit_id, OPENING, "strap").opening[1].person is None
    with pytest.raises(Refused):
        untick(desk, unit_id, OPENING, "strap")


def test_going_on_without_is_kept_in_the_journal(desk: Desk, unit_id: int) -> None:
    go_on_without(desk, unit_id, OPENING, "pack removed by the seller")
    with pytest.raises(Refused):
        go_on_without(desk, unit_id, OPENING, "again")
    line = read_journal(desk).lines[0]
    assert (line.action, line.reason) == ("go on without", "pack removed by the seller")
    assert read_safety(desk, unit_id).without_opening == "pack removed by the seller"


@pytest.mark.parametrize("finding", list(FINDINGS))
def test_a_bad_cell_holds_the_unit_and_cannot_be_passed(desk: Desk, unit_id: int, finding: str) -> None:
    task_id = read_unit(desk, unit_id).tasks[0].task_id
    start_task(desk, task_id)
    tick(desk, unit_id, OPENING, ["strap"])
    view = report_cell(desk, unit_id, finding)
    assert (view.cell_finding, view.caution) == (finding, AFTER_A_BAD_CELL[0])
    sheet = read_unit(desk, unit_id)
    assert sheet.held == FINDINGS[finding]
    assert not sheet.tasks[0].running
    for attempt in (
        lambda: go_on_without(desk, unit_id, OPENING, "no"),
        lambda: tick(desk, unit_id, OPENING, ["battery_out"]),
        lambda: start_task(desk, task_id),
    ):
        with pytest.raises(Refused):
            attempt()
    with pytest.raises(BadInput):
        clear_cell(desk, unit_id, "")
    view = clear_cell(desk, unit_id, "pack handed to the collection point")
    assert (view.cell_finding, read_unit(desk, unit_id).held) == (None, None)
    assert not any(line.person for line in view.opening)
    with pytest.raises(Refused):
        clear_cell(desk, unit_id, "twice")


def test_a_hold_for_another_reason_outlives_the_cell(desk: Desk, unit_id: int) -> None:
    from bench.work.moves import hold_unit

    hold_unit(desk, unit_id, "part on order")
    report_cell(desk, unit_id, "wet")
    clear_cell(desk, unit_id, "pack replaced")
    assert read_unit(desk, unit_id).held == "part on order"


def test_missing_keeps_the_lists_order() -> None:
    assert missing(CLOSING, ["gasket"]) == ("screws_back", "antennas", "battery_in")
    assert missing(OPENING, OPENING_ITEMS) == ()


def test_battery_is_connected_until_ticked_and_after_it_is_back() -> None:
    assert battery_connected([], [])
    assert not battery_connected(["battery_out"], [])
    assert battery_connected(["battery_out"], ["battery_in"])


@pytest.mark.parametrize(
    ("state", "caution"),
    [
        ({"cell_finding": "wet", "alarm": True}, AFTER_A_BAD_CELL[0]),
        ({"cover_off": True, "alarm": True, "hazard": CAUTION_SOLVENT}, CAUTION_CONNECTED),
        ({"cover_off": True, "hazard": CAUTION_SOLVENT}, CAUTION_STILL_IN),
        ({"cover_off": True, "connected": False, "hazard": CAUTION_SOLVENT}, CAUTION_SOLVENT),
        ({"cover_off": True, "connected": False}, CAUTION_CLOSING),
        ({"cover_off": True, "closing": True}, CAUTION_CLOSING),
        ({"hazard": CAUTION_MAINS}, CAUTION_MAINS),
        ({}, CAUTION_COVER_ON),
    ],
)
def test_the_one_caution_that_matters(state: dict[str, object], caution: str) -> None:
    facts: dict[str, object] = {
        "cell_finding": None,
        "cover_off": False,
        "connected": True,
        "closing": False,
        "alarm": False,
        "hazard": "",
    }
    assert caution_for(**(facts | state)) == caution  # type: ignore[arg-type]


def test_only_what_contradicts_itself_is_written_in_capitals() -> None:
    def shouts(words: str) -> bool:
        return any(len(word) > 3 and word.isupper() for word in words.replace(",", " ").split())

    assert shouts(CAUTION_CONNECTED)
    calm = (CAUTION_COVER_ON, CAUTION_STILL_IN, CAUTION_CLOSING, CAUTION_SOLVENT, CAUTION_MAINS)
    assert [words for words in calm if shouts(words)] == []


def test_close_up_items_end_with_the_battery() -> None:
    assert list(CLOSING_ITEMS)[-1] == "battery_in"
