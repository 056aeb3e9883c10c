"""Months and years: every figure is the sum of each unit's own, and hours are cut at the month's edges."""

from __future__ import annotations

from datetime import date

import pytest

from bench.desk import Desk
from bench.domain.spans import Span
from bench.domain.unit_money import Earned, total
from bench.domain.weeks import IsoWeek
from bench.errors import BadInput
from bench.views.earned_by import NO_MAKER, NO_ROUTE, NO_SOURCE
from bench.views.months import MonthSheet, read_month, read_year
from bench.views.register import read_register
from bench.views.routes import read_routes
from bench.views.tied_up import DONORS, SHELF
from bench.views.unit import read_unit
from bench.views.unit_money import read_unit_money
from bench.views.week import read_week
from bench.work.comebacks import take_return
from bench.work.moves import hold_unit
from bench.work.stock import restock
from bench.work.tasks import add_task
from bench.work.timers import skip_task
from bench.work.undo import undo
from bench.work.units import add_unit
from tests.clocks import MINUTE_US, HandSetClock
from tests.work.bookkeeping import ISOPROPYL, WIPES, take
from tests.work.sale_steps import MARKET, bought_from, part, sell, stage, stocked, trading
from tests.work.time_rows import at, record

DAY = 24 * 60
HOUR_US = 60 * MINUTE_US
NOVEMBER = (2026, 11)


def new_task(desk: Desk, unit_id: int, estimate: str = "30", unattended: bool = False) -> int:
    return add_task(
        desk,
        unit_id,
        name="work",
        stage_id=stage(desk, "received"),
        estimate_text=estimate,
        unattended=unattended,
        lid_off=False,
    )


def hours(desk: Desk, unit_id: int, start: str, minutes: int, *, attended: bool = True) -> int:
    """A finished task with one entry behind the use cases' backs; answers the task."""
    task_id = new_task(desk, unit_id, unattended=not attended)
    record(desk, task_id, at(start), at(start) + minutes * MINUTE_US, attended=attended)
    skip_task(desk, task_id, "only its hours count here")
    return task_id


def named(lines: tuple[Earned, ...], name: str) -> Earned:
    return next(line for line in lines if line.name == name)


@pytest.fixture
def shop(desk: Desk, clock: HandSetClock) -> Desk:
    """Five units of two makers, two sources and two routes; three sold in November, one of them twice.

    By hand; the tax is a sixth of what is over the purchase price, the market's fee 10 % + 0.50.
    1  300.00, screen 45.50, 2 h: 700.00 - 70.50 fee - 8.90 shipping, all refunded, no tax left;
       again 610.10 - 61.51 fee - 51.68 tax: 700 - 70.5 - 8.9 - 700 + 610.1 - 61.51 - 51.68 - 345.5 = 72.01
    2  120.01, drive 19.99 of unit 5, 1 h: 119.99 - 12.50 fee - no tax = 107.49 - 140.00 = -32.51
    3  99.99, 30 min: 333.33 - 38.89 tax = 294.44 - 99.99 = 194.45
    4  450.00, in the queue. 5  80.00 - 19.99 drive = 60.01, a donor. A lid of 5.00 lies on the shelf: 55.01.
    """
    trading(desk)
    units = [
        add_unit(desk, maker=maker, model=f"Model {number}", price_text=price, route_id=None).unit_id
        for number, (maker, price) in enumerate(
            [("Acorn", "300"), ("acorn", "120.01"), ("", "99.99"), ("Birch", "450"), ("Birch", "80")], start=1
        )
    ]
    assert units == [1, 2, 3, 4, 5]
    bought_from(desk, 1, "Zebulon", "2026-10-01")
    bought_from(desk, 2, "Yolanda", "2026-10-01", lot="Pallet")
    bought_from(desk, 5, "Xaver", "2026-10-01", donor=True)
    part(desk, "screen", 4_550, to=1)
    part(desk, "drive", 1_999, to=2, out_of=5)
    part(desk, "lid", 500, out_of=5)
    hours(desk, 1, "2026-10-31T23:30+01:00", 120)  # half an hour in October, an hour and a half in November
    hours(desk, 2, "2026-11-10T10:00+01:00", 60)
    hours(desk, 3, "2026-10-10T10:00+02:00", 30)
    hours(desk, 4, "2026-11-11T10:00+01:00", 45)
    hours(desk, 4, "2026-11-11T12:00+01:00", 600, attended=False)
    sell(desk, 1, "700", channel_id=MARKET, shipping_text="8.90", sold_on_text="2026-10-20")
    sell(desk, 2, "119.99", channel_id=MARKET, sold_on_text="2026-11-01")
    sell(desk, 3, "333.33", sold_on_text="2026-11-25")
    clock.advance(minutes=60)
    take_return(desk, 1, reason="key", refund_text="700", postage_text="0", stage_id=stage(desk, "inspected"))
    clock.advance(minutes=60)
    sell(desk, 1, "610.10", channel_id=MARKET)
    return desk


def test_earned_by_hand(shop: Desk) -> None:
    """72.01 - 32.51 + 194.45 = 233.95 in 3.5 h: 66.84 an hour; 1.5 + 1 + 0.75 h lie in November."""
    sheet = read_month(shop, *NOVEMBER)
    assert sheet.total == Earned("", 3, 23_395, 7 * HOUR_US // 2, 13 * HOUR_US // 4)
    assert sheet.total.per_hour_minor == 6_684
    assert sheet.total.per_spent_hour_minor == 7_198
    assert {line.words: line.amount_minor for line in sheet.lines} == {
        "prices": 70_000 + 61_010 + 11_999 + 33_333,
        "refunds": -70_000,
        "channel fees": -(7_050 + 6_151 + 1_250),
        "shipping": -890,
        "tax on the margin (not advice)": -(5_168 + 3_889),
        "paid for the units": -(30_000 + 12_001 + 9_999),
        "parts in less parts out": -(4_550 + 1_999),
    }
    assert total(sheet.lines) == sheet.total.margin_minor


def test_its_sums_are_the_sums_of_each_units_money(shop: Desk) -> None:
    restock(shop, ISOPROPYL, packs_text="1", price_text="9.99")
    take(shop, new_task(shop, 2), ISOPROPYL, 37_000)
    sheet = read_month(shop, *NOVEMBER)
    money = [read_unit_money(shop, unit_id) for unit_id in (1, 2, 3)]
    assert sheet.total.margin_minor == sum(one.margin_minor or 0 for one in money)
    assert sheet.total.hands_on_us == sum(one.hands_on_us for one in money)
    assert total(sheet.lines) == sheet.total.margin_minor
    cost_so_far = [
        one for one in sheet.lines if one.words in ("paid for the units", "parts in less parts out")
    ]
    consumed = next(one for one in sheet.lines if one.words == "consumables")
    assert total([*cost_so_far, consumed]) == -sum(one.cost_so_far_minor for one in money)
    assert -read_unit(shop, 2).consumables_minor == consumed.amount_minor < 0


def test_a_weeks_units_are_the_months(shop: Desk) -> None:
    """Units 3 and 1 went on 25 November, 2 on the 1st: 72.01 + 194.45 = 266.46 in 2.5 h, 106.58 an hour."""
    sheet = read_week(shop, IsoWeek.of(date(2026, 11, 25)))
    assert [(one.unit_id, one.margin_minor, one.per_hour_minor) for one in sheet.sold] == [
        (1, 7_201, 3_601),
        (3, 19_445, 38_890),
    ]
    assert (sheet.earned.margin_minor, sheet.earned.per_hour_minor) == (26_646, 10_658)
    assert sheet.earned.per_spent_hour_minor is None  # nobody was at the bench in that week
    (only,) = read_week(shop, IsoWeek.of(date(2026, 11, 1))).sold
    assert (only.unit_id, only.margin_minor, only.sold_on) == (2, -3_251, date(2026, 11, 1))
    assert read_week(shop, IsoWeek.of(date(2026, 11, 2))).sold == ()
    weeks = [read_week(shop, IsoWeek.of(date(2026, 11, day))) for day in (1, 8, 15, 22, 29)]
    assert sum(week.earned.margin_minor for week in weeks) == read_month(shop, *NOVEMBER).total.margin_minor


def test_the_register_agrees(shop: Desk) -> None:
    register = read_register(shop)
    sheet = read_year(shop, 2026)
    lines = {line.words: line.amount_minor for line in sheet.lines}
    assert register.sales_minor == lines["prices"]
    assert register.refunds_minor == -lines["refunds"]
    assert register.taxes_minor == -lines["tax on the margin (not advice)"]


def test_every_way_of_gathering_adds_up_to_the_total(shop: Desk) -> None:
    for sheet in (read_month(shop, *NOVEMBER), read_month(shop, 2026, 10), read_year(shop, 2026)):
        for lines in (sheet.by_route, sheet.by_source, sheet.by_maker, sheet.by_month or (sheet.total,)):
            for name in ("units", "margin_minor", "hands_on_us", "spent_us"):
                assert sum(getattr(line, name) for line in lines) == getattr(sheet.total, name), name


def test_makers_and_sources_are_told_apart(shop: Desk) -> None:
    sheet = read_month(shop, *NOVEMBER)
    acorn = named(sheet.by_maker, "Acorn")
    assert (acorn.units, acorn.margin_minor) == (2, 7_201 - 3_251)
    birch = named(sheet.by_maker, "Birch")
    assert (birch.units, birch.per_hour_minor, birch.spent_us) == (0, None, 45 * MINUTE_US)
    assert named(sheet.by_maker, NO_MAKER).margin_minor == 19_445
    assert [line.name for line in sheet.by_maker] == [NO_MAKER, "Acorn", "Birch"]
    assert named(sheet.by_source, "Zebulon").margin_minor == 7_201
    assert named(sheet.by_source, "lot Pallet").margin_minor == -3_251
    assert named(sheet.by_source, NO_SOURCE).margin_minor == 19_445
    assert [line.name for line in sheet.by_route] == [NO_ROUTE]


def test_routes_are_told_apart(desk: Desk) -> None:
    route = read_routes(desk)[0]
    unit_id = add_unit(desk, maker="", model="One", route_id=route.route_id, price_text="10").unit_id
    sell(desk, unit_id, "30", open_tasks="skip", reason="as it came")
    assert read_month(desk, *NOVEMBER).by_route == (Earned(route.name, 1, 2_000, 0, 0),)


def test_a_repair_under_warranty_leaves_the_sale_in_its_month(shop: Desk) -> None:
    """Nothing was refunded: the sale, its margin and its tax stand, and the unit is no stock."""
    before = read_month(shop, *NOVEMBER)
    take_return(shop, 3, reason="hinge", refund_text="", postage_text="0", stage_id=stage(shop, "inspected"))
    sheet = read_month(shop, *NOVEMBER)
    assert (sheet.total, sheet.lines, sheet.tied_up) == (before.total, before.lines, before.tied_up)
    assert (sheet.returns, sheet.refunds_minor) == (2, 70_000)


def test_a_sale_undone_leaves_its_month_and_what_it_cost_stays_tied_up(shop: Desk) -> None:
    """The price given back whole: the unit is stock again, and return postage is still to be earned back."""
    before = read_month(shop, *NOVEMBER)
    money = read_unit_money(shop, 3)
    price = money.proceeds[0].amount_minor
    fee = -sum(line.amount_minor for line in money.proceeds if line.words == "channel fees")
    sent = -sum(line.amount_minor for line in money.proceeds if line.words == "shipping")
    take_return(
        shop,
        3,
        reason="hinge",
        refund_text=f"{price / 100:.2f}",
        postage_text="6.20",
        stage_id=stage(shop, "inspected"),
    )
    sheet = read_month(shop, *NOVEMBER)
    assert sheet.total.units == before.total.units - 1
    more = sheet.tied_up_minor - before.tied_up_minor
    assert more == money.cost_so_far_minor + fee + sent + 620
    assert [line.cost_so_far_minor for line in sheet.tied_up if line.name.startswith("sales undone")] == [
        fee + sent + 620
    ]


def test_each_month_of_a_year_is_that_month(shop: Desk) -> None:
    year = read_year(shop, 2026)
    assert [line.name for line in year.by_month] == [f"2026-{month:02}" for month in range(1, 13)]
    for number, line in enumerate(year.by_month, start=1):
        alone = read_month(shop, 2026, number).total
        assert Earned("", line.units, line.margin_minor, line.hands_on_us, line.spent_us) == alone
    assert named(year.by_month, "2026-10").spent_us == HOUR_US
    assert read_month(shop, *NOVEMBER).by_month == ()


def test_running_time_counts_up_to_now(desk: Desk, clock: HandSetClock) -> None:
    record(desk, new_task(desk, stocked(desk)), clock.now_us(), None)
    clock.advance(minutes=17)
    sheet = read_month(desk)
    assert sheet.total.spent_us == 17 * MINUTE_US
    assert sheet.total.per_spent_hour_minor == 0
    assert sheet.total.per_hour_minor is None


def test_money_tied_up_is_the_landed_cost_of_the_queue(shop: Desk) -> None:
    sheet = read_month(shop, *NOVEMBER)
    assert [(line.name, line.units, line.cost_so_far_minor) for line in sheet.tied_up] == [
        ("received", 1, 45_000),
        (DONORS, 1, 8_000 - 1_999 - 500),
        (SHELF, 0, 500),
    ]
    unsold = [read_unit_money(shop, unit_id).cost_so_far_minor for unit_id in (4, 5)]
    assert sheet.tied_up_minor == sum(unsold) + 500


def test_the_slowest_units_by_days_and_hours(desk: Desk, clock: HandSetClock) -> None:
    first = add_unit(desk, maker="A", model="First", route_id=1).unit_id
    clock.advance(minutes=3 * DAY)
    second, donor = stocked(desk), stocked(desk)
    bought_from(desk, donor, "Xaver", "2026-11-01", donor=True)
    skip_task(desk, read_unit(desk, first).tasks[0].task_id, "seen")
    hold_unit(desk, first, "part on order")
    clock.advance(minutes=2 * DAY)
    sheet = read_month(desk)
    assert [one.unit_id for one in sheet.slowest] == [first, second]
    slow = sheet.slowest[0]
    todo = [task for task in read_unit(desk, first).tasks if task.state == "todo" and not task.unattended]
    assert (slow.days, slow.stage, slow.held, slow.model) == (5, "received", "part on order", "A First")
    assert slow.estimate_minutes == sum(task.estimate_minutes for task in todo)
    sell(desk, second)
    clock.advance(minutes=7 * DAY)
    take_return(desk, second, reason="key", refund_text="", stage_id=stage(desk, "inspected"))
    clock.advance(minutes=DAY)
    assert [(one.unit_id, one.days) for one in read_month(desk).slowest] == [(first, 13), (second, 1)]


def test_consumables_per_unit_by_hand(desk: Desk, clock: HandSetClock) -> None:
    """1000 ml for 10.00: 30 + 45 ml cost 0.75; two units took 37.5 ml each. Wipes: 3 by one unit, 0.06."""
    restock(desk, ISOPROPYL, packs_text="1", price_text="10")
    restock(desk, WIPES, packs_text="1", price_text="2")
    one, two = (new_task(desk, stocked(desk)) for _ in range(2))
    take(desk, one, ISOPROPYL, 30_000)
    take(desk, two, ISOPROPYL, 45_000)
    take(desk, two, WIPES, 3_000)
    sheet = read_month(desk)
    first, second = sheet.used
    assert (first.consumable_id, first.quantity, first.units, first.per_unit) == (
        ISOPROPYL,
        75_000,
        2,
        37_500,
    )
    assert (first.cost_minor, first.cost_per_unit_minor) == (75, 38)
    assert (second.consumable_id, second.units, second.per_unit) == (WIPES, 1, 3_000)
    assert (sheet.used_units, sheet.used_minor) == (2, 75 + second.cost_minor)
    assert sheet.used_minor == sum(read_unit(desk, unit_id).consumables_minor for unit_id in (1, 2))
    assert sheet.used_per_unit_minor == (sheet.used_minor + 1) // 2
    clock.advance(minutes=31 * DAY)
    assert read_month(desk).used == ()
    assert read_month(desk).used_per_unit_minor is None


def test_what_was_issued_and_taken_back_was_not_used(desk: Desk) -> None:
    restock(desk, ISOPROPYL, packs_text="1", price_text="10")
    take(desk, new_task(desk, stocked(desk)), ISOPROPYL, 30_000)
    assert read_month(desk).used
    undo(desk)
    assert read_month(desk).used == ()


def test_an_empty_shop_has_a_sheet(desk: Desk) -> None:
    for sheet in (read_month(desk), read_year(desk)):
        assert isinstance(sheet, MonthSheet)
        assert (sheet.total, sheet.lines) == (Earned("", 0, 0, 0, 0), ())
        assert (sheet.slowest, sheet.tied_up, sheet.by_route) == ((), (), ())
    assert (read_month(desk).span, read_year(desk).span) == (Span(2026, 11), Span(2026))
    assert (read_month(desk).first, read_month(desk).last) == (date(2026, 11, 1), date(2026, 11, 30))
    with pytest.raises(BadInput):
        read_month(desk, 2026, 13)
