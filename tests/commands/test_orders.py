"""Commands of parts on order: from wanted to fitted, wrong and refunded, off the shelf, and the suppliers."""

from __future__ import annotations

import pytest

from tests.test_cli import Did, Refused, answer


@pytest.fixture
def tag(did: Did) -> str:
    """A unit with a route, bought for 80.00."""
    did("buy-lot", "a box", "80", "--unit", "A=200", "--route", "char")
    tag: str = answer(did, "lot", "1")["lines"][0]["tag"]
    return tag


def test_an_order_from_wanted_to_fitted(did: Did, refused: Refused, tag: str) -> None:
    said = did("order", tag, "fan", "--wanted", "--number", "F-1", "--task", "1")
    assert said.startswith(f"Order 1, fan for {tag}: wanted. Waits for it: ")
    assert "waits for fan (wanted)" in refused(4, "start", tag, "1")
    facts = answer(
        did, "order-sent", "1", "--price", "20", "--freight", "4.50", "--due", "+3", "--supplier", "Odd"
    )
    assert (facts["state"], facts["price_minor"], facts["freight_minor"]) == ("ordered", 2_000, 450)
    did("order-sent", "1", "--due", "+4")
    [line] = answer(did, "order")["lines"]
    assert (line["price_minor"], line["supplier"], line["cost_minor"]) == (2_000, "Odd", 2_450)
    assert line["tasks"] == [answer(did, "unit", tag)["tasks"][0]["name"]]
    assert f"{tag}" in did("order")
    assert answer(did, "queue")["stages"][0]["rows"][0]["awaits"] == ["fan"]
    assert "started" in did("start", tag, "1", "--anyway", "the bearing is looked at first").lower()
    did("stop")
    assert did("arrived", "1", "--place", "drawer 3") == f"Order 1, fan for {tag}: arrived.\n"
    [on_shelf] = answer(did, "shelf")["lines"]
    assert (on_shelf["place"], on_shelf["maker_number"], on_shelf["cost_minor"]) == ("drawer 3", "F-1", 2_450)
    did("part", tag, "--shelf", str(on_shelf["part_id"]))
    assert [one["name"] for one in answer(did, "part", tag)["in_it"]] == ["fan"]
    assert answer(did, "order", "--settled")["lines"][0]["standing"] == f"fitted in {tag}"
    assert answer(did, "order", tag)["lines"][0]["order_id"] == 1


def test_the_wrong_part_goes_back_and_another_comes(did: Did, refused: Refused, tag: str) -> None:
    did("order", tag, "fan", "--price", "20", "--supplier", "Odd", "--task", "1", "--due", "today")
    assert "Parts: 1 due today." in did("order")
    said = did("arrived", "1", "--found", "wrong", "--note", "the lead is too short")
    assert f"Order 1, fan for {tag}: wrong, 20.00 EUR owed back. Waits for it: " in said
    assert "it cannot be arrived" in refused(4, "arrived", "1")
    did("order", tag, "fan", "--price", "22", "--instead", "1")
    did("send-back", "1")
    money = answer(did, "money", tag)
    assert money["cost_so_far_minor"] == 10_000
    assert answer(did, "suppliers")["owed_minor"] == 2_000
    assert "20.00 EUR" in did("suppliers")
    assert "18.50 EUR came back" in did("refunded", "1", "18.50")
    assert answer(did, "money", tag)["cost_so_far_minor"] == 8_150
    [line] = [one for one in answer(did, "suppliers")["lines"] if one["supplier"] == "Odd"]
    assert (line["faulty"], line["refunded_minor"], line["owed_minor"]) == (1, 1_850, 0)
    did("undo")
    assert answer(did, "suppliers")["owed_minor"] == 2_000
    assert answer(did, "cancel-order", "2", "a donor has one")["state"] == "cancelled"
    assert did("start", tag, "1").startswith("Started")


def test_a_part_that_is_fitted_is_found_broken(did: Did, refused: Refused, tag: str) -> None:
    did("order", tag, "fan", "--price", "20")
    did("arrived", "1")
    did("part", tag, "--shelf", str(answer(did, "shelf")["lines"][0]["part_id"]))
    assert answer(did, "wrong-part", "1", "broken", "--owed", "15")["owed_minor"] == 1_500
    assert f"it is in {tag}" in refused(4, "send-back", "1")
    did("part", tag, "fan", "--out", "--cost", "20")
    did("send-back", "1")
    did("refunded", "1", "20")
    assert answer(did, "money", tag)["cost_so_far_minor"] == 8_000


def test_what_waits_is_said_and_ended(did: Did, refused: Refused, tag: str) -> None:
    did("order", tag, "fan")
    assert "other tasks go on" in did("wait", tag, "1", "1")
    refused(4, "start", tag, "1")
    did("wait", tag, "1", "1", "--off")
    did("start", tag, "1")
    did("order", "shelf", "lid")
    assert "another unit" in refused(4, "wait", tag, "2", "2")
    assert "has no task" in refused(2, "order", "shelf", "lid", "--task", "1")


def test_consumables_and_the_shelf(did: Did, refused: Refused, tag: str) -> None:
    assert "of a consumable" in refused(2, "order", tag, "fan", "--packs", "2")
    name = answer(did, "stock")["lines"][0]["name"]
    did("order", "stock", name, "--packs", "2", "--price", "12", "--due", "+2")
    line = next(one for one in answer(did, "stock")["lines"] if one["name"] == name)
    assert line["on_order_thousandths"] == 2 * line["pack_thousandths"]
    assert " on order, due " in did("stock")
    did("arrived", "1")
    after = next(one for one in answer(did, "stock")["lines"] if one["name"] == name)
    assert after["on_hand_thousandths"] - line["on_hand_thousandths"] == 2 * line["pack_thousandths"]
    assert after["on_order_thousandths"] == 0
    did("part", tag, "lid", "--out", "--cost", "5")
    assert "is out already" in refused(4, "part", tag, "lid", "--out", "--cost", "5")
    did("part", tag, "lid", "--out", "--cost", "3", "--again", "the machine has two")
    first, second = (str(one["part_id"]) for one in answer(did, "shelf")["lines"])
    assert "lies at box 4" in did("shelf", first, "--place", "box 4")
    assert answer(did, "shelf", first, "--sell", "9")["price_minor"] == 900
    assert "3.00 EUR of cost lost" in did("shelf", second, "--scrap", "cracked")
    refused(3, "shelf", second, "--scrap", "again")
    refused(2, "shelf", second)
    assert {one["words"] for one in answer(did, "month")["unsold"]} == {
        "parts sold off the shelf, less their cost",
        "parts scrapped off the shelf",
    }


def test_a_wait_is_told_as_json_too(did: Did) -> None:
    tag = answer(did, "add", "Crate", "--route", "charger")["tag"]
    order_id = answer(did, "order", tag, "lead")["order_id"]
    facts = answer(did, "wait", tag, "1", str(order_id))
    assert facts["document"] == "orders"
    assert [len(line["tasks"]) for line in facts["lines"]] == [1]
