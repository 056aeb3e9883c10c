"""Machines that owners bring in for repair: no purchase, no stock, no sale; the repair is income of work."""

from __future__ import annotations

import json
from functools import partial

import pytest

from bench.desk import Desk
from bench.domain.party import PartyTyped
from bench.domain.ways_out import HANDED_BACK, KEPT, SCRAPPED, Repairs
from bench.errors import BadInput, Conflict, Refused
from bench.reports.next_up import next_json, next_text
from bench.views.money_rows import read_money_rows
from bench.views.months import read_month
from bench.views.next_up import read_ranking
from bench.views.parties import read_parties
from bench.views.register import OWNERS, read_register
from bench.views.unit import read_unit
from bench.views.unit_money import read_unit_money
from bench.views.week import read_week
from bench.work.leaving import leave_unit
from bench.work.lots import make_donor
from bench.work.moves import move_unit
from bench.work.parties import set_owner
from bench.work.purchases import edit_purchase
from bench.work.undo import redo, undo
from bench.work.units import add_unit, edit_unit
from tests.clocks import HandSetClock
from tests.work.bookkeeping import footprint, last_journal
from tests.work.looked_into import looked_into
from tests.work.sale_steps import part, sell, stage, stocked
from tests.work.taking_back import changes_nothing, is_taken_back
from tests.work.trade_steps import last_summary, new_unit

OWNER = PartyTyped("Odo Owner", contact="o@example.org")
WEEK_MINUTES = 7 * 24 * 60


def brought_in(desk: Desk) -> int:
    return add_unit(desk, maker="Maker", model="Model", owner=OWNER).unit_id


def test_it_is_no_purchase_no_stock_and_no_money_tied_up(desk: Desk) -> None:
    unit_id = brought_in(desk)
    sheet, register = read_month(desk), read_register(desk)
    assert sheet.tied_up == ()
    [line] = register.lines
    assert (line.number, line.state, line.tag, line.what, line.purchase_minor) == (1, OWNERS, "", "", None)
    assert register.purchases_minor == 0
    [next_up] = read_ranking(desk).lines
    assert (next_up.to_earn_minor, next_up.for_sale, next_up.missing) == (0, False, ())
    assert "not typed" not in next_text(read_ranking(desk))
    facts = json.loads(next_json(read_ranking(desk)))["lines"][0]
    assert (facts["complete"], facts["to_earn_minor"]) == (True, 0)
    assert "repair is paid" in next_up.reason
    assert read_unit_money(desk, unit_id).owner == "Odo Owner"


def test_it_is_not_sold_nor_priced_nor_kept_for_its_parts(desk: Desk) -> None:
    unit_id = looked_into(desk, brought_in(desk))
    before = footprint(desk)
    with pytest.raises(Refused, match="is its owner's: it was never bought"):
        sell(desk, unit_id)
    with pytest.raises(Refused, match="never bought"):
        make_donor(desk, unit_id)
    with pytest.raises(Refused, match="never bought"):
        edit_purchase(desk, unit_id, expected_text="1", bought_on_text="", invoice="")
    with pytest.raises(Refused, match="is its owner's: it is not scrapped"):
        leave_unit(desk, unit_id, way=SCRAPPED, reason="x")
    with pytest.raises(BadInput, match="nothing was paid for it"):
        add_unit(desk, maker="", model="M", owner=OWNER, price_text="5")
    with pytest.raises(BadInput, match="nothing was paid for it"):
        edit_unit(
            desk, unit_id, maker="", model="M", serial="", note="", due_text="", price_text="5", tag_text=""
        )
    assert footprint(desk) == before


def test_the_repairs_price_is_income_of_work_and_no_margin(desk: Desk) -> None:
    """A fan for 15 fitted, 80 paid at hand-back: 65 of result, nothing of margin or tax."""
    unit_id = brought_in(desk)
    part(desk, "fan", 1_500, to=unit_id)
    assert [(one.name, one.units, one.cost_so_far_minor) for one in read_month(desk).tied_up] == [
        ("repairs under way", 0, 1_500)
    ]
    left = leave_unit(desk, unit_id, way=HANDED_BACK, reason="fan renewed", price_text="80")
    assert (left.price_minor, left.lost_minor) == (8_000, None)
    sheet = read_month(desk)
    assert (sheet.total.units, sheet.total.margin_minor, sheet.result_minor) == (0, 0, 6_500)
    assert [(one.words, one.amount_minor) for one in sheet.unsold] == [
        ("repairs of owners' machines", 8_000),
        ("parts, consumables of repairs", -1_500),
    ]
    assert sheet.tied_up == ()
    assert read_week(desk).repairs == Repairs(1, 8_000, 1_500)
    assert read_week(desk).earned.units == 0
    assert last_journal(desk) == ("10014 handed back, 80.00 EUR for the repair", "fan renewed")
    [row] = read_money_rows(desk, unit_id, "way out 1").rows
    assert (row.amount_minor, row.words) == (8_000, "handed back, fan renewed")


def test_a_second_repair_is_a_second_income_and_takes_only_its_own_parts(
    desk: Desk, clock: HandSetClock
) -> None:
    unit_id = brought_in(desk)
    part(desk, "fan", 1_500, to=unit_id)
    clock.advance(minutes=1)
    leave_unit(desk, unit_id, way=HANDED_BACK, reason="fan", price_text="80")
    clock.advance(minutes=WEEK_MINUTES)
    move_unit(desk, unit_id, stage(desk, "inspected"))
    clock.advance(minutes=1)
    part(desk, "hinge", 900, to=unit_id)
    assert [(one.name, one.cost_so_far_minor) for one in read_month(desk).tied_up] == [
        ("repairs under way", 900)
    ]
    clock.advance(minutes=1)
    leave_unit(desk, unit_id, way=HANDED_BACK, reason="hinge", price_text="40")
    assert read_week(desk).repairs == Repairs(1, 4_000, 900)
    assert read_week(desk, read_week(desk).week.previous(1)).repairs == Repairs(1, 8_000, 1_500)
    assert read_unit_money(desk, unit_id).proceeds_minor == 12_000


def test_a_price_not_typed_is_named_and_can_be_typed_later(desk: Desk) -> None:
    unit_id = brought_in(desk)
    move_unit(desk, unit_id, stage(desk, "sold"))
    assert read_week(desk).repairs == Repairs(1, 0, 0, ("10014",))
    leave_unit(desk, unit_id, way=HANDED_BACK, reason="paid at the door", price_text="25")
    assert read_week(desk).repairs == Repairs(1, 2_500, 0)


def test_its_owners_data_are_kept_while_it_is_here(desk: Desk) -> None:
    unit_id = brought_in(desk)
    [owner] = read_parties(desk)
    assert (owner.in_stock, owner.erase_on) == (True, None)
    leave_unit(desk, unit_id, way=HANDED_BACK, reason="done", price_text="0")
    [owner] = read_parties(desk)
    assert owner.in_stock is False
    assert owner.erase_on is not None
    assert owner.last_on is not None


def test_a_bought_unit_is_no_owners(desk: Desk) -> None:
    assert read_unit_money(desk, stocked(desk)).owner == ""


def whose(desk: Desk, unit_id: int) -> tuple[str, str]:
    sheet = read_unit(desk, unit_id)
    return sheet.owner, sheet.owner_contact


def test_its_owner_is_set_right_and_undone(desk: Desk) -> None:
    unit_id = brought_in(desk)
    assert whose(desk, unit_id) == ("Odo Owner", "o@example.org")
    is_taken_back(desk, lambda: set_owner(desk, unit_id, PartyTyped("Odilo Owner", contact="12")))
    assert whose(desk, unit_id) == ("Odilo Owner", "12")
    assert "Odilo" not in last_summary(desk)
    undo(desk)
    assert whose(desk, unit_id) == ("Odo Owner", "o@example.org")
    redo(desk)
    assert whose(desk, unit_id) == ("Odilo Owner", "12")


def test_a_unit_taken_in_as_the_shops_gets_its_owner_and_the_other_way_round(desk: Desk) -> None:
    unit_id = new_unit(desk)
    is_taken_back(desk, lambda: set_owner(desk, unit_id, OWNER))
    assert read_unit_money(desk, unit_id).owner == "Odo Owner"
    assert read_month(desk).tied_up == ()
    is_taken_back(desk, lambda: set_owner(desk, unit_id, PartyTyped("")))
    assert whose(desk, unit_id) == ("", "")
    assert read_unit_money(desk, unit_id).owner == ""


def test_an_owner_is_not_named_of_what_was_bought_or_has_left(desk: Desk) -> None:
    priced, bought, sold, kept = (new_unit(desk, "5"), new_unit(desk), stocked(desk, ""), new_unit(desk))
    edit_purchase(desk, bought, expected_text="9", bought_on_text="", invoice="")
    sell(desk, sold)
    leave_unit(desk, kept, way=KEPT, reason="x")
    for unit_id, error, match in (
        (priced, BadInput, "nothing was paid for it"),
        (bought, Refused, "was bought"),
        (sold, Refused, "was bought"),
        (kept, Refused, "has left as the shop's own"),
    ):
        changes_nothing(desk, partial(set_owner, desk, unit_id, OWNER), error, match)


def test_what_was_handed_back_was_not_the_shops(desk: Desk) -> None:
    unit_id = looked_into(desk, brought_in(desk))
    leave_unit(desk, unit_id, way=HANDED_BACK, reason="repaired", price_text="80")
    changes_nothing(desk, lambda: set_owner(desk, unit_id, PartyTyped("")), Refused, "was handed back")
    set_owner(desk, unit_id, PartyTyped("Odilo Owner"))
    assert whose(desk, unit_id) == ("Odilo Owner", "")


def test_an_owner_needs_a_name(desk: Desk) -> None:
    unit_id = brought_in(desk)
    changes_nothing(desk, lambda: set_owner(desk, unit_id, PartyTyped("", contact="12")), BadInput, "empty")
    with pytest.raises(BadInput) as caught:
        set_owner(desk, unit_id, PartyTyped("", contact="12"))
    assert caught.value.field == "owner"


def newest_line(desk: Desk) -> int:
    with desk.store.read() as connection:
        return int(connection.execute("SELECT MAX(id) FROM journal").fetchone()[0])


def test_naming_an_owner_is_not_undone_under_what_stands_on_it(desk: Desk) -> None:
    handed = looked_into(desk, new_unit(desk))
    set_owner(desk, handed, OWNER)
    line = newest_line(desk)
    leave_unit(desk, handed, way=HANDED_BACK, reason="repaired", price_text="80")
    changes_nothing(desk, lambda: undo(desk, line), Conflict, "handed back, 80.00 EUR.*stands on it")
    bought = brought_in(desk)
    set_owner(desk, bought, PartyTyped(""))
    line = newest_line(desk)
    edit_purchase(desk, bought, expected_text="9", bought_on_text="", invoice="")
    changes_nothing(desk, lambda: undo(desk, line), Conflict, "comes from.*stands on it")
