"""Parts with a life: ordered, arrived, wrong, sent back, refunded; what waits for them; money to the cent."""

from __future__ import annotations

import pytest

from bench.desk import Desk
from bench.errors import BadInput, Conflict, KnownAlready, PartAwaited, Refused
from bench.views.months import read_month
from bench.views.next_up import read_ranking
from bench.views.orders import read_order, read_orders, read_orders_of
from bench.views.parts import read_parts, read_shelf
from bench.views.queue import read_queue
from bench.views.stock import read_history
from bench.views.suppliers import read_suppliers
from bench.views.unit import read_unit
from bench.views.unit_money import read_unit_money
from bench.work.arrivals import complain, refund_order, send_back, take_in
from bench.work.components import place_part, scrap_part, sell_part
from bench.work.orders import cancel_order, edit_order, order_consumable, order_part, wait_for
from bench.work.parts import fit_from_shelf, fit_part, take_part
from bench.work.stock import restock
from bench.work.tasks import add_task
from bench.work.timers import finish_task, start_task, stop_person
from bench.work.undo import redo, undo
from bench.work.units import add_unit
from tests.clocks import HandSetClock
from tests.work.taking_back import changes_nothing, is_taken_back
from tests.work.trade_steps import last_summary, new_unit


@pytest.fixture
def unit_id(desk: Desk) -> int:
    """Unit 10014, bought for 80.00."""
    return new_unit(desk, "80")


def spent(desk: Desk, unit_id: int) -> int:
    return read_unit_money(desk, unit_id).cost_so_far_minor


def tied_up(desk: Desk) -> dict[str, int]:
    return {line.name: line.cost_so_far_minor for line in read_month(desk).tied_up}


def beside(desk: Desk) -> dict[str, int | None]:
    """The month's lines beside the margins of units sold."""
    return {line.words: line.amount_minor for line in read_month(desk).unsold}


def arrived(desk: Desk, unit_id: int | None, what: str = "fan", price: str = "20") -> tuple[int, int]:
    """An order that arrived, and the move of its part onto the shelf."""
    order = order_part(
        desk, unit_id, what=what, price_text=price, freight_text="4.50", supplier="Invented Parts"
    )
    take_in(desk, order.order_id)
    [line] = [one for one in read_shelf(desk).lines if one.name == what]
    return order.order_id, line.part_id


def test_an_order_goes_from_wanted_to_the_shelf_and_into_its_unit(desk: Desk, unit_id: int) -> None:
    order = is_taken_back(
        desk, lambda: order_part(desk, unit_id, what="fan", maker_number="F-12", wanted=True)
    )
    assert (order.state, order.tag, order.price_minor, order.tasks) == ("wanted", "10014", None, ())
    assert last_summary(desk) == "Wants fan for 10014"
    number = order.order_id
    particulars = {"price_text": "20", "freight_text": "4.50", "ordered_text": "", "note": ""}
    ordered = is_taken_back(
        desk, lambda: edit_order(desk, number, supplier="Invented Parts", due_text="+3", **particulars)
    )
    assert (ordered.state, ordered.price_minor, ordered.freight_minor) == ("ordered", 2_000, 450)
    came = is_taken_back(desk, lambda: take_in(desk, number, serial="S-1", place="drawer 3"))
    assert (came.state, came.component_id is not None) == ("arrived", True)
    [line] = read_shelf(desk).lines
    assert (line.name, line.maker_number, line.serial, line.place, line.supplier, line.cost_minor) == (
        "fan",
        "F-12",
        "S-1",
        "drawer 3",
        "Invented Parts",
        2_450,
    )
    assert spent(desk, unit_id) == 8_000, "on the shelf it is the shop's"
    assert tied_up(desk)["parts on the shelf"] == 2_450
    is_taken_back(desk, lambda: fit_from_shelf(desk, line.part_id, unit_id))
    assert spent(desk, unit_id) == 10_450
    assert read_order(desk, number).standing == "fitted in 10014"
    changes_nothing(desk, lambda: take_in(desk, number), Refused, "fan is arrived: it cannot be arrived")


def test_what_is_typed_of_an_order_is_looked_at(desk: Desk, unit_id: int) -> None:
    changes_nothing(desk, lambda: order_part(desk, unit_id, what=" "), BadInput, "The part")
    late = {"what": "fan", "ordered_text": "today", "due_text": "2020-01-01"}
    changes_nothing(desk, lambda: order_part(desk, unit_id, **late), BadInput, "due before it was ordered")
    changes_nothing(
        desk,
        lambda: order_part(desk, unit_id, what="fan", ordered_text="tomorrow"),
        BadInput,
        "was ordered is",
    )
    number = order_part(desk, unit_id, what="fan").order_id
    changes_nothing(desk, lambda: take_in(desk, number), BadInput, "The price of fan is empty")
    changes_nothing(
        desk, lambda: take_in(desk, number, price_text="1", found="odd"), BadInput, "wrong or broken"
    )
    changes_nothing(desk, lambda: complain(desk, number, found="wrong"), Refused, "not here as a part")
    changes_nothing(desk, lambda: send_back(desk, number), Refused, "it cannot be sent back")
    changes_nothing(desk, lambda: cancel_order(desk, number, reason=" "), BadInput, "reason")
    is_taken_back(desk, lambda: cancel_order(desk, number, reason="found one in the drawer"))
    changes_nothing(desk, lambda: take_in(desk, number, price_text="1"), Refused, "is cancelled")
    assert read_orders(desk).lines == ()
    assert [one.state for one in read_orders(desk, settled=True).lines] == ["cancelled"]


def test_a_unit_waits_only_in_the_tasks_that_need_the_part(desk: Desk) -> None:
    unit_id = add_unit(desk, maker="Maker", model="One", route_id=1).unit_id
    at_first = read_unit(desk, unit_id).stage_id
    typed = {"stage_id": at_first, "estimate_text": "5", "unattended": False, "lid_off": False}
    for name in ("look at the fan", "listen to it"):
        add_task(desk, unit_id, name=name, **typed)
    tasks = [task for task in read_unit(desk, unit_id).tasks if task.stage_id == at_first]
    first, second, third = tasks[0], tasks[1], tasks[-1]
    fan = order_part(desk, unit_id, what="fan", task_ids=[first.task_id], due_text="+2")
    lead = order_part(desk, unit_id, what="fan lead", task_ids=[first.task_id, third.task_id])
    assert (fan.tasks, lead.tasks) == ((first.name,), (first.name, third.name))
    row = read_queue(desk).row(unit_id)
    assert row is not None
    assert (row.next_task_id, row.awaits) == (second.task_id, ("fan", "fan lead")), "the others go on"
    awaits = {task.task_id: task.awaits for task in read_unit(desk, unit_id).tasks}
    assert (awaits[first.task_id], awaits[second.task_id]) == (("fan", "fan lead"), ())
    changes_nothing(
        desk,
        lambda: start_task(desk, first.task_id),
        PartAwaited,
        r"waits for fan \(ordered, due .*\); fan lead",
    )
    changes_nothing(desk, lambda: finish_task(desk, first.task_id), PartAwaited, "waits for fan")
    start_task(desk, second.task_id)
    take_in(desk, fan.order_id, price_text="9")
    changes_nothing(
        desk, lambda: start_task(desk, first.task_id), PartAwaited, r"waits for fan lead \(ordered\)"
    )
    is_taken_back(desk, lambda: start_task(desk, first.task_id, anyway="looked at the bearing alone"))
    stop_person(desk)
    start_task(desk, first.task_id)
    stop_person(desk)
    changes_nothing(desk, lambda: start_task(desk, third.task_id), PartAwaited, "fan lead")
    is_taken_back(desk, lambda: wait_for(desk, third.task_id, lead.order_id, waits=False))
    start_task(desk, third.task_id)
    row = read_queue(desk).row(unit_id)
    assert row is not None
    assert row.awaits == ()


def test_a_wait_is_for_a_task_of_the_same_unit_that_is_still_to_do(desk: Desk, unit_id: int) -> None:
    other = add_unit(desk, maker="Maker", model="One", route_id=1).unit_id
    task = read_unit(desk, other).tasks[0]
    number = order_part(desk, unit_id, what="fan").order_id
    changes_nothing(desk, lambda: wait_for(desk, task.task_id, number), Refused, "of another unit")
    finish_task(desk, task.task_id)
    of_it = order_part(desk, other, what="fan").order_id
    changes_nothing(desk, lambda: wait_for(desk, task.task_id, of_it), Refused, "is done already")
    changes_nothing(desk, lambda: wait_for(desk, task.task_id, of_it, waits=False), Refused, "does not wait")


def test_another_order_comes_in_the_place_of_a_wrong_part(desk: Desk) -> None:
    unit_id = add_unit(desk, maker="Maker", model="One", route_id=1).unit_id
    task = read_unit(desk, unit_id).tasks[0]
    first = order_part(desk, unit_id, what="fan", price_text="20", task_ids=[task.task_id])
    changes_nothing(
        desk,
        lambda: order_part(desk, unit_id, what="fan", instead_of_id=first.order_id),
        Refused,
        "nothing comes in its place",
    )
    wrong = take_in(desk, first.order_id, found="wrong", note="for the model before")
    assert (wrong.state, wrong.owed_minor, wrong.tasks) == ("wrong", 2_000, (task.name,))
    changes_nothing(desk, lambda: start_task(desk, task.task_id), PartAwaited, r"fan \(wrong\)")
    second = is_taken_back(
        desk, lambda: order_part(desk, unit_id, what="fan", price_text="22", instead_of_id=first.order_id)
    )
    assert (second.tasks, read_order(desk, first.order_id).tasks) == ((task.name,), ())
    take_in(desk, second.order_id)
    start_task(desk, task.task_id)


def test_the_cost_of_a_wrong_part_stands_on_its_unit_until_it_is_refunded(desk: Desk, unit_id: int) -> None:
    number, _ = arrived(desk, unit_id)
    is_taken_back(desk, lambda: complain(desk, number, found="wrong", note="another lead"))
    assert (spent(desk, unit_id), tied_up(desk)["parts on the shelf"]) == (8_000, 2_450)
    assert read_orders(desk).owed_minor == 2_450
    is_taken_back(desk, lambda: send_back(desk, number))
    assert spent(desk, unit_id) == 10_450
    assert "parts on the shelf" not in tied_up(desk)
    back = is_taken_back(desk, lambda: refund_order(desk, number, refund_text="20"))
    assert (back.refund_minor, back.owed_minor) == (2_000, 0)
    money = read_unit_money(desk, unit_id)
    assert money.cost_so_far_minor == 8_450, "what did not come back was lost on the unit: the freight"
    told = {line.words: line.amount_minor for line in money.cost_so_far}
    assert (told["parts paid for and gone"], told["refunds of parts"]) == (2_450, -2_000)
    changes_nothing(desk, lambda: refund_order(desk, number, refund_text="1"), Refused, "is refunded")


def test_the_cost_of_a_wrong_part_of_no_unit_is_the_shops(desk: Desk) -> None:
    number, _ = arrived(desk, None)
    complain(desk, number, found="broken")
    send_back(desk, number)
    assert tied_up(desk)["parts sent back, refund awaited"] == 2_450
    assert beside(desk) == {}
    is_taken_back(desk, lambda: refund_order(desk, number, refund_text="20"))
    assert "parts sent back, refund awaited" not in tied_up(desk)
    assert beside(desk) == {"the shop's own parts: refunds less cost": -450}


def test_a_refund_is_credited_where_the_part_is(desk: Desk, unit_id: int) -> None:
    """The supplier gives something back and the part stays: fitted, the unit gains; on the shelf the shop."""
    fitted, part_id = arrived(desk, unit_id)
    fit_from_shelf(desk, part_id, unit_id)
    complain(desk, fitted, found="wrong", owed_text="5", note="another colour")
    changes_nothing(desk, lambda: send_back(desk, fitted), Refused, "it is in 10014")
    refund_order(desk, fitted, refund_text="5")
    assert spent(desk, unit_id) == 8_000 + 2_450 - 500
    lies, _ = arrived(desk, unit_id, "lid")
    complain(desk, lies, found="wrong")
    refund_order(desk, lies, refund_text="6")
    assert spent(desk, unit_id) == 8_000 + 2_450 - 500
    assert tied_up(desk)["parts on the shelf"] == 2_450
    assert beside(desk) == {"the shop's own parts: refunds less cost": 600}


def test_a_part_is_in_one_place(desk: Desk, unit_id: int) -> None:
    other = new_unit(desk, "50")
    _, part_id = arrived(desk, unit_id)
    fit_from_shelf(desk, part_id, unit_id)
    changes_nothing(desk, lambda: fit_from_shelf(desk, part_id, other), Refused, "does not lie on the shelf")
    out = take_part(desk, unit_id, name="Fan", cost_text="24.50")
    [on_shelf] = read_shelf(desk).lines
    went = read_parts(desk, unit_id)
    assert [line.component_id for line in went.lines] == [on_shelf.component_id] * 2, "it is the same part"
    assert went.in_it == ()
    changes_nothing(desk, lambda: undo_of_fitting(desk), Conflict, "stands on it")
    fit_from_shelf(desk, out.part_id, other)
    assert [line.part_id for line in read_parts(desk, other).in_it] == [out.part_id]
    assert (spent(desk, unit_id), spent(desk, other)) == (8_000, 7_450)


def undo_of_fitting(desk: Desk) -> object:
    with desk.store.read() as connection:
        text = "SELECT MAX(id) FROM journal WHERE action = 'fit part'"
        number = connection.execute(text).fetchone()[0]
    return undo(desk, number)


def test_a_units_own_part_comes_out_once(desk: Desk, unit_id: int) -> None:
    take_part(desk, unit_id, name="battery", cost_text="1")
    changes_nothing(
        desk, lambda: take_part(desk, unit_id, name="Battery", cost_text="1"), KnownAlready, "is out already"
    )
    is_taken_back(
        desk, lambda: take_part(desk, unit_id, name="battery", cost_text="1", again="the machine has two")
    )
    fit_part(desk, unit_id, name="battery", cost_text="30")
    take_part(desk, unit_id, name="battery", cost_text="30")
    assert len({line.component_id for line in read_shelf(desk).lines}) == 3


def test_parts_leave_the_shop_off_the_shelf(desk: Desk, unit_id: int) -> None:
    take_part(desk, unit_id, name="screen", cost_text="30")
    take_part(desk, unit_id, name="lid", cost_text="5")
    screen, lid = (line.component_id for line in read_shelf(desk).lines)
    is_taken_back(desk, lambda: place_part(desk, screen, place="rack 2", maker_number="SC-9"))
    assert [(line.place, line.maker_number) for line in read_shelf(desk).lines] == [
        ("rack 2", "SC-9"),
        ("", ""),
    ]
    sold = is_taken_back(desk, lambda: sell_part(desk, screen, price_text="42"))
    assert (sold.cost_minor, sold.price_minor) == (3_000, 4_200)
    is_taken_back(desk, lambda: scrap_part(desk, lid, reason="cracked"))
    assert read_shelf(desk).lines == ()
    assert beside(desk) == {
        "parts sold off the shelf, less their cost": 1_200,
        "parts scrapped off the shelf": -500,
    }
    assert spent(desk, unit_id) == 4_500
    changes_nothing(desk, lambda: scrap_part(desk, screen, reason="x"), Refused, "is sold already")
    fitted = fit_part(desk, unit_id, name="fan", cost_text="3").part_id
    number = read_parts(desk, unit_id).lines[-1].component_id
    assert read_parts(desk, unit_id).lines[-1].part_id == fitted
    changes_nothing(desk, lambda: sell_part(desk, number, price_text="9"), Refused, "it is in 10014")


def test_consumables_on_order_count_for_the_days_of_cover(desk: Desk) -> None:
    restock(desk, 1, quantity_text="300", price_text="9")
    before = read_history(desk, 1).line
    order = is_taken_back(
        desk,
        lambda: order_consumable(
            desk, 1, quantity_text="500", price_text="12", freight_text="3", due_text="+4"
        ),
    )
    line = read_history(desk, 1).line
    assert (line.on_hand, line.on_order) == (before.on_hand, 500_000)
    assert line.order_due is not None
    assert [one.quantity for one in read_orders(desk).lines] == [500_000]
    changes_nothing(desk, lambda: take_in(desk, order.order_id, found="broken"), Refused, "is not booked in")
    take_in(desk, order.order_id)
    undo(desk)
    line = read_history(desk, 1).line
    assert (line.on_hand, line.on_order) == (before.on_hand, 500_000), "undone, it is still to come"
    redo(desk)
    line = read_history(desk, 1).line
    assert (line.on_hand, line.on_order) == (before.on_hand + 500_000, 0)
    assert line.value_minor == before.value_minor + 1_500, "price and freight"
    assert read_shelf(desk).lines == ()


def test_what_is_due_today_and_what_is_late_is_said(desk: Desk, unit_id: int, clock: HandSetClock) -> None:
    order_part(desk, unit_id, what="fan", due_text="today")
    order_part(desk, unit_id, what="lid", due_text="+1")
    order_part(desk, unit_id, what="hinge", due_text="+5")
    order_part(desk, unit_id, what="screw set", wanted=True, due_text="today")
    due = read_queue(desk).due
    assert (due.due_today, due.late) == (1, 0)
    clock.advance(minutes=24 * 60)
    book = read_orders(desk)
    assert (book.due_today, book.late) == (1, 1)
    assert [(one.what, one.late_days) for one in book.lines][:3] == [("fan", 1), ("screw set", 0), ("lid", 0)]
    assert len(read_orders_of(desk, unit_id).lines) == 4


def test_a_supplier_is_known_by_its_orders(desk: Desk, unit_id: int, clock: HandSetClock) -> None:
    numbers = [
        order_part(desk, unit_id, what=what, supplier=supplier, price_text="10", due_text=due).order_id
        for what, supplier, due in (
            ("fan", "Invented Parts", "+2"),
            ("lid", "invented parts ", "+2"),
            ("hinge", "Invented Parts", ""),
            ("lead", "Another", "+9"),
        )
    ]
    clock.advance(minutes=5 * 24 * 60)
    take_in(desk, numbers[0])
    take_in(desk, numbers[2], found="wrong")
    cancel_order(desk, order_part(desk, unit_id, what="x", supplier="Another").order_id, reason="none")
    lines = {line.supplier: line for line in read_suppliers(desk).lines}
    one = lines["Invented Parts"]
    assert (one.orders, one.arrived, one.dated, one.late, one.late_days, one.faulty) == (3, 2, 2, 2, 6, 1)
    assert (one.spent_minor, one.refunded_minor, one.owed_minor) == (2_000, 0, 1_000)
    assert (lines["Another"].orders, lines["Another"].dated, lines["Another"].late) == (1, 0, 0)
    assert read_suppliers(desk).owed_minor == 1_000


def test_what_next_tells_what_is_due_and_leaves_aside_what_can_only_wait(desk: Desk) -> None:
    unit_id = add_unit(desk, maker="Maker", model="One", route_id=1).unit_id
    tasks = [task.task_id for task in read_unit(desk, unit_id).tasks]
    order_part(desk, unit_id, what="fan", due_text="today", task_ids=tasks[1:])
    ranked = read_ranking(desk)
    assert (ranked.parts_due, ranked.parts_late) == (1, 0)
    assert [line.next_task for line in ranked.lines] == [read_unit(desk, unit_id).tasks[0].name]
    wait_for(desk, tasks[0], 1)
    ranked = read_ranking(desk)
    assert ranked.lines == ()
    assert [line.why for line in ranked.waiting] == ["waits for fan"]
    row = read_queue(desk).row(unit_id)
    assert row is not None
    assert (row.next_task_id, row.next_task) == (None, "waits for fan")
