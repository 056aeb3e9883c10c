"""A unit's money by hand, to the minor unit; every figure opens to rows that add up to it."""

from __future__ import annotations

from collections import defaultdict

import pytest

from bench.desk import Desk
from bench.domain.lots import LotUnit
from bench.domain.offers import OfferTyped
from bench.domain.party import PartyTyped
from bench.domain.unit_money import TIME, UnitMoney
from bench.errors import NotFound
from bench.views.money_rows import read_money_rows
from bench.views.unit import read_unit
from bench.views.unit_money import read_unit_money
from bench.work.buying import buy_offer, save_offer
from bench.work.comebacks import take_return
from bench.work.lots import buy_lot
from bench.work.moves import move_unit
from bench.work.parts import fit_part, take_part
from bench.work.purchases import edit_purchase
from bench.work.selling import sell_unit
from bench.work.stock import restock
from bench.work.timers import finish_task, reopen_task, start_task, stop_person
from bench.work.trade import add_channel, remove_channel
from bench.work.undo import undo
from tests.clocks import MINUTE_US, HandSetClock
from tests.work.bookkeeping import ISOPROPYL, PASTE, WIPES
from tests.work.looked_into import looked_into_if_need_be
from tests.work.sale_steps import stage
from tests.work.trade_steps import CHARGER_LEAD, new_unit, set_rate, set_trade, work_on

POST = 2


@pytest.fixture
def unit_id(desk: Desk, clock: HandSetClock) -> int:
    """Bought for 80.00, worked on for 90 minutes at 30 an hour, its parts and consumables as below."""
    set_rate(desk, "30")
    set_trade(desk, margin_scheme=True)
    add_channel(desk, "by post", share_text="12.5", fixed_text="0.35")
    restock(desk, ISOPROPYL, quantity_text="1000", price_text="12")
    restock(desk, WIPES, quantity_text="100", price_text="4")
    restock(desk, PASTE, quantity_text="4", price_text="8")
    donor, unit_id = new_unit(desk, "50"), new_unit(desk, "80", route_id=CHARGER_LEAD)
    fit_part(desk, unit_id, name="battery", cost_text="35.90", supplier="A shop")
    take_part(desk, donor, name="screen", cost_text="30", to_unit_id=unit_id)
    take_part(desk, unit_id, name="memory", cost_text="12")
    first = work_on(desk, clock, unit_id, 60)
    second = work_on(desk, clock, unit_id, 30, task=1)
    finish_task(desk, first, uses={ISOPROPYL: 15_000, WIPES: 4_000})
    finish_task(desk, second, uses={PASTE: 300})
    undo(desk)
    finish_task(desk, second, uses={ISOPROPYL: 5_000})
    return unit_id


def sell(desk: Desk, unit_id: int, price: str, shipping: str = "0") -> None:
    typed = {"price_text": price, "shipping_text": shipping, "reason": "not needed"}
    looked_into_if_need_be(desk, unit_id)
    sell_unit(desk, unit_id, channel_id=POST, open_tasks="skip", **typed)


def give_back(desk: Desk, unit_id: int, refund: str) -> None:
    take_return(
        desk,
        unit_id,
        reason="key E fails",
        refund_text=refund,
        postage_text="0",
        stage_id=stage(desk, "received"),
    )


def lines_open(desk: Desk, money: UnitMoney) -> None:
    """Each figure opens: rows are as many as said and add up to the lines that open them."""
    sums: defaultdict[str, int] = defaultdict(int)
    for line in (*money.cost_so_far, *money.proceeds):
        sums[line.opens] += line.amount_minor or 0
    for line in (*money.cost_so_far, *money.proceeds):
        found = read_money_rows(desk, money.unit_id, line.opens)
        assert found.amount_minor == sums[line.opens], line
        assert found.rows
        if not line.opens.startswith("sale"):
            assert len(found.rows) == line.rows, line
    assert read_money_rows(desk, money.unit_id, TIME).length_us == money.hands_on_us


def amounts(desk: Desk, unit_id: int) -> tuple[list[tuple[str, int]], list[tuple[str, int]]]:
    money = read_unit_money(desk, unit_id)
    lines_open(desk, money)
    cost_so_far, brought = (
        [(line.words, line.amount_minor) for line in lines] for lines in (money.cost_so_far, money.proceeds)
    )
    return cost_so_far, brought


def test_landed_cost_by_hand(desk: Desk, unit_id: int) -> None:
    # 20 ml at 12.00 a litre: 15 ml 0.18 and 5 ml 0.06; four wipes of 100 for 4.00: 0.16
    # 80 + 35.90 + 30 - 12 + 0.24 + 0.16 = 134.30; 90 min at 30 an hour = 45.00
    cost_so_far, brought = amounts(desk, unit_id)
    assert cost_so_far == [
        ("price paid", 8_000),
        ("parts bought", 3_590),
        ("parts out of other units", 3_000),
        ("parts given away", -1_200),
        ("isopropyl 99 %", 24),
        ("lint-free wipes", 16),
    ]
    assert brought == []
    money = read_unit_money(desk, unit_id)
    assert (money.cost_so_far_minor, money.labour_minor, money.hands_on_us) == (13_430, 4_500, 90 * MINUTE_US)
    assert (money.sold, money.margin_minor, money.per_hour_minor, money.proceeds_minor) == (
        False,
        None,
        None,
        0,
    )
    assert (money.tag, money.model, money.currency, money.zone) == (
        "10022",
        "Maker M",
        "EUR",
        "Europe/Berlin",
    )


def test_break_even_by_hand(desk: Desk, unit_id: int) -> None:
    # Over the counter, with a sixth of (p - 80) as tax: p - (p - 80) / 6 >= 134.30: p >= 145.16;
    # there the tax is 65.16 / 6 = 10.86 and 134.30 are left.
    money = read_unit_money(desk, unit_id)
    assert (money.channel, money.break_even_minor) == ("over the counter", 14_516)
    # By post without tax: 0.875 p - 0.35 >= 134.30: at 153.89 the fees are 19.24 + 0.35, 134.30 are left.
    set_trade(desk, margin_scheme=False)
    money = read_unit_money(desk, unit_id, channel_id=POST)
    assert (money.channel, money.break_even_minor) == ("by post", 15_389)


def test_margin_by_hand(desk: Desk, unit_id: int) -> None:
    # 300 - 37.85 fees (12.5 %, 0.35) - 6.90 shipping - 36.67 tax (220 / 6) = 218.58; less 134.30 = 84.28
    # 84.28 in 1.5 h = 56.1867
    sell(desk, unit_id, "300", "6.90")
    _, brought = amounts(desk, unit_id)
    assert brought == [
        ("sold 2026-11-25", 30_000),
        ("channel fees", -3_785),
        ("shipping", -690),
        ("tax on the margin (not advice)", -3_667),
    ]
    money = read_unit_money(desk, unit_id)
    assert (money.sold, money.margin_minor, money.per_hour_minor) == (True, 8_428, 5_619)
    # What it had to fetch by post, the tax now on: 0.875 p - 0.35 - (p - 80) / 6 >= 134.30: p >= 171.27;
    # there 21.41 + 0.35 fees and 15.21 tax (91.27 / 6 = 15.2117) leave 134.30.
    assert (money.channel, money.break_even_minor) == ("by post", 17_127)


def test_a_return_and_a_second_sale_by_hand(desk: Desk, unit_id: int, clock: HandSetClock) -> None:
    # After the refund of all 300: 300 - 37.85 - 6.90 - 0 tax - 300 = -44.75, so 134.30 + 44.75 = 179.05 are
    # to be brought back: 0.875 p - 0.35 - (p - 80) / 6 >= 179.05: p >= 234.45; there 29.31 + 0.35 fees and
    # 25.74 tax leave 179.05.
    sell(desk, unit_id, "300", "6.90")
    clock.advance(minutes=60)
    give_back(desk, unit_id, "300")
    back = read_unit_money(desk, unit_id)
    lines_open(desk, back)
    assert (back.sold, back.margin_minor, back.proceeds_minor) == (False, None, -4_475)
    assert back.break_even_minor == 23_445
    assert (back.hands_on_us, back.after_return_us) == (90 * MINUTE_US, 0)
    # 30 minutes more, then sold for 260: - 32.85 fees - 30.00 tax = 197.15; - 44.75 - 134.30 = 18.10
    # 18.10 in 2 h = 9.05
    for task in read_unit(desk, unit_id).tasks[2:]:
        reopen_task(desk, task.task_id)
        start_task(desk, task.task_id)
    clock.advance(minutes=30)
    stop_person(desk)
    clock.advance(minutes=15)
    sell(desk, unit_id, "260")
    again = read_unit_money(desk, unit_id)
    lines_open(desk, again)
    assert (again.hands_on_us, again.after_return_us) == (120 * MINUTE_US, 30 * MINUTE_US)
    assert (again.sold, again.proceeds_minor, again.margin_minor, again.per_hour_minor) == (
        True,
        15_240,
        1_810,
        905,
    )
    assert again.break_even_minor == 23_445


def test_a_partial_refund_lowers_price_and_tax(desk: Desk, unit_id: int) -> None:
    # 300 less 60 back: margin 160, tax 36.67 x 160 / 220 = 26.669; 300 - 37.85 - 26.67 - 60 = 175.48
    sell(desk, unit_id, "300")
    give_back(desk, unit_id, "60")
    looked_into_if_need_be(desk, unit_id)
    move_unit(desk, unit_id, stage(desk, "sold"))
    money = read_unit_money(desk, unit_id)
    lines_open(desk, money)
    assert (money.sold, money.proceeds_minor, money.margin_minor) == (True, 17_548, 17_548 - 13_430)
    [sale_rows] = {line.opens for line in money.proceeds if line.opens.startswith("sale")}
    rows = read_money_rows(desk, unit_id, sale_rows).rows
    assert [row.amount_minor for row in rows] == [30_000, -3_785, -3_667, 1_000]


def test_rows_say_what_when_and_who(desk: Desk, unit_id: int) -> None:
    def rows(opens: str) -> list[tuple[str, str, int | None]]:
        return [
            (row.words, row.person, row.amount_minor) for row in read_money_rows(desk, unit_id, opens).rows
        ]

    assert rows("purchase") == [("bought", "", 8_000)]
    assert rows("parts bought") == [("battery, A shop", "Ada", 3_590)]
    assert rows("parts in") == [("screen, out of 10014", "Ada", 3_000)]
    assert rows("parts out") == [("memory, into the shelf", "Ada", -1_200)]
    assert [words for words, _, _ in rows(f"materials {ISOPROPYL}")] == [
        "took 15 ml, look over charger and lead, unplugged",
        "took 5 ml, new low-voltage lead end, tubing over the joints",
    ]
    taken_back = rows(f"materials {PASTE}")
    assert [(words.split(",")[0], amount) for words, _, amount in taken_back] == [
        ("took 0.3 g", 60),
        ("gave back 0.3 g", -60),
    ]
    assert [(words[:9], amount) for words, _, amount in rows("time")] == [
        ("look over", None),
        ("new low-v", None),
    ]
    edit_purchase(
        desk,
        unit_id,
        expected_text="",
        bought_on_text="2026-11-20",
        invoice="R 1",
        seller=PartyTyped("A firm", private=False),
    )
    assert rows("purchase") == [("from A firm, invoice R 1", "", 8_000)]
    [row] = read_money_rows(desk, unit_id, "purchase").rows
    assert (str(row.on), row.at_us) == ("2026-11-20", None)


@pytest.mark.parametrize("opens", ["", "wheels", "materials 99", "materials", "sale 1", "return 1"])
def test_what_opens_nothing(desk: Desk, unit_id: int, opens: str) -> None:
    with pytest.raises(NotFound, match="no rows behind that"):
        read_money_rows(desk, unit_id, opens)


def test_a_running_timer_counts_when_it_is_stopped(desk: Desk, unit_id: int, clock: HandSetClock) -> None:
    start_task(desk, read_unit(desk, unit_id).tasks[3].task_id)
    clock.advance(minutes=10)
    assert read_unit_money(desk, unit_id).hands_on_us == 90 * MINUTE_US
    stop_person(desk)
    assert read_unit_money(desk, unit_id).hands_on_us == 100 * MINUTE_US


def test_a_unit_of_a_lot_and_one_without_a_price(desk: Desk) -> None:
    lot = buy_lot(desk, name="boxes", price_text="100", units=[LotUnit("", "A"), LotUnit("", "B")])
    money = read_unit_money(desk, lot.shares[0].unit_id)
    lines_open(desk, money)
    assert [(line.words, line.amount_minor) for line in money.cost_so_far] == [
        ("share of the lot boxes", 5_000)
    ]
    assert read_money_rows(desk, money.unit_id, "purchase").rows[0].words == "lot boxes"
    bare = read_unit_money(desk, new_unit(desk))
    lines_open(desk, bare)
    assert [line.amount_minor for line in bare.cost_so_far] == [None]
    assert bare.missing == ("price paid",)
    assert (bare.hands_on_us, bare.per_hour_minor, bare.break_even_minor) == (0, None, 0)


def test_stock_received_without_a_price_is_said_to_be(desk: Desk) -> None:
    restock(desk, PASTE, quantity_text="4")
    unit_id = new_unit(desk, "10", route_id=CHARGER_LEAD)
    finish_task(desk, read_unit(desk, unit_id).tasks[0].task_id, uses={PASTE: 300})
    money = read_unit_money(desk, unit_id)
    lines_open(desk, money)
    assert (money.cost_so_far[1].amount_minor, money.cost_so_far[1].note) == (0, "received without a price")


def test_the_channel_is_the_one_meant(desk: Desk) -> None:
    post = add_channel(desk, "by post", share_text="10")
    unit_id = buy_offer(
        desk, save_offer(desk, OfferTyped("M", "300", channel_id=post)), price_text="90"
    ).unit_id
    assert (read_unit_money(desk, unit_id).channel, read_unit_money(desk, unit_id).expected_minor) == (
        "by post",
        30_000,
    )
    assert read_unit_money(desk, unit_id).break_even_minor == 10_000
    assert read_unit_money(desk, unit_id, channel_id=1).break_even_minor == 9_000
    remove_channel(desk, post)
    assert read_unit_money(desk, unit_id).channel == "by post"
    with pytest.raises(NotFound, match="no channel with number 9"):
        read_unit_money(desk, unit_id, channel_id=9)
    with pytest.raises(NotFound, match="no unit with number 99"):
        read_unit_money(desk, 99)
