"""Issuing: the oldest receipt first and at its cost, never below zero, whoever else issues meanwhile."""

from __future__ import annotations

import threading

import pytest

from bench.desk import Desk
from bench.errors import BadInput, NotFound, OutOfStock
from bench.store.tables import Movement
from bench.views.stock import read_history, read_stock
from bench.work.change import change
from bench.work.issuing import layers_of
from bench.work.stock import count_stock, restock
from bench.work.undo import undo
from tests.clocks import HandSetClock
from tests.work.bookkeeping import ISOPROPYL, PASTE, WIPES, any_task, footprint, line, new_consumable, take


@pytest.fixture
def task_id(desk: Desk) -> int:
    return any_task(desk)


def issues(desk: Desk, consumable_id: int) -> list[tuple[int, int]]:
    movements = read_history(desk, consumable_id).movements
    return [(m.quantity, m.cost_minor) for m in reversed(movements) if m.kind == "issue"]


def test_the_published_fifo_example(desk: Desk, task_id: int) -> None:
    # IAS 2 worked example as taught: 100 at 10 and 200 at 12, 250 sold -> cost 2,800, closing stock 600.
    varnish = new_consumable(desk)
    restock(desk, varnish, quantity_text="100", price_text="1000")
    restock(desk, varnish, quantity_text="200", price_text="2400")
    taken = take(desk, task_id, varnish, 250_000)
    assert taken.left == 50_000
    assert -sum(cost for _, cost in issues(desk, varnish)) == 2_800_00
    assert line(desk, varnish).value_minor == 600_00


def test_one_movement_a_layer_that_is_drawn(desk: Desk, task_id: int) -> None:
    restock(desk, ISOPROPYL, quantity_text="100", price_text="10")
    restock(desk, ISOPROPYL, quantity_text="200", price_text="24")
    take(desk, task_id, ISOPROPYL, 250_000)
    assert issues(desk, ISOPROPYL) == [(-100_000, -10_00), (-150_000, -18_00)]


def test_costs_after_mixed_movements_match_a_hand_calculation(
    desk: Desk, task_id: int, clock: HandSetClock
) -> None:
    # By hand, in minor units, a half upwards:
    #   R1 3 g for 10.00; R2 5 g for 20.00
    #   issue 1 g: R1 1000*1/3 = 333.33 -> 333           R1 2 g, 667
    #   issue 3 g: R1 2 g, all 667; R2 2000*1/5 = 400    R2 4 g, 1600
    #   take that issue back                             R1 2 g, 667; R2 5 g, 2000
    #   count 4 g (7 in the book, 3 missing): R1 2 g 667, R2 1 g 400   R2 4 g, 1600
    #   count 6 g (2 found, at R2's 2000/5 a gram)       R2 4 g, 1600; C 2 g, 800
    #   issue 5 g: R2 4 g, all 1600; C 800*1/2 = 400     C 1 g, 400
    restock(desk, PASTE, quantity_text="3", price_text="10")
    clock.advance(minutes=1)
    restock(desk, PASTE, quantity_text="5", price_text="20")
    clock.advance(minutes=1)
    take(desk, task_id, PASTE, 1_000)
    clock.advance(minutes=1)
    take(desk, task_id, PASTE, 3_000)
    clock.advance(minutes=1)
    undo(desk)
    clock.advance(minutes=1)
    count_stock(desk, PASTE, quantity_text="4", reason="stocktake")
    clock.advance(minutes=1)
    count_stock(desk, PASTE, quantity_text="6", reason="found a tube")
    clock.advance(minutes=1)
    take(desk, task_id, PASTE, 5_000)

    book = [(m.kind, m.quantity, m.cost_minor, m.balance) for m in read_history(desk, PASTE).movements]
    assert book[::-1] == [
        ("receipt", 3_000, 1000, 3_000),
        ("receipt", 5_000, 2000, 8_000),
        ("issue", -1_000, -333, 7_000),
        ("issue", -2_000, -667, 5_000),
        ("issue", -1_000, -400, 4_000),
        ("reversal", 1_000, 400, 5_000),
        ("reversal", 2_000, 667, 7_000),
        ("count", -2_000, -667, 5_000),
        ("count", -1_000, -400, 4_000),
        ("count", 2_000, 800, 6_000),
        ("issue", -4_000, -1600, 2_000),
        ("issue", -1_000, -400, 1_000),
    ]
    assert line(desk, PASTE).value_minor == 400


def test_an_earlier_dated_receipt_goes_first(desk: Desk, task_id: int) -> None:
    restock(desk, PASTE, quantity_text="4", price_text="8")
    restock(desk, PASTE, quantity_text="4", price_text="4", date_text="2026-11-02")
    take(desk, task_id, PASTE, 4_000)
    assert issues(desk, PASTE) == [(-4_000, -4_00)]


def test_more_than_is_there_names_what_was_asked_and_what_is_left(desk: Desk, task_id: int) -> None:
    restock(desk, ISOPROPYL, quantity_text="15")
    before = footprint(desk)
    with pytest.raises(OutOfStock) as refused:
        take(desk, task_id, ISOPROPYL, 15_001)
    assert (
        str(refused.value) == "isopropyl 99 %: 15.001 ml asked for, 15 ml left. Count it first, or take less."
    )
    assert footprint(desk) == before
    assert take(desk, task_id, ISOPROPYL, 15_000).left == 0


@pytest.mark.parametrize("quantity", [0, -1, -(10**15)])
def test_nothing_and_less_than_nothing_cannot_be_taken(desk: Desk, task_id: int, quantity: int) -> None:
    restock(desk, PASTE, quantity_text="4")
    before = footprint(desk)
    with pytest.raises(BadInput, match=r"thermal paste cannot be taken.*above 0"):
        take(desk, task_id, PASTE, quantity)
    assert footprint(desk) == before


def test_a_part_of_a_piece_cannot_be_taken(desk: Desk, task_id: int) -> None:
    restock(desk, WIPES, packs_text="1")
    with pytest.raises(BadInput, match=r"0\.5 pieces of lint-free wipes.*whole"):
        take(desk, task_id, WIPES, 500)


def test_an_unknown_consumable_is_not_found(desk: Desk, task_id: int) -> None:
    with pytest.raises(NotFound, match="no consumable with number 404"):
        take(desk, task_id, 404, 1000)


def test_the_answer_says_when_it_has_become_low(desk: Desk, task_id: int) -> None:
    varnish = new_consumable(desk, reorder_text="40")
    restock(desk, varnish, packs_text="1")
    taken = take(desk, task_id, varnish, 59_000)
    assert (taken.name, taken.base_unit, taken.quantity, taken.left, taken.low) == (
        "varnish",
        "g",
        59_000,
        41_000,
        False,
    )
    assert take(desk, task_id, varnish, 1_000).low


def test_layers_seen_inside_the_transaction_include_what_it_has_done(desk: Desk, task_id: int) -> None:
    restock(desk, PASTE, quantity_text="4", price_text="8", expires_text="2027-06-30")
    with change(desk, "look") as made:
        before = layers_of(made.session, PASTE)
        assert [(layer.quantity, layer.cost_minor) for layer in before] == [(4_000, 800)]
        assert str(before[0].expires_on) == "2027-06-30"
    take(desk, task_id, PASTE, 4_000)
    with change(desk, "look") as made:
        assert layers_of(made.session, PASTE) == ()


def test_a_movement_not_yet_written_out_is_seen(desk: Desk) -> None:
    with change(desk, "look") as made:
        made.session.add(
            Movement(consumable_id=PASTE, kind="receipt", quantity=4_000, at_us=made.now_us, person_id=1)
        )
        assert [layer.quantity for layer in layers_of(made.session, PASTE)] == [4_000]


def test_two_threads_never_take_stock_below_zero(desk: Desk, task_id: int) -> None:
    restock(desk, PASTE, quantity_text="2", price_text="20")
    restock(desk, PASTE, quantity_text="1", price_text="30")
    refused: list[OutOfStock] = []
    together = threading.Barrier(2)

    def take_twenty() -> None:
        together.wait()
        for _ in range(20):
            try:
                take(desk, task_id, PASTE, 100)
            except OutOfStock as error:
                refused.append(error)

    threads = [threading.Thread(target=take_twenty) for _ in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    # 40 were asked for, 30 were there; each gram cost 10.00, then 30.00.
    assert len(refused) == 10
    taken = issues(desk, PASTE)
    assert [quantity for quantity, _ in taken] == [-100] * 30
    assert sum(cost for _, cost in taken) == -5_000
    assert min(m.balance for m in read_history(desk, PASTE).movements) == 0
    assert [one.on_hand for one in read_stock(desk).lines if one.consumable_id == PASTE] == [0]
