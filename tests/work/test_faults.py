"""Faults of a unit: a line of text is enough, the rest may come later; what belongs to one; undo."""

from __future__ import annotations

import pytest

from bench.desk import Desk
from bench.errors import BadInput, Conflict, NotFound, Refused
from bench.reports.buyer_sheet import buyer_html, buyer_json, buyer_text
from bench.reports.listing import listing_text
from bench.views.buyer_sheet import read_buyer_sheet
from bench.views.fault_costs import read_fault, read_fault_report
from bench.views.faults import FaultLine, read_faults, read_unit_faults
from bench.views.listing import read_listing
from bench.views.orders import read_order
from bench.views.parts import read_shelf
from bench.views.unit import read_unit
from bench.work.arrivals import complain, refund_order, send_back, take_in
from bench.work.check import check_file
from bench.work.comebacks import take_return
from bench.work.faults import add_fault, edit_fault, point_to_fault, remove_fault
from bench.work.orders import order_part
from bench.work.parts import fit_from_shelf, fit_part, take_part
from bench.work.shop import edit_shop
from bench.work.tasks import add_task
from bench.work.timers import finish_task, start_task, stop_person
from bench.work.undo import undo
from bench.work.units import add_unit
from tests.clocks import HandSetClock
from tests.work.sale_steps import MARKET, sell, stage, stocked, trading
from tests.work.taking_back import changes_nothing, is_taken_back


@pytest.fixture
def unit_id(desk: Desk) -> int:
    return add_unit(desk, maker="Invented", model="One", route_id=1, price_text="100").unit_id


def the_fault(desk: Desk, unit_id: int) -> FaultLine:
    return read_unit_faults(desk, unit_id).faults[0]


def test_a_line_of_text_is_enough(desk: Desk, unit_id: int) -> None:
    kept = is_taken_back_with_a_reason(desk, lambda: add_fault(desk, unit_id, symptom="the fan rattles"))
    fault = the_fault(desk, unit_id)
    assert (fault.fault_id, fault.place, fault.origin, fault.state) == (
        kept.fault_id,
        "fan",
        "unknown",
        "open",
    )
    assert (fault.person, fault.stage, fault.task) == ("Ada", "received", "")
    assert read_unit(desk, unit_id).faults == (fault,)
    assert [one.fault_id for one in read_faults(desk).faults] == [kept.fault_id]


def is_taken_back_with_a_reason(desk: Desk, act):  # type: ignore[no-untyped-def]
    from tests.work.taking_back import kept

    before = kept(desk)
    act()
    with pytest.raises(BadInput, match="reason"):
        undo(desk)
    undo(desk, reason="it was none")
    assert kept(desk) == before
    return act()


def test_it_was_found_at_the_task_that_its_finder_is_at(desk: Desk, unit_id: int) -> None:
    task = read_unit(desk, unit_id).tasks[0]
    start_task(desk, task.task_id)
    add_fault(desk, unit_id, symptom="hinge loose")
    assert the_fault(desk, unit_id).task == task.name


@pytest.mark.parametrize(
    ("wrong", "match"),
    [
        ({"symptom": "  "}, "What is seen is empty"),
        ({"symptom": "a\nb"}, "more than one line"),
        ({"place": "wheel"}, "no part of a laptop"),
        ({"origin": "nobody"}, "no origin"),
        ({"suspected": "x" * 500}, "characters"),
    ],
)
def test_what_cannot_be_is_refused(desk: Desk, unit_id: int, wrong: dict[str, str], match: str) -> None:
    typed = {"symptom": "dark", **wrong}
    changes_nothing(desk, lambda: add_fault(desk, unit_id, **typed), BadInput, match)  # type: ignore[arg-type]


def test_there_must_be_a_unit_and_the_task_be_its_own(desk: Desk, unit_id: int) -> None:
    other = add_unit(desk, maker="Invented", model="Two", route_id=1).unit_id
    changes_nothing(desk, lambda: add_fault(desk, 99, symptom="dark"), NotFound, "no unit")
    task_id = read_unit(desk, other).tasks[0].task_id
    refused = lambda: add_fault(desk, unit_id, symptom="dark", task_id=task_id)  # noqa: E731
    changes_nothing(desk, refused, Refused, "not of unit")


def test_the_rest_is_said_later(desk: Desk, unit_id: int) -> None:
    fault_id = add_fault(desk, unit_id, symptom="no picture").fault_id
    is_taken_back(
        desk,
        lambda: edit_fault(
            desk, fault_id, place="display", origin="ours", suspected="cable", cause="cable torn at the hinge"
        ),
    )
    fault = the_fault(desk, unit_id)
    assert (fault.place, fault.whose, fault.suspected) == ("display", "our own slip", "cable")
    assert fault.cause == "cable torn at the hinge"
    assert fault.symptom == "no picture"


def test_what_becomes_of_it_is_told(desk: Desk, unit_id: int) -> None:
    fault_id = add_fault(desk, unit_id, symptom="mark on the lid").fault_id
    changes_nothing(desk, lambda: edit_fault(desk, fault_id, state="stays"), BadInput, "Why it stays")
    changes_nothing(desk, lambda: edit_fault(desk, fault_id, state="cured"), BadInput, "What cured it")
    is_taken_back(desk, lambda: edit_fault(desk, fault_id, state="stays", done="looks only"))
    assert read_faults(desk).faults == ()
    assert [one.state for one in read_faults(desk, closed=True).faults] == ["stays"]
    edit_fault(desk, fault_id, state="cured", done="lid replaced")
    fault = the_fault(desk, unit_id)
    assert (fault.state, fault.done, fault.closed_by) == ("cured", "lid replaced", "Ada")
    edit_fault(desk, fault_id, state="open")
    assert the_fault(desk, unit_id).closed_us is None
    assert check_file(desk.store).sound


def test_a_buyer_is_told_every_one_that_is_open_or_stays(desk: Desk, unit_id: int) -> None:
    add_fault(desk, unit_id, symptom="fan <b>rattles</b>")
    stays = add_fault(desk, unit_id, symptom="mark on the lid").fault_id
    edit_fault(desk, stays, state="stays", done="looks only")
    cured = add_fault(desk, unit_id, symptom="dead key").fault_id
    edit_fault(desk, cured, state="cured", done="keyboard replaced")
    sheet = read_buyer_sheet(desk, unit_id)
    told = ("Fan: fan <b>rattles</b> (not repaired)", "Lid: mark on the lid (stays as it is: looks only)")
    assert sheet.known_faults == told
    assert read_listing(desk, unit_id).faults[:2] == told
    for text in (buyer_text(sheet), listing_text(read_listing(desk, unit_id))):
        assert all(one in text for one in told)
        assert "dead key" not in text
    assert "fan &lt;b&gt;rattles" in buyer_html(sheet)
    assert "mark on the lid" in buyer_json(sheet)


def test_hours_parts_and_returns_belong_to_it(desk: Desk, unit_id: int, clock: HandSetClock) -> None:
    edit_shop(
        desk,
        name="Shop",
        currency="EUR",
        zone="Europe/Berlin",
        rate_text="30",
        forgotten_times_text="3",
        forgotten_least_text="120",
    )
    fault_id = add_fault(desk, unit_id, symptom="fan lead torn", origin="ours").fault_id
    task_id = add_task(
        desk,
        unit_id,
        name="new fan",
        stage_id=stage(desk, "received"),
        estimate_text="20",
        unattended=False,
        lid_off=False,
        fault_id=fault_id,
    )
    start_task(desk, task_id)
    clock.advance(minutes=40)
    finish_task(desk, task_id)
    other = read_unit(desk, unit_id).tasks[0].task_id
    entry = start_task(desk, other).entry_id
    clock.advance(minutes=20)
    stop_person(desk)
    part = fit_part(desk, unit_id, name="fan", cost_text="12.50")
    fit_part(desk, unit_id, name="lid", cost_text="99")
    is_taken_back(desk, lambda: point_to_fault(desk, fault_id, part_id=part.part_id))
    is_taken_back(desk, lambda: point_to_fault(desk, fault_id, entry_id=entry))
    sheet = read_fault(desk, fault_id)
    assert sheet.cost.hours_us == 60 * 60_000_000
    assert (sheet.cost.parts_minor, sheet.cost.returns) == (1250, 0)
    assert sheet.cost_minor == 1250 + 3000
    assert {(one.what, one.words) for one in sheet.rows} == {
        ("task", "new fan"),
        ("time", "look over and note faults, Ada"),
        ("part", "fan"),
    }
    point_to_fault(desk, fault_id, entry_id=entry, off=True)
    assert read_fault(desk, fault_id).cost.hours_us == 40 * 60_000_000


def test_a_return_belongs_to_it_and_the_report_adds_up(desk: Desk) -> None:
    unit_id, other_id = stocked(desk), stocked(desk, tag_text="10022")
    sell(desk, unit_id, "500")
    fault_id = add_fault(desk, unit_id, symptom="hinge broken", origin="part").fault_id
    back = take_return(
        desk,
        unit_id,
        reason="hinge",
        refund_text="40",
        postage_text="7",
        stage_id=stage(desk, "received"),
    )
    point_to_fault(desk, fault_id, comeback_id=back.comeback_id)
    add_fault(desk, other_id, symptom="fan loud")
    for by, names in (
        ("place", ["hinge", "fan"]),
        ("model", ["Maker Model"]),
        ("origin", ["a bought part", "not known"]),
    ):
        report = read_fault_report(desk, by)
        assert [one.name for one in report.groups] == names
        assert report.total.returned_minor == 4700 == sum(one.returned_minor for one in report.groups)
        assert (report.total.faults, report.total.open, report.total.returns) == (2, 2, 1)
    assert [one.cost_minor for one in read_fault_report(desk, "fault").groups] == [4700, 0]
    with pytest.raises(BadInput, match="not summed by"):
        read_fault_report(desk, "weather")


def test_a_part_out_of_another_unit_counts_for_the_unit_with_the_fault(desk: Desk, unit_id: int) -> None:
    donor_id = add_unit(desk, maker="Invented", model="Donor", price_text="50").unit_id
    fault_id = add_fault(desk, unit_id, symptom="fan loud").fault_id
    part = take_part(desk, donor_id, name="fan", cost_text="8", to_unit_id=unit_id)
    point_to_fault(desk, fault_id, part_id=part.part_id)
    assert read_fault(desk, fault_id).cost.parts_minor == 800


def test_a_wrong_part_and_its_freight_count_for_the_fault_that_it_was_ordered_for(
    desk: Desk, unit_id: int
) -> None:
    """Paid 12 and 3 for the wrong one, 12 back; 14 and 3 for the right one: 15 - 12 + 17 = 20.00."""
    fault_id = add_fault(desk, unit_id, symptom="fan lead torn").fault_id
    paid = {"supplier": "Invented Parts", "freight_text": "3"}
    wrong = is_taken_back(
        desk, lambda: order_part(desk, unit_id, what="fan", price_text="12", fault_id=fault_id, **paid)
    )
    assert (wrong.fault_id, read_order(desk, wrong.order_id).fault) == (fault_id, "fan lead torn")
    take_in(desk, wrong.order_id)
    assert read_fault(desk, fault_id).cost.parts_minor == 0  # on the shelf it is no unit's yet
    complain(desk, wrong.order_id, found="wrong", owed_text="12")
    send_back(desk, wrong.order_id)
    assert read_fault(desk, fault_id).cost.parts_minor == 1500
    is_taken_back(desk, lambda: refund_order(desk, wrong.order_id, refund_text="12"))
    assert read_fault(desk, fault_id).cost.parts_minor == 300
    right = order_part(desk, unit_id, what="fan", price_text="14", instead_of_id=wrong.order_id, **paid)
    assert right.fault_id == fault_id  # it comes in the place of one that was for it
    take_in(desk, right.order_id)
    is_taken_back(desk, lambda: fit_from_shelf(desk, read_shelf(desk).lines[0].part_id, unit_id))
    sheet = read_fault(desk, fault_id)
    assert sheet.cost.parts_minor == 2000 == read_fault_report(desk, "fault").total.parts_minor
    assert {(one.what, one.words): one.amount_minor for one in sheet.rows} == {
        ("order", "fan, refunded"): 300,
        ("order", "fan, arrived"): None,
        ("part", "fan"): 1700,
    }
    assert check_file(desk.store).sound


def test_an_order_is_said_to_be_for_a_fault_afterwards_and_its_part_goes_along(
    desk: Desk, unit_id: int
) -> None:
    fault_id = add_fault(desk, unit_id, symptom="fan loud").fault_id
    order = order_part(desk, unit_id, what="fan", price_text="14")
    take_in(desk, order.order_id)
    fit_from_shelf(desk, read_shelf(desk).lines[0].part_id, unit_id)
    is_taken_back(desk, lambda: point_to_fault(desk, fault_id, order_id=order.order_id))
    assert read_fault(desk, fault_id).cost.parts_minor == 1400
    is_taken_back(desk, lambda: point_to_fault(desk, fault_id, order_id=order.order_id, off=True))
    assert read_fault(desk, fault_id).cost.parts_minor == 0
    point_to_fault(desk, fault_id, order_id=order.order_id)
    is_taken_back(desk, lambda: remove_fault(desk, fault_id, "it was the table"))
    assert read_order(desk, order.order_id).fault_id is None


def test_an_order_is_for_a_fault_of_its_own_unit_and_holds_the_fault(desk: Desk, unit_id: int) -> None:
    other = add_unit(desk, maker="Invented", model="Two", route_id=1).unit_id
    fault_id = add_fault(desk, unit_id, symptom="dark").fault_id
    with desk.store.read() as connection:
        line = connection.execute("SELECT MAX(id) FROM journal").fetchone()[0]
    for unit in (other, None):
        changes_nothing(
            desk,
            lambda unit=unit: order_part(desk, unit, what="panel", fault_id=fault_id),
            Refused,
            "not of the unit",
        )
    theirs = order_part(desk, other, what="panel").order_id
    changes_nothing(desk, lambda: point_to_fault(desk, fault_id, order_id=theirs), Refused, "not of unit")
    order_part(desk, unit_id, what="panel", fault_id=fault_id, wanted=True)
    changes_nothing(desk, lambda: undo(desk, line, reason="none"), Conflict, "panel")


def test_what_is_anothers_does_not_belong_to_it(desk: Desk, unit_id: int) -> None:
    other = add_unit(desk, maker="Invented", model="Two", route_id=1).unit_id
    fault_id = add_fault(desk, unit_id, symptom="dark").fault_id
    task_id = read_unit(desk, other).tasks[0].task_id
    changes_nothing(desk, lambda: point_to_fault(desk, fault_id, task_id=task_id), Refused, "not of unit")
    changes_nothing(desk, lambda: point_to_fault(desk, fault_id), BadInput, "not said")
    changes_nothing(desk, lambda: point_to_fault(desk, fault_id, part_id=99), NotFound, "no part")
    changes_nothing(desk, lambda: point_to_fault(desk, 99, task_id=task_id), NotFound, "no fault")


def test_one_that_was_none_is_taken_off_with_a_reason(desk: Desk, unit_id: int) -> None:
    fault_id = add_fault(desk, unit_id, symptom="dark").fault_id
    task_id = read_unit(desk, unit_id).tasks[0].task_id
    point_to_fault(desk, fault_id, task_id=task_id)
    changes_nothing(desk, lambda: remove_fault(desk, fault_id, " "), BadInput, "reason")
    is_taken_back(desk, lambda: remove_fault(desk, fault_id, "the lamp was off"))
    assert read_unit_faults(desk, unit_id).faults == ()
    with pytest.raises(NotFound, match="no fault"):
        read_fault(desk, fault_id)
    assert check_file(desk.store).sound


def test_undoing_it_is_refused_while_something_points_to_it(desk: Desk, unit_id: int) -> None:
    add_fault(desk, unit_id, symptom="dark")
    with desk.store.read() as connection:
        line = connection.execute("SELECT MAX(id) FROM journal").fetchone()[0]
    fault_id = the_fault(desk, unit_id).fault_id
    point_to_fault(desk, fault_id, task_id=read_unit(desk, unit_id).tasks[0].task_id)
    changes_nothing(desk, lambda: undo(desk, line, reason="none"), Conflict, "belongs to")


def test_it_can_be_recorded_of_a_unit_that_has_left(desk: Desk) -> None:
    unit_id = stocked(desk)
    sell(desk, unit_id)
    add_fault(desk, unit_id, symptom="buyer writes: hinge broken")
    assert the_fault(desk, unit_id).place == "hinge"


def test_a_return_that_undid_its_sale_cost_the_fees_and_not_the_price(desk: Desk) -> None:
    trading(desk)
    unit_id = stocked(desk)
    sell(desk, unit_id, "500", channel_id=MARKET, shipping_text="6")
    fault_id = add_fault(desk, unit_id, symptom="dark").fault_id
    back = take_return(
        desk,
        unit_id,
        reason="dark",
        refund_text="500",
        fee_back_text="20.50",
        postage_text="7",
        stage_id=stage(desk, "received"),
    )
    point_to_fault(desk, fault_id, comeback_id=back.comeback_id)
    # 10 % and 0.50 in fees, of which 20.50 came back; 6.00 to the buyer, 7.00 back.
    assert read_fault(desk, fault_id).cost.returned_minor == 5050 - 2050 + 600 + 700
