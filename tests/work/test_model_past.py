"""What a model's page tells of its units: faults and their cures, failed tests, returns, photographs."""

from __future__ import annotations

from pathlib import Path

import pytest

from bench.desk import Desk
from bench.domain.model_page import FoundFault, known_faults
from bench.domain.return_rate import rate_of
from bench.errors import BadInput
from bench.reports.model_page import model_page_json, model_page_text
from bench.views.faults import read_unit_faults
from bench.views.model_page import read_model_page, read_model_warnings
from bench.views.photographs import PhotographLine, read_photographs
from bench.work.comebacks import take_return
from bench.work.faults import add_fault, edit_fault, remove_fault
from bench.work.model_pages import add_model_step, remove_model_step
from bench.work.outcomes import end_test
from bench.work.photograph_erasing import erase_photograph
from bench.work.photographs import attach_photographs, point_photograph
from bench.work.specification import set_specification
from bench.work.undo import undo
from bench.work.units import add_unit
from tests.clocks import HandSetClock
from tests.pictures import jpeg
from tests.work.sale_steps import sell, stage
from tests.work.taking_back import is_taken_back
from tests.work.trade_steps import COUNTER, new_unit, set_trade


@pytest.fixture
def picture(tmp_path: Path) -> str:
    path = tmp_path / "inside.jpg"
    path.write_bytes(jpeg())
    return str(path)


def found(number: int, symptom: str, state: str, *, done: str = "", place: str = "hinge") -> FoundFault:
    return FoundFault(number, number, f"{number}", place, symptom, "", done, state, number)


def photograph(desk: Desk, unit_id: int) -> PhotographLine:
    return read_photographs(desk, unit_id).lines[0]


def test_alike_faults_are_one_told_by_the_newest_that_ended() -> None:
    faults = (
        found(1, "lid  flexes", "cured", done="hinge tightened"),
        found(2, "fan rattles", "stays", done="hums only", place="fan"),
        found(3, "Lid flexes", "cured", done="hinge set replaced"),
        found(4, "lid flexes", "open"),
    )
    lid, fan = known_faults(faults)
    assert (lid.fault_id, lid.times, lid.open, lid.cured_by) == (4, 3, 1, "hinge set replaced")
    assert lid.words == "hinge: lid flexes, 3 times (hinge set replaced)"
    assert fan.words == "fan: fan rattles (stays: hums only)"
    assert known_faults([found(5, "x", "open")])[0].cured_by == "open"


def test_faults_with_what_cured_them(desk: Desk, clock: HandSetClock) -> None:
    first, second = new_unit(desk), new_unit(desk)
    other = add_unit(desk, maker="Maker", model="M2").unit_id
    one = add_fault(desk, first, symptom="lid flexes", place="hinge")
    edit_fault(desk, one.fault_id, cause="screw lost", state="cured", done="screw put in")
    clock.advance(minutes=1)
    add_fault(desk, second, symptom="fan rattles")
    clock.advance(minutes=1)
    add_fault(desk, other, symptom="no sound")
    gone = add_fault(desk, first, symptom="seen wrongly")
    remove_fault(desk, gone.fault_id, "was none")
    page = read_model_page(desk, "MAKER", "m")
    told = [(one.place, one.symptom, one.cause, one.done, one.times) for one in page.faults]
    assert told == [
        ("fan", "fan rattles", "", "", 1),
        ("hinge", "lid flexes", "screw lost", "screw put in", 1),
    ]
    assert read_model_warnings(desk, " Maker ", "M").faults == page.faults
    assert "screw lost; screw put in" in model_page_text(page)
    assert read_model_warnings(desk, "Maker", "never seen").faults == ()


def test_tests_that_failed_by_first_attempts(desk: Desk, clock: HandSetClock) -> None:
    units = [new_unit(desk) for _ in range(3)]
    for unit_id in units:
        clock.advance(minutes=1)
        end_test(desk, unit_id, kind="soak", outcome="failed" if unit_id == units[0] else "passed")
        end_test(desk, unit_id, kind="sound", outcome="passed")
    clock.advance(minutes=1)
    end_test(desk, units[0], kind="soak", outcome="passed")
    end_test(desk, units[1], kind="soak", outcome="failed")
    end_test(desk, units[2], kind="camera", outcome="broken off")
    [soak] = read_model_page(desk, "Maker", "M").tests
    assert (soak.kind, soak.failed) == ("soak", rate_of(1, 3))


def test_returns_with_their_interval(desk: Desk) -> None:
    set_trade(desk)
    assert read_model_page(desk, "Maker", "M").returns is None
    units = [new_unit(desk, "80") for _ in range(4)]
    for unit_id in units:
        sell(desk, unit_id, "200", channel_id=COUNTER)
    take_return(desk, units[0], reason="x", refund_text="", stage_id=stage(desk, "inspected"))
    page = read_model_page(desk, "Maker", "M")
    # scipy.stats.binomtest(1, 4).proportion_ci(method="exact"): 0.0063, 0.8059; tests/published holds the sum
    assert page.returns is not None
    assert (page.returns.low_per_10000, page.returns.high_per_10000) == (63, 8059)
    assert "Came back: 25 % (95 %: 0.63 % to 80.59 %)." in page.past_words


def test_the_newest_specification_of_its_units(desk: Desk, clock: HandSetClock) -> None:
    first, second = new_unit(desk), new_unit(desk)
    set_specification(desk, second, {"memory": "8"})
    clock.advance(minutes=1)
    set_specification(desk, first, {"memory": "16", "firmware_lock": "locked"})
    page = read_model_page(desk, "Maker", "M")
    assert page.made_of == ("Memory: 16 GB",)
    assert f"Specification, by {page.specified_tag}" in model_page_text(page)
    undo(desk)
    assert read_model_page(desk, "Maker", "M").made_of == ("Memory: 8 GB",)


def test_a_photograph_stands_at_a_step_of_the_page(desk: Desk, picture: str) -> None:
    unit_id = new_unit(desk)
    step_id = add_model_step(desk, "Maker", "M", words="cover off")
    attach_photographs(desk, unit_id, [picture], caption="the latch", model_step_id=step_id)
    [shown] = read_model_page(desk, "Maker", "M").photographs
    assert (shown.step_id, shown.position, shown.caption, shown.there) == (step_id, 1, "the latch", True)
    assert "step 1" in model_page_text(read_model_page(desk, "Maker", "M"))
    assert '"the latch"' in model_page_json(read_model_page(desk, "Maker", "M"))
    remove_model_step(desk, step_id)
    [shown] = read_model_page(desk, "Maker", "M").photographs
    assert (shown.step_id, shown.position) == (None, None)
    erase_photograph(desk, shown.photograph_id)
    assert read_model_page(desk, "Maker", "M").photographs == ()


def test_what_one_shows_is_said_anew_and_undone(desk: Desk, picture: str) -> None:
    unit_id = new_unit(desk)
    attach_photographs(desk, unit_id, [picture])
    number = photograph(desk, unit_id).photograph_id
    kept = add_fault(desk, unit_id, symptom="lid flexes")
    is_taken_back(desk, lambda: point_photograph(desk, number, fault_id=kept.fault_id))
    line = photograph(desk, unit_id)
    assert (line.fault_id, line.fault, line.model) == (kept.fault_id, "lid flexes", False)
    assert read_unit_faults(desk, unit_id).faults[0].photographs == 1
    is_taken_back(desk, lambda: point_photograph(desk, number, model=True))
    line = photograph(desk, unit_id)
    assert (line.fault_id, line.model) == (kept.fault_id, True)
    point_photograph(desk, number, model=False, fault_id=None)
    line = photograph(desk, unit_id)
    assert (line.fault_id, line.model) == (None, False)


def test_what_is_anothers_is_refused(desk: Desk, picture: str) -> None:
    unit_id, other = new_unit(desk), add_unit(desk, maker="Maker", model="M2").unit_id
    fault_id = add_fault(desk, other, symptom="lid flexes").fault_id
    step_id = add_model_step(desk, "Maker", "M2", words="cover off")
    for subject in ({"fault_id": fault_id}, {"model_step_id": step_id}):
        with pytest.raises(BadInput, match="another"):
            attach_photographs(desk, unit_id, [picture], **subject)
    assert read_photographs(desk, unit_id).lines == ()
    assert read_model_page(desk, "Maker", "M").page_id is None


def test_a_fault_taken_off_lets_go_of_its_photographs(desk: Desk, picture: str) -> None:
    unit_id = new_unit(desk)
    kept = add_fault(desk, unit_id, symptom="lid flexes")
    attach_photographs(desk, unit_id, [picture], fault_id=kept.fault_id)
    remove_fault(desk, kept.fault_id, "was none")
    line = photograph(desk, unit_id)
    assert (line.fault_id, line.fault) == (None, "")
    undo(desk)
    assert photograph(desk, unit_id).fault_id == kept.fault_id
