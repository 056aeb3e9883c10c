"""The demo's trade: sums agree wherever they are shown, every gate holds, nothing lies ahead of now."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from datetime import datetime, timedelta

import pytest

from bench.desk import Desk
from bench.domain.condition.verdicts import verdicts
from bench.domain.grading import Step, check_grade
from bench.domain.localtime import instant_of
from bench.domain.offers import BOUGHT, DECLINED, OPEN, STATES
from bench.domain.specification import specification_lines
from bench.domain.unit_money import total
from bench.domain.ways_out import SCRAPPED
from bench.domain.weeks import local_day, zone_named
from bench.domain.wipe import FAILED, NOT_VERIFIED, PASSED
from bench.errors import Refused, WipeFirst
from bench.views.certificate import read_certificate
from bench.views.condition import read_condition
from bench.views.drives import read_drive, read_drives
from bench.views.forecast import read_forecast
from bench.views.grades import read_grades
from bench.views.lots import read_lot, read_lots
from bench.views.months import read_as_of_now, read_month, read_year
from bench.views.most_to_pay import read_offer_price
from bench.views.next_up import read_ranking
from bench.views.offers import read_offers
from bench.views.particulars import unit_by_tag
from bench.views.parties import due_for_erasing, read_parties
from bench.views.parts import read_parts, read_shelf
from bench.views.queue import read_queue
from bench.views.register import CAME_BACK, DONOR, IN_STOCK, OWNERS, SOLD, UNSOLD, read_register
from bench.views.specification import read_specification
from bench.views.trade import read_channels, read_trade
from bench.views.unit_money import read_unit_money
from bench.work.demo import make_demo
from bench.work.moves import move_unit
from bench.work.selling import sell_unit
from tests.clocks import HandSetClock

ZONE = zone_named("Europe/Berlin")
NOWS = (
    datetime(2026, 11, 25, 15, 24, tzinfo=ZONE),  # an ordinary Wednesday
    datetime(2026, 11, 23, 0, 10, tzinfo=ZONE),  # the first minutes of a week
    datetime(2026, 3, 29, 3, 30, tzinfo=ZONE),  # the night the clocks go on (IANA zone data)
    datetime(2026, 1, 3, 21, 0, tzinfo=ZONE),  # after a turn of the year
)


@pytest.fixture(scope="module", params=NOWS, ids=lambda now: now.isoformat()[:16])
def desk(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    clock = HandSetClock(wall_us=instant_of(request.param))
    store = make_demo(tmp_path_factory.mktemp("demo") / "demo.bench", clock)
    yield Desk(store, clock, person_id=1)
    store.close()


def rows(desk: Desk, sql: str) -> list[sqlite3.Row]:
    with desk.store.read() as connection:
        return connection.execute(sql).fetchall()


def number(desk: Desk, sql: str) -> int:
    return int(rows(desk, sql)[0][0])


def unit_ids(desk: Desk) -> list[int]:
    return [row[0] for row in rows(desk, "SELECT id FROM unit ORDER BY id")]


def test_what_came_back_in_the_demo_knows_when(desk: Desk) -> None:
    """A unit's `back_us` is when its last return came, and none is set of one that never came back."""
    returned = (
        "SELECT unit.id, MAX(comeback.at_us) FROM comeback JOIN sale ON sale.id = comeback.sale_id"
        " JOIN unit ON unit.id = sale.unit_id GROUP BY unit.id ORDER BY unit.id"
    )
    back = "SELECT id, back_us FROM unit WHERE back_us IS NOT NULL ORDER BY id"
    assert len(rows(desk, returned)) == 2
    assert [tuple(one) for one in rows(desk, back)] == [tuple(one) for one in rows(desk, returned)]
    outside = (
        "SELECT COUNT(*) FROM drive JOIN unit ON unit.id = drive.unit_id"
        " WHERE drive.outside_us IS NOT unit.back_us"
    )
    assert number(desk, outside) == 0


def test_nothing_lies_ahead_of_now(desk: Desk) -> None:
    now_us = desk.clock.now_us()
    today = local_day(now_us, "Europe/Berlin").isoformat()
    looked_at = 0
    for (table,) in rows(desk, "SELECT name FROM sqlite_schema WHERE type = 'table'"):
        for column in rows(desk, f"SELECT name FROM pragma_table_info('{table}')"):
            name = column["name"]
            if name.endswith("_us") or name in {"bought_on", "sold_on"}:
                newest = rows(desk, f"SELECT MAX({name}) FROM {table}")[0][0]
                assert newest is None or newest <= (now_us if name.endswith("_us") else today), (table, name)
                looked_at += newest is not None
    assert looked_at > 20


def test_lots_add_up_to_the_last_cent(desk: Desk) -> None:
    """Each share within a minor unit of price x expected / all expected: relative sales value by hand."""
    lots = read_lots(desk).lots
    assert [(lot.units, lot.sold, lot.donors) for lot in lots] == [(3, 0, 1), (3, 0, 0), (3, 3, 0)]
    for line in lots:
        lot = read_lot(desk, line.lot_id)
        assert sum(unit.share_minor for unit in lot.lines) == lot.price_minor
        expected = sum(unit.expected_minor or 0 for unit in lot.lines)
        for unit in lot.lines:
            assert abs(unit.share_minor * expected - lot.price_minor * (unit.expected_minor or 0)) < expected


def test_cost_is_neither_lost_nor_made(desk: Desk) -> None:
    paid = number(desk, "SELECT SUM(price_minor) FROM unit")
    bought = number(desk, "SELECT SUM(cost_minor) FROM part WHERE from_unit_id IS NULL")
    freight = number(desk, "SELECT SUM(freight_minor) FROM lot")
    left = [read_parts(desk, unit_id).left_minor for unit_id in unit_ids(desk)]
    on_shelf = sum(part.cost_minor for part in read_shelf(desk).lines)
    assert min(left) >= 0
    assert on_shelf > 0
    assert freight == 1_850
    refunds = number(desk, "SELECT SUM(refund_minor) FROM parts_order WHERE refund_unit_id IS NOT NULL")
    gone = number(
        desk,
        "SELECT SUM(part.cost_minor) FROM component JOIN part ON part.component_id = component.id"
        " WHERE component.gone <> '' AND component.bears_unit_id IS NULL AND part.to_unit_id IS NULL",
    )
    assert (refunds, gone) == (2_600, 1_840)
    assert paid + bought + freight == sum(left) + refunds + on_shelf + gone


def test_the_register_agrees_with_the_rows_behind_it(desk: Desk) -> None:
    """Margin and tax calculated again here: m = s - p, tax = m x 19 / 119, halves up (VAT Notice 718)."""
    register = read_register(desk)
    assert [line.number for line in register.lines] == list(range(1, 71))
    states = {line.state for line in register.lines}
    assert states >= {SOLD, CAME_BACK, DONOR, IN_STOCK}
    sold = [line for line in register.lines if line.state == SOLD]
    assert len(sold) == 39
    for line in sold:
        assert line.price_minor is not None
        assert line.purchase_minor is not None
        assert line.bought_on is not None
        assert line.sold_on is not None
        margin = line.price_minor - line.purchase_minor
        assert (line.margin_minor, line.tax_minor) == (margin, (margin * 38 + 119) // 238)
        assert line.bought_on <= line.sold_on
    assert register.sales_minor == number(desk, "SELECT SUM(price_minor) FROM sale")
    assert register.purchases_minor == number(desk, "SELECT SUM(price_minor) FROM unit")
    assert register.refunds_minor == number(desk, "SELECT SUM(refund_minor) FROM comeback")
    invoices = [line.sale_invoice for line in sorted(register.lines, key=lambda line: line.sale_id or 0)]
    assert [one for one in invoices if one] == [f"S-{101 + at}" for at in range(40)]


def test_months_and_years_agree_with_each_units_money(desk: Desk) -> None:
    money = [read_unit_money(desk, unit_id) for unit_id in unit_ids(desk)]
    today = local_day(desk.clock.now_us(), "Europe/Berlin")
    years = [read_year(desk, year) for year in (today.year - 1, today.year)]
    margins = sum(one.margin_minor or 0 for one in money)
    assert sum(one.margin_minor is not None for one in money) == 39
    assert margins == sum(year.total.margin_minor for year in years)
    assert margins == sum(line.margin_minor for year in years for line in year.by_month)
    assert sum(year.total.units for year in years) == 39
    assert sum(year.returns for year in years) == 2
    for year in years:
        for gathered in (year.by_route, year.by_source, year.by_maker):
            assert sum(line.margin_minor for line in gathered) == year.total.margin_minor
    hands_on_us = sum(one.hands_on_us for one in money)
    open_us = number(
        desk,
        f"SELECT SUM({desk.clock.now_us()} - started_us) FROM time_entry"
        " WHERE stopped_us IS NULL AND attended = 1",
    )
    assert sum(year.total.spent_us for year in years) in {hands_on_us, hands_on_us + open_us}


def test_money_tied_up_is_what_the_queue_and_the_shelf_cost(desk: Desk) -> None:
    in_queue = {row.unit_id for stage in read_queue(desk).stages for row in stage.rows}
    money = [read_unit_money(desk, unit_id) for unit_id in in_queue]
    repaired = [one for one in money if one.sold or one.owner]
    cost_so_far = sum(one.cost_so_far_minor for one in money if not one.sold)
    to_earn_back = -sum(one.proceeds_minor for one in money if not one.sold)  # of a sale undone
    assert to_earn_back > 0
    sheet = read_month(desk)
    names = [line.name for line in sheet.tied_up]
    assert len(names) == len(set(names))
    assert (len([one for one in repaired if one.sold]), len([one for one in repaired if one.owner])) == (1, 3)
    assert sum(line.units for line in sheet.tied_up) == len(in_queue) - len(repaired)
    on_shelf = sum(part.cost_minor for part in read_shelf(desk).lines)
    assert sheet.tied_up_minor == cost_so_far + to_earn_back + on_shelf


def test_nothing_vanishes_cash_and_the_sums_of_all_lines_agree(desk: Desk) -> None:
    """Double entry in one line: results + what was kept = cash in - cash out + what is still tied up."""
    years = {row[0] for row in rows(desk, "SELECT DISTINCT substr(sold_on, 1, 4) FROM sale")}
    today = local_day(desk.clock.now_us(), "Europe/Berlin")
    sheets = [read_year(desk, year) for year in range(min(map(int, years)), today.year + 1)]
    results = sum(sheet.result_minor for sheet in sheets)
    kept = sum(total(sheet.kept) for sheet in sheets)
    taxes = read_register(desk).taxes_minor
    cash_in = number(
        desk,
        "SELECT (SELECT SUM(price_minor) FROM sale)"
        " + (SELECT SUM(COALESCE(fee_back_minor, 0)) FROM comeback)"
        " + (SELECT SUM(COALESCE(price_minor, 0) - tax_minor + proceeds_minor) FROM way_out)"
        " + (SELECT SUM(refund_minor) FROM parts_order) + (SELECT SUM(price_minor) FROM component)",
    )
    cash_out = number(
        desk,
        "SELECT (SELECT SUM(price_minor) FROM unit) + (SELECT SUM(freight_minor) FROM purchase)"
        " + (SELECT SUM(cost_minor) FROM part WHERE from_unit_id IS NULL)"
        " - (SELECT SUM(cost_minor) FROM movement WHERE task_id IS NOT NULL)"
        " + (SELECT SUM(fee_minor + shipping_minor) FROM sale)"
        " + (SELECT SUM(refund_minor + COALESCE(postage_minor, 0)) FROM comeback)",
    )
    assert results == cash_in - cash_out - taxes + read_month(desk).tied_up_minor - kept
    told = {line.words for sheet in sheets for line in sheet.unsold}
    assert told >= {"repairs of owners' machines", "scrapped, cost lost", "proceeds of scrap"}


def test_the_demo_tells_what_goes_wrong(desk: Desk) -> None:
    """A repair without a refund, a sale undone with its fee back, scrap, and owners' machines."""
    back = rows(desk, "SELECT undoes, refund_minor, fee_back_minor, postage_minor FROM comeback ORDER BY id")
    assert sorted(tuple(row) for row in back) == [(0, 0, 0, 0), (1, 49_900, 4_491, 749)]
    ways = rows(desk, "SELECT way, COUNT(*) FROM way_out GROUP BY way ORDER BY way")
    assert [tuple(row) for row in ways] == [("handed back", 6), ("scrapped", 1), ("sold", 40)]
    assert {line.state for line in read_register(desk).lines} >= {OWNERS, UNSOLD[SCRAPPED]}
    assert sum(line.state == OWNERS for line in read_register(desk).lines) == 9


def test_what_is_listed_or_sold_passed_the_gate_of_wipes(desk: Desk) -> None:
    out = rows(
        desk,
        "SELECT unit.id FROM unit JOIN stage ON stage.id = unit.stage_id"
        " WHERE stage.name IN ('listed', 'sold')",
    )
    sheets = [read_drives(desk, row[0]) for row in out]
    assert sum(bool(sheet.drives) for sheet in sheets) > 25
    assert all(sheet.may_be_listed for sheet in sheets)
    assert sum(sheet.unwiped is not None for sheet in sheets) == 1


def test_wipes_ended_before_they_were_verified_and_only_passed_ones_are_certified(desk: Desk) -> None:
    wipes = rows(
        desk,
        "SELECT wipe.id, result, wiped_us, verified_us, COALESCE(drive.outside_us, 0) > wiped_us AS outside"
        " FROM wipe JOIN drive ON drive.id = wipe.drive_id",
    )
    results = [wipe["result"] for wipe in wipes]
    assert results.count(FAILED) == 1
    assert results.count(NOT_VERIFIED) == 2
    assert results.count(PASSED) > 40
    assert [wipe["outside"] for wipe in wipes].count(1) == 1  # its unit was sold, and came back
    for wipe in wipes:
        if wipe["result"] == PASSED and not wipe["outside"]:
            assert wipe["wiped_us"] < wipe["verified_us"]
            certificate = read_certificate(desk, wipe["id"])
            assert certificate.drive.serial
            assert certificate.wipe.tool
        else:
            with pytest.raises(Refused):
                read_certificate(desk, wipe["id"])


def test_parts_and_drives_moved_while_their_units_were_there(desk: Desk) -> None:
    moved = rows(
        desk,
        "SELECT part.*, giver.added_us AS came_us, taker.added_us AS took_us, sale.sold_us FROM part"
        " LEFT JOIN unit AS giver ON giver.id = part.from_unit_id"
        " LEFT JOIN unit AS taker ON taker.id = part.to_unit_id"
        " LEFT JOIN sale ON sale.unit_id IN (part.from_unit_id, part.to_unit_id)",
    )
    assert {row["from_unit_id"] is None for row in moved} == {True, False}
    for row in moved:
        assert max(row["came_us"] or 0, row["took_us"] or 0) <= row["at_us"]
        assert row["sold_us"] is None or row["at_us"] <= row["sold_us"]
        if row["drive_id"] is not None:
            assert read_drive(desk, row["drive_id"]).unit_id == row["to_unit_id"]
            assert read_drive(desk, row["drive_id"]).serial == row["serial"]


def test_readings_are_judged_and_grades_hold_by_their_own_rules(desk: Desk) -> None:
    kept = rows(desk, "SELECT unit_id, subject, figures, drive_id FROM reading")
    assert {row["subject"] for row in kept} == {
        *("battery", "drive", "memory", "heat"),
        *("screen", "ports", "keyboard", "screws"),
    }
    assert all(verdicts(row["subject"], json.loads(row["figures"])) for row in kept)
    assert all(row["drive_id"] is not None for row in kept if row["subject"] == "drive")
    both = [read_condition(desk, unit_id) for unit_id in sorted({row["unit_id"] for row in kept})]
    assert sum(any(part.compared for lines in sheet.subjects for part in lines.parts) for sheet in both) > 10
    graded = [read_grades(desk, unit_id) for unit_id in unit_ids(desk)]
    lines = [line for sheet in graded for line in sheet.lines if line.grade_id is not None]
    assert len(lines) > 80
    for line in lines:
        check_grade(
            function=line.function, looks=line.looks, sentence=line.sentence, tested=line.tested
        )  # BadInput where a flaw has no sentence
        assert line.function is None or isinstance(line.function, Step)


def test_offers_are_open_left_and_bought(desk: Desk) -> None:
    offers = read_offers(desk, None)
    assert [offer.state for offer in offers].count(OPEN) == 1
    assert [offer.state for offer in offers].count(STATES[DECLINED]) == 1
    for offer in offers:
        assert any(finding.words for finding in offer.findings)
        assert (offer.state == BOUGHT) == (offer.unit_id is not None)
        sheet = read_offer_price(desk, offer.offer_id)
        assert sheet.time.jobs >= 10
    [left_out] = [offer for offer in offers if offer.state == OPEN]
    assert any(not finding.seen for finding in left_out.findings)


def test_the_journal_tells_each_units_whole_way(desk: Desk) -> None:
    told: dict[int, dict[str, int]] = {}
    for row in rows(desk, "SELECT changes FROM journal WHERE changes <> '[]' ORDER BY at_us, id"):
        added, noted = json.loads(row["changes"])
        assert [one["table"] for one in (added, noted)] == ["stage_move", "unit"]
        if noted["id"] in told:
            assert noted["before"] == told[noted["id"]]
        assert noted["before"]["stage_since_us"] <= noted["after"]["stage_since_us"]
        told[noted["id"]] = noted["after"]
    assert len(told) == 68
    for row in rows(desk, "SELECT id, stage_id, stage_since_us, added_us FROM unit"):
        now = {"stage_id": row["stage_id"], "stage_since_us": row["stage_since_us"]}
        assert told.get(row["id"], {**now, "stage_since_us": row["added_us"]}) == now


def test_no_name_of_a_party_stands_anywhere_else(desk: Desk) -> None:
    """What must be erasable one day stands in the party's own row only."""
    with closing(sqlite3.connect(desk.store.path)) as connection:
        text = "\n".join(connection.iterdump())
    names = [party.name for party in read_parties(desk)]
    assert len(names) == 42
    assert {name: text.count(name) for name in names if text.count(name) != 1} == {}


def test_one_person_typed_by_mistake_is_due_for_erasing(desk: Desk) -> None:
    [due] = due_for_erasing(desk)
    assert (due.bought, due.sold, due.in_stock) == (0, 0, False)


def test_what_next_and_the_forecast_rest_on_the_shops_own_past(desk: Desk) -> None:
    ranking, forecast = read_ranking(desk), read_forecast(desk)
    assert next(line for line in ranking.lines if "cover off" not in line.reason).past_due
    assert sum(line.to_earn_minor > 0 for line in ranking.lines) >= 15
    assert {line.why.split(":")[0].split(",")[0] for line in ranking.waiting} == {
        *("on hold", "donor", "work stopped")
    }
    assert all(stage.stays >= 40 for stage in forecast.stages)
    assert not any(line.missing for line in forecast.lines)
    assert forecast.law is not None


def test_the_shop_trades_as_its_file_says(desk: Desk) -> None:
    trade = read_trade(desk)
    assert (trade.margin_scheme, trade.margin_tax_per_10000, trade.wanted_margin_minor) == (True, 1900, 3500)
    assert [(one.name, one.fee_per_10000, one.fee_fixed_minor) for one in read_channels(desk)] == [
        ("over the counter", 0, 0),
        ("online market", 900, 35),
        ("Saturday stall", 0, 400),
    ]


def test_a_listed_unit_can_be_sold_and_an_unwiped_one_cannot_be_listed(demo_desk: Desk) -> None:
    """The demo's rows are such as the use cases go on from."""
    sold = sell_unit(
        demo_desk, unit_by_tag(demo_desk, "10428"), price_text="340", channel_id=2, open_tasks="done"
    )
    assert (sold.fee_minor, sold.warranty_until) == (3095, sold.sold_on + timedelta(days=365))
    assert read_register(demo_desk).lines[41].margin_minor == 34_000 - 11_000
    not_verified = unit_by_tag(demo_desk, "10653")
    listed = number(demo_desk, "SELECT id FROM stage WHERE name = 'listed'")
    with pytest.raises(WipeFirst):
        move_unit(demo_desk, not_verified, listed, open_tasks="skip", reason="To see")


def test_what_units_are_made_of_is_what_was_typed(desk: Desk) -> None:
    known = 0
    for unit_id in range(1, 71):
        sheet = read_specification(desk, unit_id)
        known += len(sheet.kept)
        assert all(specification_lines(one.machine) for one in sheet.kept)
    assert known == 9


@pytest.mark.parametrize("most", [1, 7, 50, 1000])
def test_a_first_page_is_the_beginning_of_the_whole(desk: Desk, most: int) -> None:
    whole, people = read_register(desk).lines, read_parties(desk)
    page = read_register(desk, most=most)
    numbers = sorted({line.number for line in whole})[:most]
    assert page.lines == tuple(line for line in whole if line.number in numbers)
    assert page.units == len(numbers)
    assert read_parties(desk, most=most) == people[:most]
    assert read_as_of_now(desk).tied_up == read_year(desk).tied_up
    assert read_as_of_now(desk).slowest == read_year(desk).slowest
