"""Drives are parts: none changes units without saying which record moved, and each move carries its cost."""

from __future__ import annotations

import pytest

from bench.desk import Desk
from bench.errors import BadInput, Conflict, Refused, WhichDrive
from bench.store.tables import Drive
from bench.views.drives import read_drives
from bench.views.parts import read_parts, read_shelf
from bench.work.change import change
from bench.work.drive_moves import arrange_drives, move_drive
from bench.work.drives import add_drive
from bench.work.moves import move_unit
from bench.work.part_rules import NONE_OF_THEM
from bench.work.parts import fit_from_shelf, fit_part, swap_parts, take_part
from bench.work.purchases import edit_purchase
from bench.work.undo import undo
from bench.work.units import add_unit
from tests.work.sale_steps import stage
from tests.work.taking_back import changes_nothing
from tests.work.trade_steps import last_summary, set_trade


@pytest.fixture
def pair(desk: Desk) -> tuple[int, int]:
    """Two units that cost 80 and 50."""
    first = add_unit(desk, maker="Maker", model="A", price_text="80").unit_id
    return first, add_unit(desk, maker="Maker", model="B", price_text="50").unit_id


def drives(desk: Desk, unit_id: int | None) -> list[int]:
    return [drive.drive_id for drive in read_drives(desk, unit_id).drives]


@pytest.mark.parametrize("name", ["SSD 512 GB", "hard disk", "Drive", "M.2 card", "NVMe"])
def test_a_part_that_may_be_a_drive_moves_only_with_which_one_it_is(
    desk: Desk, pair: tuple[int, int], name: str
) -> None:
    a, b = pair
    drive_id = add_drive(desk, a, model="NV-512", serial="N-1")
    with pytest.raises(WhichDrive, match="d1 NV-512 N-1") as asked:
        take_part(desk, a, name=name, cost_text="5", to_unit_id=b)
    assert asked.value.drives == ((drive_id, "NV-512 N-1"),)
    changes_nothing(desk, lambda: take_part(desk, a, name=name, cost_text="5"), WhichDrive, "none of them")
    take_part(desk, a, name=name, cost_text="5", to_unit_id=b, drive_id=NONE_OF_THEM)
    assert (drives(desk, a), drives(desk, b)) == ([drive_id], [])
    take_part(desk, a, name=name, cost_text="5", to_unit_id=b, drive_id=drive_id)
    assert (drives(desk, a), drives(desk, b)) == ([], [drive_id])


def test_other_parts_and_units_without_a_drive_record_are_not_asked(
    desk: Desk, pair: tuple[int, int]
) -> None:
    a, b = pair
    take_part(desk, a, name="drive", cost_text="1")
    add_drive(desk, a, serial="N-1")
    take_part(desk, a, name="fan", cost_text="1", to_unit_id=b)
    assert drives(desk, a) == [1]


def test_a_swap_asks_for_both_sides(desk: Desk, pair: tuple[int, int]) -> None:
    a, b = pair
    one, two = add_drive(desk, a, serial="N-1"), add_drive(desk, b, serial="N-2")

    def swap(**said: int) -> None:
        swap_parts(desk, a, b, name="drive", cost_a_text="1", cost_b_text="1", **said)  # type: ignore[arg-type]

    with pytest.raises(WhichDrive) as asked:
        swap()
    assert asked.value.field == "drive_a_id"
    with pytest.raises(WhichDrive) as asked:
        swap(drive_a_id=one)
    assert asked.value.field == "drive_b_id"
    assert (drives(desk, a), drives(desk, b)) == ([one], [two])
    swap(drive_a_id=one, drive_b_id=two)
    assert (drives(desk, a), drives(desk, b)) == ([two], [one])


def test_the_serial_number_of_a_drive_elsewhere_stops_the_part(desk: Desk, pair: tuple[int, int]) -> None:
    a, b = pair
    add_drive(desk, b, serial="N-2")
    changes_nothing(
        desk,
        lambda: take_part(desk, a, name="part", cost_text="1", serial=" n-2 "),
        Refused,
        "which is recorded elsewhere",
    )


def test_what_is_fitted_from_the_shelf_is_asked_about_too(desk: Desk, pair: tuple[int, int]) -> None:
    a, _ = pair
    spare = add_drive(desk, None, serial="N-3")
    changes_nothing(desk, lambda: fit_part(desk, a, name="SSD", cost_text="30"), WhichDrive, "on the shelf")
    fit_part(desk, a, name="SSD", cost_text="30", serial="N-3")
    assert drives(desk, a) == [spare]


def test_a_drive_moved_by_its_record_is_the_same_part(desk: Desk, pair: tuple[int, int]) -> None:
    a, b = pair
    drive_id = add_drive(desk, a, serial="N-1", media_type="NVMe")
    changes_nothing(desk, lambda: move_drive(desk, drive_id, b), BadInput, "Type 0 if it carries none")
    changes_nothing(
        desk, lambda: move_drive(desk, drive_id, b, cost_text="80.01"), Refused, "80.00 EUR of cost"
    )
    move_drive(desk, drive_id, None, cost_text="12")
    (lying,) = read_shelf(desk).lines
    assert (lying.name, lying.serial, lying.cost_minor, lying.drive_id) == ("NVMe", "N-1", 1_200, drive_id)
    move_drive(desk, drive_id, b)
    assert read_shelf(desk).lines == ()
    assert (read_parts(desk, a).left_minor, read_parts(desk, b).left_minor) == (6_800, 6_200)
    assert last_summary(desk) == "Moved the drive N-1 into 10022, 12.00 EUR"


def test_put_back_into_its_own_unit_it_takes_its_cost_back(desk: Desk, pair: tuple[int, int]) -> None:
    a, _ = pair
    drive_id = add_drive(desk, a, serial="N-1")
    move_drive(desk, drive_id, None, cost_text="12")
    move_drive(desk, drive_id, a)
    assert read_parts(desk, a).left_minor == 8_000
    assert (drives(desk, a), read_shelf(desk).lines, read_parts(desk, a).lines) == ([drive_id], (), ())


def test_a_part_taken_out_as_a_drive_is_fitted_as_one(desk: Desk, pair: tuple[int, int]) -> None:
    a, b = pair
    drive_id = add_drive(desk, a, serial="N-1")
    part_id = take_part(desk, a, name="drive", cost_text="5", drive_id=drive_id).part_id
    fit_from_shelf(desk, part_id, b)
    assert drives(desk, b) == [drive_id]


def test_no_drive_moves_out_of_a_sold_unit_nor_within_the_waiting_period(
    desk: Desk, pair: tuple[int, int]
) -> None:
    a, b = pair
    drive_id = add_drive(desk, a, serial="N-1")
    set_trade(desk, hold_days_text="14")
    edit_purchase(desk, a, expected_text="", bought_on_text="2026-11-21", invoice="")
    sentence = "in its waiting period"
    changes_nothing(desk, lambda: move_drive(desk, drive_id, b, cost_text="0"), Refused, sentence)
    spare = add_drive(desk, b, serial="N-2")
    changes_nothing(desk, lambda: move_drive(desk, spare, a, cost_text="0"), Refused, sentence)
    set_trade(desk, hold_days_text="0")
    move_drive(desk, drive_id, b, cost_text="0")
    move_unit(desk, a, stage(desk, "graded"))
    assert drives(desk, b) == [drive_id, spare]


def test_one_step_takes_out_and_moves_in_with_its_cost(desk: Desk, pair: tuple[int, int]) -> None:
    a, b = pair
    one, two = add_drive(desk, a, serial="N-1"), add_drive(desk, b, serial="N-2")
    changes_nothing(
        desk,
        lambda: arrange_drives(desk, a, remove_id=one, reason="dead", move_id=two),
        BadInput,
        "Type 0 if it carries none",
    )
    arrange_drives(desk, a, remove_id=one, reason="dead", move_id=two, cost_text="5")
    assert (drives(desk, a), read_parts(desk, a).left_minor) == ([two], 8_500)


def test_a_drive_is_where_its_last_movement_as_a_part_says(desk: Desk, pair: tuple[int, int]) -> None:
    a, b = pair
    drive_id = add_drive(desk, a, serial="N-1")
    move_drive(desk, drive_id, b, cost_text="5")
    with pytest.raises(Conflict, match="its last movement"), change(desk, "by hand") as made:
        made.get(Drive, drive_id, "drive").unit_id = a
    assert drives(desk, b) == [drive_id]
    undo(desk)
    assert drives(desk, a) == [drive_id]
