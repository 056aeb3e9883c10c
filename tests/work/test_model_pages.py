"""A model's page: made as units come, written on, shared; its past by hand."""

from __future__ import annotations

from pathlib import Path

import pytest

from bench.desk import Desk
from bench.domain.model_page import TaskHours
from bench.domain.model_sharing import shared_text
from bench.domain.party import PartyTyped
from bench.errors import BadInput, Conflict, NotFound, Refused
from bench.reports.model_page import model_page_text
from bench.views.journal import read_journal
from bench.views.model_page import model_of, read_model_page, read_models, read_written_page
from bench.work.comebacks import take_return
from bench.work.model_pages import (
    add_model_screw,
    add_model_step,
    edit_model_page,
    edit_model_screw,
    edit_model_step,
    remove_model_screw,
    remove_model_step,
    reorder_model_step,
    take_shared_page,
)
from bench.work.parties import set_owner
from bench.work.parts import fit_part
from bench.work.timers import finish_task
from bench.work.undo import redo, undo
from bench.work.units import add_unit
from tests.clocks import HandSetClock
from tests.work.sale_steps import sell, stage
from tests.work.taking_back import is_taken_back
from tests.work.trade_steps import CHARGER_LEAD, COUNTER, new_unit, set_trade, work_on

MINUTE_US = 60_000_000


def steps(desk: Desk) -> list[str]:
    return [one.words for one in read_model_page(desk, "Maker", "M").steps]


def test_a_unit_makes_its_model_and_its_page_is_empty(desk: Desk) -> None:
    unit_id = new_unit(desk)
    assert [(one.maker, one.model, one.units, one.here, one.written) for one in read_models(desk)] == [
        ("Maker", "M", 1, 1, False)
    ]
    assert read_written_page(desk, unit_id) is None
    page = read_model_page(desk, "Maker", "M")
    assert page.page_id is None
    assert "Nothing is written" in model_page_text(page)


def test_steps_in_their_order(desk: Desk) -> None:
    first, second, third = (add_model_step(desk, "Maker", "M", words=one) for one in ("a", "b", "c"))
    reorder_model_step(desk, third, -1)
    assert steps(desk) == ["a", "c", "b"]
    edit_model_step(desk, first, words="begin")
    remove_model_step(desk, second)
    assert steps(desk) == ["begin", "c"]
    undo(desk)
    assert steps(desk) == ["begin", "c", "b"]
    with pytest.raises(NotFound):
        edit_model_step(desk, 99, words="x")
    with pytest.raises(BadInput):
        add_model_step(desk, "Maker", "M", words=" ")


def test_screws_by_their_place(desk: Desk) -> None:
    screw = add_model_screw(
        desk, "Maker", "M", place="bottom cover", size="M2 x 4", count_text="8", torque_text="0.2 Nm"
    )
    add_model_screw(desk, "maker", "m", place="hinge", size="M2.5 x 6", count_text="2")
    page = read_model_page(desk, "Maker", "M")
    assert [one.words for one in page.screws] == [
        "8 M2 x 4, bottom cover, 200 mN·m",
        "2 M2.5 x 6, hinge",
    ]
    assert page.screws_in_all == 10
    edit_model_screw(desk, screw, place="bottom cover", size="M2 x 4", count_text="9")
    assert read_model_page(desk, "Maker", "M").screws_in_all == 11
    remove_model_screw(desk, screw)
    assert read_model_page(desk, "Maker", "M").screws_in_all == 2


@pytest.mark.parametrize(("count", "torque"), [("0", ""), ("many", ""), ("201", ""), ("2", "tight")])
def test_screws_that_cannot_be_read_make_no_page(desk: Desk, count: str, torque: str) -> None:
    with pytest.raises(BadInput):
        add_model_screw(desk, "Maker", "M", place="hinge", size="", count_text=count, torque_text=torque)
    assert read_models(desk) == ()


def test_an_act_on_the_page_can_be_undone(desk: Desk) -> None:
    edit_model_page(desk, "Maker", "M", traps="flat cable")
    is_taken_back(desk, lambda: edit_model_page(desk, "Maker", "M", traps="two flat cables", note="x"))
    is_taken_back(desk, lambda: add_model_step(desk, "Maker", "M", words="one more"))
    assert read_model_page(desk, "MAKER", "m").traps == "two flat cables"


def test_a_unit_under_another_name_has_another_page(desk: Desk) -> None:
    edit_model_page(desk, "Maker", "M", traps="flat cable")
    other = add_unit(desk, maker="Maker", model="M2").unit_id
    assert read_written_page(desk, other) is None
    unit_id = new_unit(desk)
    page = read_written_page(desk, unit_id)
    assert page is not None
    assert page.traps == "flat cable"
    assert model_of(desk, unit_id).model == "M"
    with pytest.raises(NotFound):
        model_of(desk, 999)


def test_the_past_by_hand(desk: Desk, clock: HandSetClock) -> None:
    set_trade(desk)
    units = [new_unit(desk, price, route_id=CHARGER_LEAD) for price in ("100", "120", "160")]
    for minutes, unit_id in zip((10, 20, 60), units, strict=True):
        task_id = work_on(desk, clock, unit_id, minutes)
        finish_task(desk, task_id)
    fit_part(desk, units[0], name="fan", cost_text="15", supplier="A")
    fit_part(desk, units[1], name="Fan", cost_text="12", supplier="B")
    bare = new_unit(desk, "80")
    clock.advance(minutes=60 * 24 * 4)
    sell(desk, bare, "200", channel_id=COUNTER)
    take_return(desk, bare, reason="x", refund_text="", stage_id=stage(desk, "inspected"))
    page = read_model_page(desk, "Maker", "M")
    assert (page.here, page.sold, page.returned, page.days_to_sell) == (4, 1, 1, 4)
    assert page.paid is not None
    assert (page.paid.units, page.paid.least_minor, page.paid.median_minor, page.paid.most_minor) == (
        *(4, 8_000),
        *(11_000, 16_000),
    )
    # type 7: the middle of 10, 20, 60 is 20; 80 % is 20 + 0.6 * 40
    assert page.hours == (TaskHours(page.hours[0].name, 3, 20 * MINUTE_US, 44 * MINUTE_US),)
    assert [(one.name, one.times, one.cost_minor, one.supplier) for one in page.parts] == [
        ("Fan", 2, 1_200, "B")
    ]
    assert page.fetched is not None
    assert len(page.fetched.sales) == 1


def test_what_is_an_owners_tells_nothing_of_prices(desk: Desk) -> None:
    unit_id = new_unit(desk)
    set_owner(desk, unit_id, PartyTyped("Owner", "", "o@example.org", "", private=True))
    assert read_model_page(desk, "Maker", "M").here == 0


def test_a_shared_page_is_taken_over_whole(desk: Desk, tmp_path: Path) -> None:
    edit_model_page(desk, "Maker", "M", traps="flat cable", battery="3 cells")
    add_model_step(desk, "Maker", "M", words="first")
    add_model_screw(desk, "Maker", "M", place="hinge", size="M2", count_text="2", torque_text="20 Ncm")
    shared = shared_text(read_model_page(desk, "Maker", "M"))
    (tmp_path / "page.json").write_text(shared)
    with pytest.raises(Refused, match="written on already"):
        take_shared_page(desk, str(tmp_path / "page.json"))
    add_model_step(desk, "Maker", "M", words="second")
    assert take_shared_page(desk, str(tmp_path / "page.json"), instead=True) == "Maker M"
    assert steps(desk) == ["first"]
    assert shared_text(read_model_page(desk, "Maker", "M")) == shared
    undo(desk)
    assert steps(desk) == ["first", "second"]


def test_a_file_that_is_no_page_changes_nothing(desk: Desk, tmp_path: Path) -> None:
    (tmp_path / "other.json").write_text("{}")
    (tmp_path / "large.json").write_bytes(b" " * 1_000_001)
    for path in ("", str(tmp_path / "none.json"), str(tmp_path / "other.json"), str(tmp_path / "large.json")):
        with pytest.raises(BadInput):
            take_shared_page(desk, path)
    assert read_models(desk) == ()


def test_a_page_comes_back_by_redo_unless_another_took_its_name(desk: Desk) -> None:
    edit_model_page(desk, "Maker", "Model", traps="short cable")
    made = last_line(desk)
    undo(desk, made)
    redo(desk, made)
    assert read_model_page(desk, "Maker", "Model").traps == "short cable"
    undo(desk, made)
    edit_model_page(desk, "MAKER", "model", traps="another")
    with pytest.raises(Conflict, match="stands on it"):
        redo(desk, made)


def last_line(desk: Desk) -> int:
    return read_journal(desk).lines[0].journal_id
