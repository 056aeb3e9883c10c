"""Lots: shared to the last minor unit, shared again, donors; the published cases through the file."""

from __future__ import annotations

import pytest

from bench.desk import Desk
from bench.domain.lots import LotBought, LotUnit
from bench.domain.party import PartyTyped
from bench.errors import BadInput, NotFound, Refused
from bench.views.lots import read_lot, read_lots
from bench.views.purchase import read_purchase
from bench.views.unit import read_unit
from bench.work.lots import buy_lot, end_donor, make_donor, reshare_lot
from bench.work.moves import move_unit
from bench.work.parts import take_part
from bench.work.units import edit_unit
from tests.work.looked_into import looked_into_if_need_be
from tests.work.sale_steps import sell, stage
from tests.work.taking_back import changes_nothing, is_taken_back
from tests.work.trade_steps import CHARGER_LEAD, last_summary, new_unit


def unit(expected: str = "", **more: object) -> LotUnit:
    return LotUnit("Maker", "M", expected_text=expected, **more)  # type: ignore[arg-type]


def buy(desk: Desk, price: str, *units: LotUnit, **more: object) -> LotBought:
    return buy_lot(desk, name="three boxes", price_text=price, units=units, **more)  # type: ignore[arg-type]


def shares(desk: Desk, lot_id: int) -> list[int]:
    sheet = read_lot(desk, lot_id)
    assert sum(line.share_minor for line in sheet.lines) == sheet.price_minor
    return [line.share_minor for line in sheet.lines]


def test_the_published_case_of_joint_cost(desk: Desk) -> None:
    # Cost accounting texts: a joint cost of 200 over sales values of 200, 250 and 350: 50, 62.50 and 87.50.
    lot = is_taken_back(desk, lambda: buy(desk, "200", unit("200"), unit("250"), unit("350")))
    assert [one.new_minor for one in lot.shares] == [5_000, 6_250, 8_750]
    assert shares(desk, lot.lot_id) == [5_000, 6_250, 8_750]
    told = ", ".join(f"{one.tag} {one.new_minor / 100:.2f} EUR" for one in lot.shares)
    assert last_summary(desk) == f"Bought lot three boxes for 200.00 EUR: {told}"


def test_units_come_with_all_that_was_typed(desk: Desk) -> None:
    lot = buy(
        desk,
        "100",
        unit("10", serial="S-1", route_id=CHARGER_LEAD, note="no lid", tag_text="20010"),
        unit("30"),
        seller=PartyTyped("A firm", private=False),
        bought_on_text="2026-11-20",
        invoice="R 9",
        note="pallet 4",
    )
    first = read_unit(desk, lot.shares[0].unit_id)
    assert (first.tag, first.serial, first.note, first.route) == ("20010", "S-1", "no lid", "charger lead")
    assert (first.price_minor, len(first.tasks)) == (2_500, 4)
    bought = read_purchase(desk, first.unit_id)
    assert (bought.lot, bought.seller, str(bought.bought_on), bought.invoice, bought.expected_minor) == (
        "three boxes",
        "A firm",
        "2026-11-20",
        "R 9",
        1_000,
    )
    sheet = read_lot(desk, lot.lot_id)
    assert (sheet.seller, sheet.note, str(sheet.bought_on), sheet.currency) == (
        "A firm",
        "pallet 4",
        "2026-11-20",
        "EUR",
    )
    assert "largest" in sheet.rule
    [line] = read_lots(desk).lots
    assert (line.units, line.sold, line.donors, line.price_minor) == (2, 0, 0, 10_000)


def test_without_expectations_all_get_equal_parts_and_donors_none(desk: Desk) -> None:
    assert shares(desk, buy(desk, "100", unit(), unit(), unit()).lot_id) == [3_334, 3_333, 3_333]
    assert shares(desk, buy(desk, "100", unit(), unit(donor=True), unit()).lot_id) == [5_000, 0, 5_000]
    assert shares(desk, buy(desk, "100", unit(donor=True), unit(donor=True)).lot_id) == [5_000, 5_000]


def test_a_donor_counts_with_what_its_parts_are_worth(desk: Desk) -> None:
    lot = buy(desk, "100", unit("300"), unit("100", donor=True))
    assert shares(desk, lot.lot_id) == [7_500, 2_500]
    assert [line.donor for line in read_lot(desk, lot.lot_id).lines] == [False, True]


def test_shared_anew_when_expectations_change(desk: Desk) -> None:
    lot = buy(desk, "100", unit("100"), unit("100"), unit("100"))
    ids = [one.unit_id for one in lot.shares]
    tags = [one.tag for one in lot.shares]
    # 100.00 by 50 : 100 : 50 gives 25, 50 and 25
    answer = is_taken_back(desk, lambda: reshare_lot(desk, lot.lot_id, expected={ids[0]: "50", ids[2]: "50"}))
    assert [(one.old_minor, one.new_minor) for one in answer.shares] == [
        (3_334, 2_500),
        (3_333, 5_000),
        (3_333, 2_500),
    ]
    assert shares(desk, lot.lot_id) == [2_500, 5_000, 2_500]
    assert last_summary(desk) == (
        f"Shared lot three boxes again: {tags[0]} 33.34 EUR → 25.00 EUR, "
        f"{tags[1]} 33.33 EUR → 50.00 EUR, {tags[2]} 33.33 EUR → 25.00 EUR"
    )
    before = last_summary(desk)
    reshare_lot(desk, lot.lot_id)
    assert last_summary(desk) == before, "nothing changed, nothing journaled"


def test_a_unit_turns_out_a_donor(desk: Desk) -> None:
    lot = buy(desk, "100", unit("100"), unit("100"), unit("200"))
    ids = [one.unit_id for one in lot.shares]
    marked = is_taken_back(desk, lambda: make_donor(desk, ids[0]))
    assert (marked.donor, marked.expected_minor, marked.lot_id, marked.shares) == (True, 0, lot.lot_id, ())
    assert shares(desk, lot.lot_id) == [2_500, 2_500, 5_000], "marking moves nothing"
    assert read_unit(desk, ids[0]).stage == "received"
    # 100.00 by 0 : 100 : 200
    reshare_lot(desk, lot.lot_id)
    assert shares(desk, lot.lot_id) == [0, 3_333, 6_667]
    whole = is_taken_back(desk, lambda: end_donor(desk, ids[0], expected_text="100", reshare=True))
    assert [one.new_minor for one in whole.shares] == [2_500, 2_500, 5_000]
    # and in one step, its parts worth 100 of 100 : 100 : 200
    again = is_taken_back(desk, lambda: make_donor(desk, ids[0], expected_text="20", reshare=True))
    assert [one.new_minor for one in again.shares] == [625, 3_125, 6_250]
    assert "shared lot three boxes again" in last_summary(desk)


def test_a_unit_of_its_own_can_be_a_donor(desk: Desk) -> None:
    unit_id = new_unit(desk, "30")
    marked = make_donor(desk, unit_id, expected_text="25", reshare=True)
    assert (marked.lot_id, marked.shares) == (None, ())
    assert read_purchase(desk, unit_id).donor
    changes_nothing(desk, lambda: make_donor(desk, unit_id), Refused, "is a donor already")
    end_donor(desk, unit_id, expected_text="90")
    changes_nothing(desk, lambda: end_donor(desk, unit_id, expected_text="90"), Refused, "is no donor")
    changes_nothing(desk, lambda: make_donor(desk, unit_id, expected_text="?"), BadInput, "not an amount")
    looked_into_if_need_be(desk, unit_id)
    move_unit(desk, unit_id, stage(desk, "sold"))
    changes_nothing(desk, lambda: make_donor(desk, unit_id), Refused, "has left the queue")


def test_a_sold_unit_keeps_its_share(desk: Desk) -> None:
    lot = buy(desk, "100", unit("100"), unit("100"), unit("200"))
    ids = [one.unit_id for one in lot.shares]
    sell(desk, ids[0], "150")
    # 25.00 stay; the other 75.00 by 100 : 400 are 15 and 60
    answer = reshare_lot(desk, lot.lot_id, expected={ids[2]: "400"})
    assert [one.new_minor for one in answer.shares] == [2_500, 1_500, 6_000]
    assert [line.sold for line in read_lot(desk, lot.lot_id).lines] == [True, False, False]
    assert read_lots(desk).lots[0].sold == 1
    changes_nothing(
        desk, lambda: reshare_lot(desk, lot.lot_id, expected={ids[0]: "9"}), Refused, "keeps its share"
    )
    sell(desk, ids[1], "150")
    sell(desk, ids[2], "150")
    changes_nothing(desk, lambda: reshare_lot(desk, lot.lot_id), Refused, "Every unit of the lot")


def test_parts_never_carry_more_than_the_new_share(desk: Desk) -> None:
    lot = buy(desk, "100", unit("100"), unit("100"))
    donor, taker = (one.unit_id for one in lot.shares)
    take_part(desk, donor, name="screen", cost_text="20", to_unit_id=taker)
    changes_nothing(
        desk,
        lambda: make_donor(desk, donor, reshare=True),
        Refused,
        r"have carried 20\.00 EUR more away than 0\.00 EUR for it leaves",
    )
    # its parts are worth 25 of 125: 20.00 of the 100.00, just what the screen took
    answer = make_donor(desk, donor, expected_text="25", reshare=True)
    assert [one.new_minor for one in answer.shares] == [2_000, 8_000]
    assert [line.left_minor for line in read_lot(desk, lot.lot_id).lines] == [0, 10_000]


def test_a_share_is_not_typed_over(desk: Desk) -> None:
    lot = buy(desk, "100", unit("100"), unit("100"))

    def edit(price: str) -> None:
        sheet = read_unit(desk, lot.shares[0].unit_id)
        edit_unit(
            desk,
            sheet.unit_id,
            maker=sheet.maker,
            model="Other",
            serial="",
            note="",
            due_text="",
            price_text=price,
            tag_text="",
        )

    changes_nothing(desk, lambda: edit("60"), Refused, "is its share of the lot “three boxes”")
    edit("50")
    assert read_unit(desk, lot.shares[0].unit_id).model == "Other"


@pytest.mark.parametrize(
    ("price", "units", "match"),
    [
        ("100", (), "no unit in the lot"),
        ("", (LotUnit("", "M"),), "not an amount"),
        ("100", (LotUnit("", ""),), "The model is empty"),
        (
            "100",
            (LotUnit("", "A", expected_text="5"), LotUnit("", "B")),
            r"2 of the lot \(B\) has no",
        ),
        ("100", (LotUnit("", "A", expected_text="x"),), "not an amount"),
    ],
)
def test_what_cannot_be_bought(desk: Desk, price: str, units: tuple[LotUnit, ...], match: str) -> None:
    changes_nothing(desk, lambda: buy(desk, price, *units), BadInput, match)


def test_other_refusals(desk: Desk) -> None:
    changes_nothing(desk, lambda: buy(desk, "1", unit(), bought_on_text="+1"), BadInput, "still to come")
    changes_nothing(desk, lambda: reshare_lot(desk, 9), NotFound, "no lot with number 9")
    with pytest.raises(NotFound, match="no lot with number 9"):
        read_lot(desk, 9)
    lot = buy(desk, "100", unit(), unit())
    stranger, own = new_unit(desk), lot.shares[0].unit_id
    changes_nothing(
        desk, lambda: reshare_lot(desk, lot.lot_id, expected={stranger: "9"}), BadInput, "is not of the lot"
    )
    changes_nothing(
        desk, lambda: reshare_lot(desk, lot.lot_id, expected={own: "9"}), BadInput, "no price is expected"
    )
    assert shares(desk, lot.lot_id) == [5_000, 5_000]
