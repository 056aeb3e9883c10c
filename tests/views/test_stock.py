"""The stock book: levels are sums of movements, low and cover follow from use, the history adds up."""

from __future__ import annotations

import itertools
import sqlite3
import subprocess
import sys
import time
from datetime import date

import pytest

from bench.desk import Desk
from bench.domain.reorder import reorder_from_use
from bench.errors import NotFound
from bench.views import stock as reads
from bench.views.stock import MOST_MOVEMENTS, read_history, read_stock, stock_lines
from bench.work.stock import count_stock, edit_consumable, restock
from bench.work.undo import undo
from tests.clocks import HandSetClock
from tests.work.bookkeeping import DAY_MINUTES, ISOPROPYL, PASTE, WIPES, any_task, line, new_consumable, take


def test_a_new_shop_is_low_on_nothing(desk: Desk) -> None:
    book = read_stock(desk)
    assert book.currency == "EUR"
    assert not any(one.low for one in book.lines)
    assert {one.on_hand for one in book.lines} == {0}
    names = [one.name for one in book.lines]
    assert names == sorted(names, key=str.casefold)
    assert {(one.days_of_cover, one.suggest_packs) for one in book.lines} == {(None, 0)}
    assert {one.next_expiry for one in book.lines} == {None}


def test_low_ones_come_first_then_names(desk: Desk) -> None:
    new_consumable(desk, name="Zinc varnish", reorder_text="1")
    new_consumable(desk, name="amber varnish", reorder_text="0")
    names = [one.name for one in read_stock(desk).lines]
    assert names[:3] == ["amber varnish", "Zinc varnish", "battery adhesive strips"]


def test_what_ran_out_is_low_even_without_use_on_record(desk: Desk) -> None:
    restock(desk, PASTE, quantity_text="4")
    assert not line(desk, PASTE).low
    count_stock(desk, PASTE, quantity_text="0", reason="spilt")
    assert line(desk, PASTE).low
    assert line(desk, PASTE).suggest_packs == 1


def test_a_first_restock_taken_back_leaves_it_as_never_kept(desk: Desk) -> None:
    restock(desk, PASTE, quantity_text="4")
    undo(desk)
    assert not line(desk, PASTE).low


def test_reorder_point_and_cover_follow_the_days_since_the_first_movement(
    desk: Desk, clock: HandSetClock
) -> None:
    # Four days, 40 ml on the first and the third: mean 20, sample deviation sqrt(1600/3) = 23.094...;
    # over a delivery of 5 days at 95 %: 20*5 + 1.64485*23.094*sqrt(5) = 100 + 84.940 -> 184.940 ml.
    # Cover: 920 ml left, 80 ml in 4 days -> 46 days.
    task_id = any_task(desk)
    restock(desk, ISOPROPYL, packs_text="1")
    take(desk, task_id, ISOPROPYL, 40_000)
    clock.advance(minutes=2 * DAY_MINUTES)
    take(desk, task_id, ISOPROPYL, 40_000)
    clock.advance(minutes=DAY_MINUTES)
    now = line(desk, ISOPROPYL)
    assert now.days_of_cover == pytest.approx(46.0)
    assert now.reorder_at == pytest.approx(184_940, abs=10)
    assert now.reorder_at == reorder_from_use([0, 40_000, 0, 40_000], 5)
    assert (now.low, now.reorder_fixed) == (False, False)


def test_use_is_forgotten_after_eight_weeks(desk: Desk, clock: HandSetClock) -> None:
    task_id = any_task(desk)
    restock(desk, ISOPROPYL, packs_text="1")
    take(desk, task_id, ISOPROPYL, 56_000)
    clock.advance(minutes=55 * DAY_MINUTES)
    assert line(desk, ISOPROPYL).days_of_cover == pytest.approx(944.0)  # 56 ml in 56 days: 1 ml a day
    clock.advance(minutes=DAY_MINUTES)
    assert line(desk, ISOPROPYL).days_of_cover is None
    assert line(desk, ISOPROPYL).reorder_at == 0


def test_days_are_cut_in_the_shops_zone(desk: Desk, clock: HandSetClock) -> None:
    task_id = any_task(desk)
    clock.set_wall(1_795_561_200_000_000 - 60_000_000)  # 2026-11-24 23:59 in Berlin
    restock(desk, ISOPROPYL, packs_text="1")
    take(desk, task_id, ISOPROPYL, 10_000)
    assert line(desk, ISOPROPYL).reorder_at == reorder_from_use([10_000], 5)
    clock.advance(minutes=2)  # two minutes later it is the next day: one of two days had use
    assert line(desk, ISOPROPYL).reorder_at == reorder_from_use([0, 10_000], 5)


def test_use_on_the_stroke_of_midnight_counts_once(desk: Desk, clock: HandSetClock) -> None:
    task_id = any_task(desk)
    clock.set_wall(1_795_561_200_000_000 - 60_000_000)  # 2026-11-24 23:59 in Berlin
    restock(desk, ISOPROPYL, packs_text="1")
    clock.advance(minutes=1)
    take(desk, task_id, ISOPROPYL, 10_000)
    now = line(desk, ISOPROPYL)
    assert now.reorder_at == reorder_from_use([10_000, 0], 5)
    assert now.days_of_cover == pytest.approx(2 * 990 / 10)


def test_use_that_was_taken_back_is_no_use(desk: Desk) -> None:
    task_id = any_task(desk)
    restock(desk, ISOPROPYL, packs_text="1")
    take(desk, task_id, ISOPROPYL, 100_000)
    undo(desk)
    now = line(desk, ISOPROPYL)
    assert (now.on_hand, now.days_of_cover, now.reorder_at) == (1_000_000, None, 0)


def test_a_count_is_no_use(desk: Desk) -> None:
    restock(desk, ISOPROPYL, packs_text="1")
    count_stock(desk, ISOPROPYL, quantity_text="500", reason="spilt")
    assert line(desk, ISOPROPYL).days_of_cover is None


def test_reorder_point_of_pieces_is_whole(desk: Desk, clock: HandSetClock) -> None:
    task_id = any_task(desk)
    restock(desk, WIPES, packs_text="1")
    take(desk, task_id, WIPES, 3_000)
    clock.advance(minutes=DAY_MINUTES)
    now = line(desk, WIPES)
    # Mean 1.5, sample deviation 2.1213, five days: 7.5 + 1.64485*2.1213*sqrt(5) = 15.30 -> 16 pieces.
    assert now.reorder_at == 16_000


def test_a_fixed_reorder_point_is_reached_at_the_point_itself(desk: Desk) -> None:
    task_id = any_task(desk)
    varnish = new_consumable(desk, reorder_text="30")
    restock(desk, varnish, packs_text="1")
    take(desk, task_id, varnish, 69_999)
    assert not line(desk, varnish).low
    take(desk, task_id, varnish, 1)
    now = line(desk, varnish)
    assert now.low
    # To stand at 30 g plus two delivery times of 7 days at 70 g a day: 30 - 30 + 980 -> 10 packs of 100.
    assert now.suggest_packs == 10


def test_full_is_the_level_after_stock_last_came_in(desk: Desk) -> None:
    task_id = any_task(desk)
    varnish = new_consumable(desk, reorder_text="10")
    assert line(desk, varnish).full == 100_000  # one pack
    restock(desk, varnish, packs_text="2")
    take(desk, task_id, varnish, 50_000)
    restock(desk, varnish, packs_text="1")
    take(desk, task_id, varnish, 10_000)
    assert (line(desk, varnish).full, line(desk, varnish).on_hand) == (250_000, 240_000)


def test_full_forgets_a_restock_taken_back(desk: Desk) -> None:
    task_id = any_task(desk)
    varnish = new_consumable(desk, reorder_text="10")
    restock(desk, varnish, packs_text="2")
    take(desk, task_id, varnish, 50_000)
    restock(desk, varnish, packs_text="1")
    undo(desk)
    assert (line(desk, varnish).full, line(desk, varnish).on_hand) == (200_000, 150_000)


def test_full_is_at_least_twice_the_reorder_point(desk: Desk) -> None:
    varnish = new_consumable(desk, reorder_text="400")
    assert line(desk, varnish).full == 800_000


def test_expired_stock_is_told_apart_and_the_next_date_named(desk: Desk, clock: HandSetClock) -> None:
    restock(desk, PASTE, quantity_text="1", expires_text="2026-11-26")
    restock(desk, PASTE, quantity_text="2", expires_text="2026-12-01")
    assert (line(desk, PASTE).expired, line(desk, PASTE).next_expiry) == (0, date(2026, 11, 26))
    clock.advance(minutes=DAY_MINUTES)  # the 26th itself: still good
    assert line(desk, PASTE).expired == 0
    clock.advance(minutes=DAY_MINUTES)
    assert (line(desk, PASTE).expired, line(desk, PASTE).next_expiry) == (1_000, date(2026, 12, 1))
    task_id = any_task(desk)
    take(desk, task_id, PASTE, 1_000)  # the oldest goes first
    assert line(desk, PASTE).expired == 0


def test_a_receipt_without_a_date_expires_by_the_shelf_life_set_later(desk: Desk) -> None:
    restock(desk, WIPES, packs_text="1")
    assert line(desk, WIPES).next_expiry is None
    edit_consumable(
        desk,
        WIPES,
        name="wipes",
        base_unit="piece",
        pack_text="100",
        lead_days_text="5",
        shelf_life_text="10",
    )
    assert line(desk, WIPES).next_expiry == date(2026, 12, 5)


def test_the_history_opens_the_level(desk: Desk) -> None:
    task_id = any_task(desk)
    restock(desk, PASTE, quantity_text="4", price_text="8", supplier="a wholesaler")
    take(desk, task_id, PASTE, 1_000)
    history = read_history(desk, PASTE)
    assert (history.currency, history.zone, history.line.on_hand) == ("EUR", "Europe/Berlin", 3_000)
    newest, oldest = history.movements
    assert (newest.quantity, newest.balance, oldest.quantity, oldest.balance) == (-1_000, 3_000, 4_000, 4_000)
    assert (newest.unit_id, newest.tag, newest.person) == (1, "10014", "Ada")
    assert newest.task == "look over and note faults"
    assert (oldest.unit_id, oldest.tag, oldest.task, oldest.supplier) == (None, "", "", "a wholesaler")
    assert sum(m.quantity for m in history.movements) == history.line.on_hand
    assert sum(m.cost_minor for m in history.movements) == history.line.value_minor


def test_an_unknown_consumable_has_no_history(desk: Desk) -> None:
    with pytest.raises(NotFound, match="no consumable with number 0"):
        read_history(desk, 0)


def test_a_long_history_shows_the_newest_with_their_true_balance(desk: Desk) -> None:
    fill(desk, receipts=2, issues_each=MOST_MOVEMENTS)
    movements = read_history(desk, 1).movements
    assert len(movements) == MOST_MOVEMENTS
    assert movements[0].balance == line(desk, 1).on_hand
    for newer, older in itertools.pairwise(movements):
        assert newer.balance - newer.quantity == older.balance


def test_as_many_statements_for_many_consumables_as_for_one(desk: Desk) -> None:
    def statements() -> int:
        told: list[str] = []
        with desk.store.read() as connection:
            connection.set_trace_callback(told.append)
            stock_lines(connection, desk.clock.now_us())
            connection.set_trace_callback(None)
        return len(told)

    few = statements()
    for number in range(40):
        new_consumable(desk, name=f"varnish {number}")
    assert statements() == few == 5


def test_a_hundred_thousand_movements_stay_quick(desk: Desk) -> None:
    fill(desk, receipts=1_000, issues_each=99)
    started = time.process_time()
    book = read_stock(desk)
    history = read_history(desk, 1)
    # A generous ceiling of this program's own time; measured at about a tenth.
    assert time.process_time() - started < 2.0
    assert sum(one.on_hand for one in book.lines) == 1_000 * 1_000
    assert len(history.movements) == MOST_MOVEMENTS


def test_reading_the_stock_imports_no_storage_library() -> None:
    program = "import sys, bench.views.stock; print({'sqlalchemy', 'sqlmodel'} & set(sys.modules))"
    answer = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert answer.stdout.strip() == "set()"


def test_layers_add_up_to_the_level_after_everything(desk: Desk) -> None:
    task_id = any_task(desk)
    restock(desk, PASTE, quantity_text="3", price_text="10")
    restock(desk, PASTE, quantity_text="5", price_text="1")
    take(desk, task_id, PASTE, 3_500)
    undo(desk)
    count_stock(desk, PASTE, quantity_text="9", reason="found one")
    with desk.store.read() as connection:
        layers = reads.layers(connection, "Europe/Berlin")[PASTE]
    now = line(desk, PASTE)
    assert sum(layer.quantity for layer in layers) == now.on_hand == 9_000
    assert sum(layer.cost_minor for layer in layers) == now.value_minor == 1_120


def fill(desk: Desk, receipts: int, issues_each: int) -> None:
    """Many movements straight into the file: receipts over six consumables, each drawn almost empty."""
    task_id = any_task(desk)
    at_us = desk.clock.now_us() - receipts * 60_000_000
    connection = sqlite3.connect(desk.store.path)
    for number in range(receipts):
        consumable = number % 6 + 1
        receipt = connection.execute(
            "INSERT INTO movement (consumable_id, kind, quantity, cost_minor, at_us, person_id,"
            " supplier, reason) VALUES (?, 'receipt', ?, 100, ?, 1, '', '')",
            (consumable, issues_each * 1_000 + 1_000, at_us + number * 60_000_000),
        ).lastrowid
        connection.executemany(
            "INSERT INTO movement (consumable_id, kind, quantity, at_us, person_id, layer_id, task_id,"
            " cost_minor, supplier, reason) VALUES (?, 'issue', -1000, ?, 1, ?, ?, -1, '', '')",
            [(consumable, at_us + number * 60_000_000 + n, receipt, task_id) for n in range(issues_each)],
        )
    connection.commit()
    connection.close()
