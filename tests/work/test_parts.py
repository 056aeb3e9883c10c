"""Parts carry cost with them: nothing is lost or made, and no unit gives more than it has."""

from __future__ import annotations

from functools import partial

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bench.desk import Desk
from bench.domain.ways_out import KEPT
from bench.errors import BadInput, NotFound, Refused, WipeFirst
from bench.views.drives import read_drives
from bench.views.parts import read_part_cost, read_parts, read_shelf
from bench.work.comebacks import take_return
from bench.work.drive_moves import move_drive
from bench.work.drives import add_drive
from bench.work.leaving import leave_unit
from bench.work.moves import move_unit
from bench.work.parts import edit_part, fit_from_shelf, fit_part, swap_parts, take_part
from bench.work.purchases import edit_purchase
from bench.work.units import edit_unit
from tests.work.sale_steps import sell, stage, stocked
from tests.work.taking_back import changes_nothing, is_taken_back
from tests.work.trade_steps import last_summary, new_unit


@pytest.fixture
def pair(desk: Desk) -> tuple[int, int]:
    """Unit 10014 bought for 80.00 and unit 10022 for 50.00."""
    return new_unit(desk, "80"), new_unit(desk, "50")


def left(desk: Desk, *units: int) -> list[int]:
    return [read_parts(desk, unit_id).left_minor for unit_id in units]


def test_a_part_bought_adds_its_cost(desk: Desk, pair: tuple[int, int]) -> None:
    a, _ = pair
    moved = is_taken_back(
        desk,
        lambda: fit_part(
            desk, a, name="battery", cost_text="35.90", supplier="A shop", serial="B-1", note="new"
        ),
    )
    assert (moved.cost_minor, moved.from_tag, moved.to_tag, moved.from_left_minor) == (
        3_590,
        "",
        "10014",
        None,
    )
    parts = read_parts(desk, a)
    [line] = parts.lines
    assert (line.name, line.serial, line.supplier, line.note, line.person) == (
        "battery",
        "B-1",
        "A shop",
        "new",
        "Ada",
    )
    assert (line.from_unit_id, line.to_unit_id, line.cost_minor) == (None, a, 3_590)
    assert (parts.price_minor, parts.left_minor, parts.tag, parts.currency) == (8_000, 11_590, "10014", "EUR")
    assert last_summary(desk) == "Fitted battery into 10014, 35.90 EUR"


def test_a_donors_part_carries_cost_to_the_unit_that_takes_it(desk: Desk, pair: tuple[int, int]) -> None:
    a, b = pair
    moved = is_taken_back(desk, lambda: take_part(desk, a, name="screen", cost_text="30", to_unit_id=b))
    assert (moved.from_tag, moved.to_tag, moved.from_left_minor) == ("10014", "10022", 5_000)
    assert left(desk, a, b) == [5_000, 8_000]
    assert read_parts(desk, a).lines == read_parts(desk, b).lines, "it shows on both"
    assert last_summary(desk) == "Took screen out of 10014 into 10022, 30.00 EUR"


def test_no_part_carries_more_than_is_left(desk: Desk, pair: tuple[int, int]) -> None:
    a, b = pair
    take_part(desk, a, name="screen", cost_text="79.99", to_unit_id=b)
    changes_nothing(
        desk,
        lambda: take_part(desk, a, name="lid", cost_text="0.02", to_unit_id=b),
        Refused,
        r"10014 has 0\.01 EUR of cost left; 0\.02 EUR cannot go from it",
    )
    take_part(desk, a, name="lid", cost_text="0.01")
    assert left(desk, a, b) == [0, 12_999]


def test_a_part_waits_on_the_shelf_with_its_cost(desk: Desk, pair: tuple[int, int]) -> None:
    a, b = pair
    part_id = is_taken_back(desk, lambda: take_part(desk, a, name="memory", cost_text="12")).part_id
    assert last_summary(desk) == "Took memory out of 10014 to the shelf, 12.00 EUR"
    shelf = read_shelf(desk)
    assert ([line.name for line in shelf.lines], shelf.cost_minor) == (["memory"], 1_200)
    assert left(desk, a, b) == [6_800, 5_000]
    changes_nothing(desk, lambda: fit_from_shelf(desk, part_id, a), Refused, "came out of 10014 itself")
    fitted = is_taken_back(desk, lambda: fit_from_shelf(desk, part_id, b))
    assert (fitted.from_tag, fitted.to_tag, fitted.cost_minor) == ("10014", "10022", 1_200)
    assert left(desk, a, b) == [6_800, 6_200]
    assert read_shelf(desk).lines == ()
    changes_nothing(desk, lambda: fit_from_shelf(desk, part_id, a), Refused, "does not lie on the shelf")


def test_a_swap_moves_cost_both_ways_in_one_step(desk: Desk, pair: tuple[int, int]) -> None:
    a, b = pair
    swapped = is_taken_back(
        desk, lambda: swap_parts(desk, a, b, name="drive", cost_a_text="25", cost_b_text="10")
    )
    assert (swapped.tag_a, swapped.tag_b, swapped.left_a_minor, swapped.left_b_minor) == (
        "10014",
        "10022",
        6_500,
        6_500,
    )
    assert left(desk, a, b) == [6_500, 6_500]
    for unit_id in pair:
        assert [
            (line.from_tag, line.to_tag, line.cost_minor) for line in read_parts(desk, unit_id).lines
        ] == [
            ("10014", "10022", 2_500),
            ("10022", "10014", 1_000),
        ]
    assert last_summary(desk) == "Swapped drive of 10014 (25.00 EUR) and 10022 (10.00 EUR)"


def test_a_swap_refuses_whole(desk: Desk, pair: tuple[int, int]) -> None:
    a, b = pair

    def swap(first: int, second: int, cost_a: str = "1", cost_b: str = "1") -> None:
        swap_parts(desk, first, second, name="drive", cost_a_text=cost_a, cost_b_text=cost_b)

    changes_nothing(desk, lambda: swap(a, b, "80.01"), Refused, "10014 has 80.00 EUR")
    changes_nothing(desk, lambda: swap(a, b, "1", "50.01"), Refused, "10022 has 50.00 EUR")
    changes_nothing(desk, lambda: swap(a, a), BadInput, "named twice")
    changes_nothing(desk, lambda: swap(a, b, ""), BadInput, "Type 0 if it carries none")
    changes_nothing(desk, lambda: swap(a, 99), NotFound, "no unit with number 99")


def test_drives_go_along(desk: Desk, pair: tuple[int, int]) -> None:
    a, b = pair
    one, two = add_drive(desk, a, serial="D-A"), add_drive(desk, b, serial="D-B")

    def drives(unit_id: int | None) -> list[int]:
        return [drive.drive_id for drive in read_drives(desk, unit_id).drives]

    is_taken_back(
        desk,
        lambda: swap_parts(
            desk, a, b, name="drive", cost_a_text="5", cost_b_text="5", drive_a_id=one, serial_b="D-B"
        ),
    )
    assert (drives(a), drives(b)) == ([two], [one])
    assert [line.drive_id for line in read_parts(desk, a).lines] == [one, two]
    part_id = is_taken_back(
        desk, lambda: take_part(desk, a, name="drive", cost_text="5", serial="D-B")
    ).part_id
    assert (drives(a), drives(None)) == ([], [two])
    is_taken_back(desk, lambda: fit_from_shelf(desk, part_id, b))
    assert sorted(drives(b)) == [one, two]
    spare = add_drive(desk, None, serial="D-C")
    is_taken_back(desk, lambda: fit_part(desk, a, name="drive", cost_text="40", drive_id=spare))
    assert drives(a) == [spare]
    changes_nothing(
        desk,
        lambda: fit_part(desk, a, name="drive", cost_text="40", drive_id=one),
        Refused,
        "The drive D-A is not on the shelf",
    )
    changes_nothing(
        desk,
        lambda: take_part(desk, a, name="drive", cost_text="1", drive_id=one),
        Refused,
        "The drive D-A is not in that unit",
    )


def test_a_drive_that_is_not_wiped_stays_out_of_a_listed_unit(desk: Desk, pair: tuple[int, int]) -> None:
    a, b = pair
    drive_id = add_drive(desk, a, serial="D-A")
    move_unit(desk, b, stage(desk, "listed"))
    changes_nothing(
        desk,
        lambda: take_part(desk, a, name="drive", cost_text="1", to_unit_id=b, drive_id=drive_id),
        WipeFirst,
        "no passed wipe record",
    )


def test_units_that_have_left_give_and_take_nothing(desk: Desk, pair: tuple[int, int]) -> None:
    a, b = pair
    move_unit(desk, b, stage(desk, "sold"))
    changes_nothing(
        desk, lambda: take_part(desk, a, name="x", cost_text="1", to_unit_id=b), Refused, "has left"
    )
    changes_nothing(desk, lambda: take_part(desk, b, name="x", cost_text="1"), Refused, "has left")
    changes_nothing(desk, lambda: fit_part(desk, b, name="charger", cost_text="9"), Refused, "has left")
    in_a = take_part(desk, a, name="fan", cost_text="1").part_id
    changes_nothing(desk, lambda: fit_from_shelf(desk, in_a, b), Refused, "has left")
    changes_nothing(
        desk,
        lambda: swap_parts(desk, a, b, name="x", cost_a_text="1", cost_b_text="1"),
        Refused,
        "has left",
    )
    for came_in in (add_drive(desk, a, model="D 1"), add_drive(desk, None, model="D 2")):
        into_b = partial(move_drive, desk, came_in, b, cost_text="0")
        changes_nothing(desk, into_b, Refused, "has left")
    move_unit(desk, b, stage(desk, "inspected"))
    fit_part(desk, b, name="charger", cost_text="9")
    assert left(desk, b) == [5_900]


def test_a_sold_unit_takes_parts_only_once_it_is_back(desk: Desk) -> None:
    unit_id = stocked(desk)
    sell(desk, unit_id, shipping_text="0")
    changes_nothing(desk, lambda: fit_part(desk, unit_id, name="fan", cost_text="9"), Refused, "has left")
    take_return(desk, unit_id, reason="fan", refund_text="", stage_id=stage(desk, "inspected"))
    fit_part(desk, unit_id, name="fan", cost_text="9")
    assert left(desk, unit_id) == [30_900]


def test_a_drive_of_a_unit_that_has_left_stays_in_it(desk: Desk, pair: tuple[int, int]) -> None:
    a, b = pair
    drive_id = add_drive(desk, b, model="D 1")
    leave_unit(desk, b, way=KEPT, reason="for the counter")
    changes_nothing(desk, lambda: move_drive(desk, drive_id, a, cost_text="0"), Refused, "has left")
    changes_nothing(desk, lambda: move_drive(desk, drive_id, None, cost_text="0"), Refused, "has left")


def test_a_part_is_set_right_within_what_units_bear(desk: Desk, pair: tuple[int, int]) -> None:
    a, b = pair
    part_id = take_part(desk, a, name="screen", cost_text="30", to_unit_id=b).part_id

    def edit(cost: str, name: str = "screen 14") -> None:
        edit_part(desk, part_id, name=name, cost_text=cost, serial="S", supplier="", note="scratched")

    is_taken_back(desk, lambda: edit("20"))
    assert left(desk, a, b) == [6_000, 7_000]
    assert read_parts(desk, b).lines[0].name == "screen 14"
    changes_nothing(desk, lambda: edit("80.01"), Refused, "10014 has 60.00 EUR of cost left; 60.01 EUR")
    take_part(desk, b, name="case", cost_text="65")
    changes_nothing(desk, lambda: edit("14.99"), Refused, "10022 has 5.00 EUR of cost left; 5.01 EUR")
    edit("15")
    assert left(desk, a, b) == [6_500, 0]
    changes_nothing(desk, lambda: edit("1", name=""), BadInput, "The part is empty")
    bought = fit_part(desk, a, name="fan", cost_text="9").part_id
    edit_part(desk, bought, name="fan", cost_text="19", serial="", supplier="A shop", note="")
    assert left(desk, a) == [8_400]


def test_the_suggestion_is_the_relative_share_of_what_is_left(desk: Desk, pair: tuple[int, int]) -> None:
    a, _ = pair
    assert read_part_cost(desk, a, "30") == 3_000, "nothing is expected of it: its own worth"
    assert read_part_cost(desk, a, "300") == 8_000
    edit_purchase(desk, a, expected_text="160", bought_on_text="", invoice="")
    assert read_part_cost(desk, a, "40") == 2_000, "80.00 x 40 / 160"
    take_part(desk, a, name="screen", cost_text="20")
    assert read_part_cost(desk, a, "40") == 1_500, "60.00 x 40 / 160"
    with pytest.raises(BadInput):
        read_part_cost(desk, a, "?")
    for read in (lambda: read_part_cost(desk, 99, "1"), lambda: read_parts(desk, 99)):
        with pytest.raises(NotFound, match="no unit with number 99"):
            read()


def test_what_cannot_be_a_part(desk: Desk, pair: tuple[int, int]) -> None:
    a, _ = pair
    changes_nothing(desk, lambda: fit_part(desk, a, name=" ", cost_text="1"), BadInput, "The part is empty")
    changes_nothing(desk, lambda: fit_part(desk, a, name="x", cost_text=" "), BadInput, "cost is empty")
    changes_nothing(desk, lambda: fit_part(desk, 99, name="x", cost_text="1"), NotFound, "number 99")
    changes_nothing(
        desk, lambda: take_part(desk, a, name="x", cost_text="1", to_unit_id=a), BadInput, "named twice"
    )
    changes_nothing(
        desk,
        lambda: edit_part(desk, 9, name="x", cost_text="1", serial="", supplier="", note=""),
        NotFound,
        "no part with number 9",
    )


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(steps=st.lists(st.tuples(st.integers(0, 2), st.integers(0, 2), st.integers(0, 9_000)), max_size=8))
def test_whatever_moves_the_sum_stays_the_same(desk: Desk, steps: list[tuple[int, int, int]]) -> None:
    """Three units of 30.00: parts go to and fro, to the shelf where both ends are one; 90.00 stay 90.00."""
    units = [new_unit(desk, "30") for _ in range(3)]
    on_shelf = read_shelf(desk).cost_minor
    for giver, taker, cost in steps:
        to = units[taker] if taker != giver else None
        text = f"{cost / 100:.2f}"
        try:
            take_part(desk, units[giver], name="part", cost_text=text, to_unit_id=to, again="another")
        except Refused:
            assert cost > left(desk, units[giver])[0]
        assert min(left(desk, *units)) >= 0
        assert sum(left(desk, *units)) + read_shelf(desk).cost_minor - on_shelf == 9_000


def test_a_price_is_not_typed_below_what_parts_took_along(desk: Desk, pair: tuple[int, int]) -> None:
    a, _ = pair
    take_part(desk, a, name="screen", cost_text="30")

    def edit(price: str) -> None:
        typed = {"maker": "", "model": "M", "serial": "", "note": "", "due_text": "", "tag_text": ""}
        edit_unit(desk, a, price_text=price, **typed)

    changes_nothing(desk, lambda: edit("29.99"), Refused, r"have carried 0\.01 EUR more away than 29\.99 EUR")
    edit("30")
    assert left(desk, a) == [0]
