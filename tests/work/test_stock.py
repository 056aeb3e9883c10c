"""Restocking, counting, the consumables themselves: what is typed is checked before anything is written."""

from __future__ import annotations

from datetime import date

import pytest

from bench.desk import Desk
from bench.errors import BadInput, Conflict, NotFound, Refused
from bench.views.routes import read_route
from bench.views.stock import read_history, read_stock
from bench.views.unit import read_unit
from bench.work.shop import add_person
from bench.work.stock import count_stock, edit_consumable, remove_consumable, restock
from bench.work.tasks import set_task_use
from bench.work.timers import finish_task, reopen_task, skip_task
from bench.work.undo import undo
from tests.clocks import HandSetClock
from tests.work.bookkeeping import (
    ISOPROPYL,
    PASTE,
    WIPES,
    any_task,
    footprint,
    last_journal,
    line,
    new_consumable,
    take,
)

TODAY = date(2026, 11, 25)  # of the clock's instant, in Berlin


def test_packs_come_in_as_so_many_base_units(desk: Desk) -> None:
    came = restock(desk, PASTE, packs_text=" 3 ", price_text="29,70", supplier="a wholesaler")
    assert (came.quantity, came.left, came.cost_minor, came.currency) == (12_000, 12_000, 2970, "EUR")
    assert (came.name, came.base_unit, came.received_on, came.low) == ("thermal paste", "g", TODAY, False)
    assert last_journal(desk) == ("Restocked thermal paste: 12 g for 29.70 EUR", "")
    newest = read_history(desk, PASTE).movements[0]
    assert (newest.kind, newest.supplier, newest.person) == ("receipt", "a wholesaler", "Ada")


def test_an_amount_comes_in_with_its_unit_typed(desk: Desk) -> None:
    assert restock(desk, ISOPROPYL, quantity_text="2.5 l").quantity == 2_500_000


def test_a_price_may_be_left_out(desk: Desk) -> None:
    assert restock(desk, PASTE, packs_text="1", price_text=" ").cost_minor == 0


@pytest.mark.parametrize(("packs", "amount", "said"), [("", " ", "neither"), ("1", "4", "both")])
def test_packs_or_amount_but_one_of_them(desk: Desk, packs: str, amount: str, said: str) -> None:
    before = footprint(desk)
    with pytest.raises(BadInput, match=said):
        restock(desk, PASTE, packs_text=packs, quantity_text=amount)
    assert footprint(desk) == before


@pytest.mark.parametrize(
    "typed",
    [
        {"packs_text": "0"},
        {"packs_text": "-1"},
        {"packs_text": "1.5"},
        {"packs_text": "NaN"},
        {"packs_text": "١"},
        {"packs_text": "100001"},
        {"quantity_text": "0"},
        {"quantity_text": "-4"},
        {"quantity_text": "nan"},
        {"quantity_text": "inf"},
        {"quantity_text": "1e3"},
        {"quantity_text": "9999999999999"},
        {"quantity_text": "[bold]4[/]"},
        {"quantity_text": "4 ml"},
        {"packs_text": "1", "price_text": "-1"},
        {"packs_text": "1", "price_text": "NaN"},
        {"packs_text": "1", "price_text": "9" * 25},
        {"packs_text": "1", "supplier": "bell\x07"},
        {"packs_text": "1", "supplier": "x" * 201},
        {"packs_text": "1", "date_text": "2026-11-26"},
        {"packs_text": "1", "date_text": "tomorrow"},
        {"packs_text": "1", "date_text": "+1"},
        {"packs_text": "1", "date_text": "1899-12-31"},
        {"packs_text": "1", "date_text": "2026-02-30"},
        {"packs_text": "1", "expires_text": "2026-11-24"},
        {"packs_text": "1", "expires_text": "9999-12-31"},
        {"packs_text": "1", "expires_text": "soon"},
    ],
)
def test_what_cannot_be_restocked_changes_nothing(desk: Desk, typed: dict[str, str]) -> None:
    before = footprint(desk)
    with pytest.raises(BadInput) as refused:
        restock(desk, PASTE, **typed)
    assert refused.value.what.endswith(".")
    assert refused.value.remedy.endswith(".")
    assert footprint(desk) == before


def test_packs_that_make_an_absurd_amount_are_a_slip(desk: Desk) -> None:
    barrels = new_consumable(desk, unit="ml", pack_text="200000 l")
    with pytest.raises(BadInput, match="Look for a slip"):
        restock(desk, barrels, packs_text="99999")


def test_brackets_and_the_like_are_kept_literally(desk: Desk) -> None:
    restock(desk, PASTE, packs_text="1", supplier="[/] & Söhne")
    assert read_history(desk, PASTE).movements[0].supplier == "[/] & Söhne"


def test_expiry_is_the_day_received_plus_the_shelf_life(desk: Desk) -> None:
    # 730 days after 2026-11-20 by the calendar (2028 is a leap year, its 29 February passed): 2028-11-19.
    assert restock(desk, PASTE, packs_text="1", date_text="2026-11-20").expires_on == date(2028, 11, 19)
    assert restock(desk, PASTE, packs_text="1", expires_text="2027-01-31").expires_on == date(2027, 1, 31)
    assert restock(desk, WIPES, packs_text="1").expires_on is None


def test_an_earlier_day_is_booked_as_that_day_of_the_shop(desk: Desk) -> None:
    came = restock(desk, PASTE, packs_text="1", date_text="yesterday")
    assert came.received_on == date(2026, 11, 24)
    # 24 November 00:00 in Berlin (UTC+1 in winter) is 23 November 23:00 UTC.
    assert read_history(desk, PASTE).movements[0].at_us == 1_795_474_800_000_000


def test_just_after_midnight_today_is_the_new_day(desk: Desk, clock: HandSetClock) -> None:
    clock.set_wall(1_795_561_200_000_000 + 60_000_000)  # 2026-11-25 00:01 in Berlin, the 24th in UTC
    assert restock(desk, PASTE, packs_text="1").received_on == TODAY
    assert restock(desk, PASTE, packs_text="1", date_text="2026-11-25").received_on == TODAY


def test_a_restock_is_taken_back(desk: Desk) -> None:
    restock(desk, PASTE, packs_text="1", price_text="12")
    undo(desk)
    assert (line(desk, PASTE).on_hand, line(desk, PASTE).value_minor) == (0, 0)


def test_a_restock_from_which_someone_took_is_not_taken_back(desk: Desk) -> None:
    grace = desk.as_person(add_person(desk, "Grace"))
    task_id = any_task(grace)
    restock(desk, PASTE, packs_text="1", price_text="12")
    take(grace, task_id, PASTE, 1_000)
    before = footprint(desk)
    with pytest.raises(Conflict, match=r"“Took some” .Grace, line 4. stands on it"):
        undo(desk)
    assert footprint(desk) == before
    assert line(desk, PASTE).on_hand == 3_000


def test_counting_down_takes_the_oldest(desk: Desk) -> None:
    restock(desk, PASTE, quantity_text="4", price_text="8")
    restock(desk, PASTE, quantity_text="4", price_text="16")
    counted = count_stock(desk, PASTE, quantity_text="3", reason="stocktake")
    assert (counted.counted, counted.difference) == (3_000, -5_000)
    book = read_history(desk, PASTE).movements[:2]
    assert [(m.kind, m.quantity, m.cost_minor, m.reason) for m in book] == [
        ("count", -1_000, -400, "stocktake"),
        ("count", -4_000, -800, "stocktake"),
    ]
    assert last_journal(desk) == ("Counted thermal paste: 3 g, the book said 8 g", "stocktake")


def test_counting_up_comes_in_at_the_newest_receipts_unit_cost(desk: Desk) -> None:
    restock(desk, PASTE, quantity_text="4", price_text="8", expires_text="2027-01-31")
    restock(desk, PASTE, quantity_text="3", price_text="10", date_text="2026-10-01")
    counted = count_stock(desk, PASTE, quantity_text="8", reason="found one")
    newest = read_history(desk, PASTE).movements[0]
    assert counted.difference == 1_000
    assert (newest.quantity, newest.cost_minor, newest.expires_on) == (1_000, 200, date(2027, 1, 31))


def test_counting_up_what_was_never_bought_costs_nothing(desk: Desk) -> None:
    counted = count_stock(desk, PASTE, quantity_text="1.5", reason="opening count")
    assert (counted.difference, line(desk, PASTE).on_hand, line(desk, PASTE).value_minor) == (1_500, 1_500, 0)


def test_a_receipt_taken_back_sets_no_unit_cost(desk: Desk) -> None:
    restock(desk, PASTE, quantity_text="4", price_text="8")
    restock(desk, PASTE, quantity_text="4", price_text="800")
    undo(desk)
    count_stock(desk, PASTE, quantity_text="5", reason="found one")
    assert read_history(desk, PASTE).movements[0].cost_minor == 200


def test_half_a_minor_unit_counts_upwards(desk: Desk) -> None:
    restock(desk, PASTE, quantity_text="2", price_text="0.01")
    count_stock(desk, PASTE, quantity_text="3", reason="found one")
    assert read_history(desk, PASTE).movements[0].cost_minor == 1


def test_a_count_that_agrees_leaves_only_a_journal_line(desk: Desk) -> None:
    restock(desk, PASTE, quantity_text="4")
    movements, journal = footprint(desk)
    assert count_stock(desk, PASTE, quantity_text="4", reason="stocktake").difference == 0
    assert footprint(desk) == (movements, journal + 1)


@pytest.mark.parametrize(
    ("quantity", "reason"),
    [("-1", "x"), ("NaN", "x"), ("", "x"), ("4", ""), ("4", "  "), ("4", "two\nlines"), ("1e9", "x")],
)
def test_what_cannot_be_counted_changes_nothing(desk: Desk, quantity: str, reason: str) -> None:
    restock(desk, PASTE, quantity_text="1")
    before = footprint(desk)
    with pytest.raises(BadInput):
        count_stock(desk, PASTE, quantity_text=quantity, reason=reason)
    assert footprint(desk) == before


def test_a_count_worth_more_than_money_is_counted_in_is_a_slip(desk: Desk) -> None:
    restock(desk, PASTE, quantity_text="0.001", price_text="9999999999999")
    before = footprint(desk)
    with pytest.raises(BadInput, match="slip"):
        count_stock(desk, PASTE, quantity_text="1000000", reason="stocktake")
    assert footprint(desk) == before


def test_a_count_is_taken_back(desk: Desk) -> None:
    restock(desk, PASTE, quantity_text="4", price_text="8")
    count_stock(desk, PASTE, quantity_text="1", reason="stocktake")
    undo(desk)
    assert (line(desk, PASTE).on_hand, line(desk, PASTE).value_minor) == (4_000, 800)


def test_a_new_consumable_stands_at_zero(desk: Desk) -> None:
    flux = new_consumable(
        desk,
        name="flux",
        unit="ml",
        pack_text="30",
        shelf_life_text="365",
        reorder_text="5",
        hazard="[b]fumes",
    )
    made = line(desk, flux)
    assert (made.name, made.base_unit, made.on_hand, made.pack, made.lead_days) == (
        "flux",
        "ml",
        0,
        30_000,
        7,
    )
    assert (made.shelf_life_days, made.reorder_at, made.reorder_fixed) == (365, 5_000, True)
    assert made.hazard == "[b]fumes"


@pytest.mark.parametrize(
    "typed",
    [
        {"name": ""},
        {"name": "Thermal PASTE"},
        {"name": "a\u202eb"},
        {"unit": "kg"},
        {"unit": ""},
        {"pack_text": "0"},
        {"pack_text": "-1"},
        {"pack_text": "nan"},
        {"unit": "piece", "pack_text": "0.5"},
        {"lead_days_text": ""},
        {"lead_days_text": "-1"},
        {"lead_days_text": "366"},
        {"lead_days_text": "1.5"},
        {"shelf_life_text": "0"},
        {"shelf_life_text": "99999"},
        {"reorder_text": "-1"},
        {"hazard": "\x1b[31m"},
    ],
)
def test_what_cannot_be_a_consumable_changes_nothing(desk: Desk, typed: dict[str, str]) -> None:
    before, lines = footprint(desk), len(read_stock(desk).lines)
    with pytest.raises(BadInput):
        new_consumable(desk, **typed)
    assert (footprint(desk), len(read_stock(desk).lines)) == (before, lines)


def edited(desk: Desk, consumable_id: int, **more: str) -> None:
    now = line(desk, consumable_id)
    typed = {"name": now.name, "base_unit": now.base_unit, "pack_text": "4", "lead_days_text": "5", **more}
    edit_consumable(desk, consumable_id, **typed)


def test_editing_replaces_what_was(desk: Desk) -> None:
    edited(desk, PASTE, name="thermal grease", reorder_text="8", lead_days_text="0")
    now = line(desk, PASTE)
    assert (now.name, now.reorder_at) == ("thermal grease", 8_000)
    assert (now.shelf_life_days, now.lead_days) == (None, 0)
    undo(desk)
    assert (line(desk, PASTE).name, line(desk, PASTE).shelf_life_days) == ("thermal paste", 730)


def test_editing_nothing_leaves_no_trace(desk: Desk) -> None:
    edited(desk, WIPES, pack_text="100")
    before = footprint(desk)
    edited(desk, WIPES, pack_text="100", name="  lint-free wipes ")
    assert footprint(desk) == before


def test_another_base_unit_only_while_nothing_is_booked_in_it(desk: Desk) -> None:
    varnish = new_consumable(desk)
    edited(desk, varnish, base_unit="ml")
    assert line(desk, varnish).base_unit == "ml"
    restock(desk, varnish, packs_text="1")
    with pytest.raises(Refused, match="varnish is kept in ml"):
        edited(desk, varnish, base_unit="g")
    with pytest.raises(Refused, match="thermal paste is kept in g"):
        edited(desk, PASTE, base_unit="ml")  # a route takes it
    assert line(desk, varnish).base_unit == "ml"


def test_what_is_on_hand_is_not_removed(desk: Desk) -> None:
    restock(desk, PASTE, quantity_text="0.5")
    with pytest.raises(Refused, match=r"0\.5 g of thermal paste is on hand"):
        remove_consumable(desk, PASTE)


def paste_taken(desk: Desk) -> tuple[list[int], list[int]]:
    """What the tasks of the first route, and those of the first unit, take of it."""
    route = [use for task in read_route(desk, 1).tasks for use in task.uses]
    unit = [use for task in read_unit(desk, 1).tasks for use in task.uses]
    return (
        [use.quantity for use in route if use.consumable_id == PASTE],
        [use.quantity for use in unit if use.consumable_id == PASTE],
    )


def test_removing_takes_it_out_of_routes_and_open_tasks_and_can_be_taken_back(desk: Desk) -> None:
    set_task_use(desk, any_task(desk), PASTE, "1")
    assert paste_taken(desk) == ([300], [1_000, 300])
    remove_consumable(desk, PASTE)
    assert PASTE not in [one.consumable_id for one in read_stock(desk).lines]
    assert paste_taken(desk) == ([], [])
    with pytest.raises(NotFound):
        restock(desk, PASTE, packs_text="1")
    with pytest.raises(NotFound):
        read_history(desk, PASTE)
    undo(desk)
    assert paste_taken(desk) == ([300], [1_000, 300])


def test_a_name_that_was_removed_is_free(desk: Desk) -> None:
    remove_consumable(desk, PASTE)
    again = new_consumable(desk, name="thermal paste")
    assert line(desk, again).on_hand == 0


def test_a_task_that_is_over_keeps_its_use_and_finishes_without_it_when_reopened(desk: Desk) -> None:
    task_id = any_task(desk)
    set_task_use(desk, task_id, WIPES, "2")
    skip_task(desk, task_id, "not needed")
    remove_consumable(desk, WIPES)
    with desk.store.read() as connection:
        kept = connection.execute("SELECT quantity FROM task_use WHERE task_id = ?", (task_id,)).fetchall()
    assert [row[0] for row in kept] == [2_000]
    reopen_task(desk, task_id)
    assert finish_task(desk, task_id).issued == ()
