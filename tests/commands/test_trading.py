"""Commands of buying, lots, parts, money and what next: from the asking price to the margin."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.test_cli import Did, Refused, answer

UNITS = ("--unit", "A=200", "--unit", "B=200", "--unit", "C=80")
FIRM = ("--seller", "A firm", "--business")


def tags(did: Did) -> list[str]:
    """The tags of the newest lot's units."""
    return [line["tag"] for line in answer(did, "lot", "1")["lines"]]


@pytest.fixture
def lot(did: Did) -> list[str]:
    """A lot for 120.00: two units expected at 200, one at 80."""
    did("buy-lot", "three boxes", "120", *UNITS, "--route", "char")
    return tags(did)


def test_a_walk_away_price(did: Did, refused: Refused) -> None:
    # 300 - 12.5 % - 0.35 - 20 parts - 10 % reserve - 40 wanted = 172.15; the hourly rate is 0 yet
    did("channel", "by post", "--add", "--share", "12.5", "--fixed", "0.35")
    did("trade", "--margin", "40")
    asked = ("--route", "charger", "--channel", "by", "--parts", "20", "--asked", "180")
    said = did("most-to-pay", "300", *asked)
    assert "Most to pay: 172.15 EUR" in said
    assert "! asks 7.85 EUR too much" in said
    assert "The shop's hourly rate is 0" in said
    facts = answer(did, "most-to-pay", "300", *asked)
    assert facts["answer"]["price_minor"] == 17_215
    assert sum(line["amount_minor"] for line in facts["answer"]["lines"]) == 17_215
    assert "The route's estimates" in did("most-to-pay", "300", "--route", "charger", "--rows", "time")
    assert len(answer(did, "most-to-pay", "300", "--route", "charger", "--rows", "time")["rows"]) == 3
    assert (
        answer(did, "most-to-pay", "300", "--margin", "0", "--reserve", "0")["answer"]["price_minor"]
        == 30_000
    )
    assert "was typed" in refused(3, "most-to-pay", "300", "--rows", "parts")
    refused(2, "most-to-pay", "a lot")
    refused(3, "most-to-pay", "300", "--route", "polish")


def test_an_offer_from_the_table_to_the_queue(did: Did, refused: Refused) -> None:
    said = did(
        "offer",
        *("--new", "Model [b]1[/b]", "--maker", "Maker", "--expected", "300", "--asked", "150"),
        *("--route", "charger", "--saw", "battery=81 %, 214 cycles", "--saw", "powers"),
        *("--seller", "Somebody", "--address", "Somewhere 1", "--id-seen", "passport"),
    )
    assert "[x] battery figures: 81 %, 214 cycles" in said
    assert "[x] powers on: seen, nothing noted" in said
    assert "Most to pay: 270.00 EUR" in said
    assert "1  Maker Model [b]1[/b]" in did("offer")
    did("offer", "1", "--parts", "30", "--saw", "drive-lock=none", "--note", "bag", "--channel", "over")
    facts = answer(did, "offer", "1")
    assert (facts["expected_minor"], facts["asking_minor"], facts["parts_minor"]) == (30_000, 15_000, 3_000)
    assert (facts["route"], facts["channel"], facts["seller"]) == (
        "charger lead",
        "over the counter",
        "Somebody",
    )
    assert {one["item"] for one in facts["findings"] if one["seen"]} == {"battery", "powers_on", "drive_lock"}
    assert facts["price"]["answer"]["price_minor"] == 24_000
    did(
        "offer", "1", "--asked", "", "--maker", "", "--serial", "S", "--model", "Model 2", "--expected", "310"
    )
    edited = answer(did, "offer", "1")
    assert (edited["asking_minor"], edited["maker"], edited["serial"]) == (None, "", "S")
    assert (edited["premium_per_10000"], edited["freight_minor"], edited["shipping_minor"]) == (None,) * 3
    assert "Shipping    not typed" in did("offer", "1", "--premium", "10", "--freight", "6")
    told = did("offer", "1", "--shipping", "0", "--premium", "0")
    assert ("Premium     0 %" in told, "Freight     6.00" in told, "Shipping    0.00" in told) == (True,) * 3
    edited = answer(did, "offer", "1")
    assert (edited["premium_per_10000"], edited["freight_minor"], edited["shipping_minor"]) == (0, 600, 0)
    assert "0 %  6.00 EUR  0.00 EUR  open" in did("offer")
    assert "Bought as 10014 with 4 tasks." in did(
        "buy", "1", "95.50", "--shipping", "4", "--invoice", "R 1", "--due", "+7"
    )
    unit = answer(did, "unit", "10014")
    assert (unit["model"], unit["price_minor"], unit["note"].split("\n")[0]) == ("Model 2", 9_550, "bag")
    assert "battery figures: 81 %, 214 cycles" in unit["note"]
    bought = answer(did, "bought", "10014")
    assert (bought["premium_minor"], bought["freight_minor"], bought["shipping_minor"]) == (0, 600, 400)
    assert answer(did, "bought", "10014", "--shipping", "")["shipping_minor"] is None
    assert did("offer") == "No offers.\n"
    assert "10014" in did("offer", "--all")
    assert "bought already" in refused(4, "buy", "1", "5")
    shown = did("bought", "10014")
    for words in (
        "From            Somebody",
        "Invoice     R 1",
        "Expected    310.00 EUR",
        "Seen: drive lock: none",
    ):
        assert words in shown


def test_declining(did: Did, refused: Refused) -> None:
    did("offer", "--new", "M", "--expected", "10")
    assert "State       declined" in did("offer", "1", "--decline", "--reason", "asks too much")
    assert answer(did, "journal")["lines"][0]["reason"] == "asks too much"
    assert did("offer") == "No offers.\n"
    assert answer(did, "offer", "--all")["offers"][0]["state"] == "declined"
    did("undo")
    assert answer(did, "buy", "1", "5", "--tag", "20010")["tag"] == "20010"
    refused(2, "offer", "--expected", "5")
    refused(2, "offer", "--decline")
    refused(2, "offer", "1", "--new", "M")
    refused(2, "offer", "--new", "M")
    refused(3, "offer", "9")
    refused(3, "offer", "--new", "M", "--expected", "5", "--saw", "wheels=two")
    refused(2, "offer", "--new", "M", "--expected", "5", "--address", "Somewhere")


def test_where_a_unit_came_from(did: Did, refused: Refused) -> None:
    tag = answer(did, "add", "M", "--price", "50")["tag"]
    assert did("bought", tag) == f"Unit            {tag}\nBought for      50.00 EUR\n"
    did("bought", tag, "--expected", "180", "--on", "2026-01-20", "--seller", "A firm", "--business")
    facts = answer(did, "bought", tag, "--invoice", "R 2")
    assert (facts["expected_minor"], facts["bought_on"], facts["seller"]) == (18_000, "2026-01-20", "A firm")
    assert facts["invoice"] == "R 2"
    did("trade", "--waiting", "365")
    did("bought", tag, "--on", "yesterday")
    assert "local code first" in did("bought", tag)
    assert "waiting period until" in refused(4, "part", tag, "lid", "--cost", "1")
    refused(2, "bought", tag, "--business")
    refused(2, "bought", tag, "--on", "+1")


def test_a_lot_is_bought_and_shared_anew(did: Did, refused: Refused, lot: list[str]) -> None:
    assert "three boxes" in did("lot")
    assert answer(did, "lot")["lots"][0]["units"] == 3
    assert [line["share_minor"] for line in answer(did, "lot", "1")["lines"]] == [5_000, 5_000, 2_000]
    assert len(answer(did, "unit", lot[0])["tasks"]) == 4
    said = did("donor", lot[2])
    assert "is now a donor, its parts worth 0.00 EUR" in said
    assert "`bench lot 1 --reshare`" in said
    assert "Shares" in did("lot", "1", "--reshare")
    assert [line["share_minor"] for line in answer(did, "lot", "1")["lines"]] == [6_000, 6_000, 0]
    shared = answer(did, "lot", "1", "--expect", f"{lot[0]}=100")
    assert [one["new_minor"] for one in shared["shares"]] == [4_000, 8_000, 0]
    assert "Before" in did("donor", lot[2], "--whole", "100", "--reshare")
    assert answer(did, "donor", lot[2], "--worth", "60")["expected_minor"] == 6_000
    assert "donor" in did("lot", "1")
    refused(2, "lot", "--reshare")
    refused(2, "lot", "1", "--expect", "100")
    refused(2, "donor", lot[1], "--worth", "1", "--whole", "1")
    refused(3, "lot", "9")


def test_a_lot_from_a_list(did: Did, refused: Refused, tmp_path: Path) -> None:
    listed = tmp_path / "units.csv"
    listed.write_text(
        "Model,maker,serial,route,expected,note,tag,donor\n"
        "A,Maker,S1,charger,300,no lid,20010,\nB,,,,100,,,yes\n",
        encoding="utf-8",
    )
    said = did("buy-lot", "boxes", "100", "--units", listed, *FIRM, "--note", "pallet")
    assert "Bought lot 1, boxes, for 100.00 EUR." in said
    assert "20010  75.00 EUR" in said
    sheet = answer(did, "lot", "1")
    assert [(line["donor"], line["share_minor"]) for line in sheet["lines"]] == [
        (False, 7_500),
        (True, 2_500),
    ]
    assert (sheet["seller"], sheet["note"]) == ("A firm", "pallet")
    assert answer(did, "unit", "20010")["route"] == "charger lead"
    listed.write_text("model,wheels\nA,4\n")
    assert "“wheels”" in refused(2, "buy-lot", "b", "1", "--units", listed)
    listed.write_bytes(b"model\n\xff\n")
    assert "not CSV" in refused(2, "buy-lot", "b", "1", "--units", listed)
    assert "cannot be read" in refused(2, "buy-lot", "b", "1", "--units", tmp_path / "none.csv")
    assert "no unit in the lot" in refused(2, "buy-lot", "b", "1")
    equal = answer(did, "buy-lot", "equal", "10", "--unit", "A", "--unit", "B")
    assert [one["new_minor"] for one in equal["shares"]] == [500, 500]


def test_parts_move_with_their_cost(did: Did, refused: Refused, lot: list[str]) -> None:
    a, b, donor = lot
    assert did("part", a, "battery", "--cost", "35.90", "--supplier", "A shop", "--serial", "B1") == (
        f"battery into {a}, carrying 35.90 EUR.\n"
    )
    assert "10.00 EUR of cost left on" in did("part", b, "screen", "--from", donor, "--cost", "10")
    assert "Its share of the 10.00 EUR left" in did("part", donor, "--worth", "40")
    assert answer(did, "part", donor, "--worth", "40")["cost_minor"] == 500
    moved = answer(did, "part", donor, "memory", "--out", "--cost", "2")
    assert (moved["to_tag"], moved["from_left_minor"]) == ("", 800)
    assert "2.00 EUR" in did("part")
    assert answer(did, "part")["cost_minor"] == 200
    assert f"into {a}" in did("part", a, "--shelf", str(answer(did, "part")["lines"][0]["part_id"]))
    said = did("part", a, "drive", "--swap", b, "--cost", "5", "--back", "3")
    # On the first 50 + 35.90 + 2 - 5 + 3 = 85.90, on the second 50 + 10 + 5 - 3 = 62.00
    assert said.split("\n")[:2] == [
        f"Swapped drive; 85.90 EUR of cost left on {a}.",
        f"Swapped drive; 62.00 EUR of cost left on {b}.",
    ]
    assert answer(did, "part", a, "lid", "--swap", b, "--cost", "0", "--back", "0")["left_a_minor"] == 8_590
    assert "cost so far 85.90 EUR" in did("part", a)
    assert answer(did, "part", b)["left_minor"] == 6_200
    assert "cost left; 9.00 EUR cannot go" in refused(4, "part", a, "lid", "--from", donor, "--cost", "9")
    refused(2, "part", a, "lid", "--from", b, "--out", "--cost", "1")
    refused(2, "part", a, "lid")
    refused(2, "part", a, "--cost", "1")
    refused(2, "part", a, "--from", b)


def test_it_is_said_which_drive_moves_and_why_a_thing_comes_twice(
    did: Did, refused: Refused, lot: list[str]
) -> None:
    a, b, _ = lot
    did("drive", a, "--serial", "N-1")
    did("drive", b, "--serial", "N-2")
    swap = ("part", a, "SSD", "--swap", b, "--cost", "0", "--back", "0")
    assert "d1 N-1. Say which one moves, or that it is none of them" in refused(4, *swap)
    assert "d2 N-2" in refused(4, *swap, "--drive", "d1")
    assert "not a drive's number" in refused(2, *swap, "--drive", "first")
    did(*swap, "--drive", "d1", "--back-drive", "none")
    assert [one["serial"] for one in answer(did, "drive", b)["drives"]] == ["N-1", "N-2"]
    did("part", a, "fan", "--cost", "9")
    assert "is fitted in unit" in refused(4, "part", a, "fan", "--cost", "9")
    did("part", a, "fan", "--cost", "9", "--again", "it has two")
    did("add", "M", "--serial", "S-1")
    assert "The serial number" in refused(4, "add", "M", "--serial", "s-1")
    assert answer(did, "add", "M", "--serial", "s-1", "--again", "two boards")["tag"]


def test_money_opens_to_its_rows(did: Did, refused: Refused, lot: list[str]) -> None:
    a = lot[0]
    did("part", a, "battery", "--cost", "35.90")
    did("channel", "by post", "--add", "--share", "10")
    assert "\nproceeds  0.00 EUR\n" in did("money", a)
    facts = answer(did, "money", a)
    assert (facts["cost_so_far_minor"], facts["break_even_minor"], facts["margin_minor"]) == (
        8_590,
        8_590,
        None,
    )
    # 0.9 p >= 85.90: p = 95.44, its fee 9.54
    assert answer(did, "money", a, "--channel", "by")["break_even_minor"] == 9_544
    did("drive", a, "--none")
    did("sell", a, "230", "--channel", "by post", "--shipping", "0", "--open-tasks", "skip", "--reason", "x")
    sold = answer(did, "money", a)
    assert (sold["proceeds_minor"], sold["margin_minor"]) == (20_700, 12_110)
    assert "battery" in did("money", a, "--rows", "2")
    assert answer(did, "money", a, "--rows", "parts b")["amount_minor"] == 3_590
    assert answer(did, "money", a, "--rows", "sale 1")["amount_minor"] == 20_700
    assert answer(did, "money", a, "--rows", "time")["rows"] == []
    refused(3, "money", a, "--rows", "wheels")
    refused(3, "money", a, "--rows", "99")
    refused(3, "money", "20010")


def test_what_next_and_when(did: Did, lot: list[str]) -> None:
    a, b, donor = lot
    did("donor", donor)
    did("bought", b, "--expected", "500")
    view = answer(did, "next")
    assert [line["tag"] for line in view["lines"]] == [b, a]
    assert [line["why"] for line in view["waiting"]] == ["donor, kept for its parts"]
    assert f"1  {b}" in did("next")
    forecast = answer(did, "forecast")
    assert {line["tag"] for line in forecast["lines"]} == set(lot) - {donor}
    assert "no date yet" in did("forecast")


def test_channels_and_trading_settings(did: Did, refused: Refused) -> None:
    assert did("channel") == "over the counter: 0 % of the price and 0.00 EUR a sale\n"
    did("channel", "by post", "--add", "--share", "12.5")
    did("channel", "by", "--fixed", "0.35")
    assert did("channel", "by") == "by post: 12.5 % of the price and 0.35 EUR a sale\n"
    did("channel", "by post", "--rename", "parcel", "--share", "7")
    assert [
        (one["name"], one["fee_per_10000"], one["fee_fixed_minor"])
        for one in answer(did, "channel")["channels"]
    ] == [
        ("over the counter", 0, 0),
        ("parcel", 700, 35),
    ]
    did("channel", "parcel", "--remove")
    assert "parcel" not in did("channel")
    refused(4, "channel", "over", "--remove")
    refused(2, "channel", "--add")
    refused(2, "channel", "x", "--add", "--remove")
    refused(3, "channel", "x")
    said = did(
        "trade",
        *("--scheme", "on", "--tax", "19", "--waiting", "14", "--reserve", "7.5", "--margin", "45"),
        *("--warranty", "180", "--keep", "10"),
    )
    for words in (
        "Margin tax      on, 19 %",
        "Waiting period  14 days",
        "Risk reserve    7.5 %",
        "Margin wanted 45.00 EUR",
        "Warranty      180 days",
        "Data kept     10 years after the last business",
        "not advice",
    ):
        assert words in said
    assert "off (19 % when on)" in did("trade", "--scheme", "off")
    assert answer(did, "trade")["hold_days"] == 14
    refused(2, "trade", "--scheme", "maybe")
    refused(2, "trade", "--waiting", "400")
    assert json.loads(did("trade", "--json"))["document"] == "trade"


def test_whose_a_unit_is_is_shown_and_set_right(did: Did, refused: Refused) -> None:
    did("add", "Model", "--owner", "Odo", "--contact", "12")
    assert did("owner", "10014") == "10014: Odo, 12\n"
    assert did("owner", "10014", "Odilo", "--contact", "13") == "10014: Odilo, 13\n"
    assert "Owner         Odilo, 13" in did("unit", "10014")
    assert did("owner", "10014", "--shops") == "10014: the shop's own\n"
    did("undo")
    assert answer(did, "unit", "10014")["owner"] == "Odilo"
    assert "Give one of them" in refused(2, "owner", "10014", "Odo", "--shops")


def test_three_ways_on_and_what_the_model_fetched(did: Did, refused: Refused) -> None:
    tag = answer(did, "add", "Crate", "--price", "100")["tag"]
    assert "Not to be compared yet" in did("compare", tag)
    did("compare", tag, "--as-is", "150", "--time", "10", "--note", "one like it")
    facts = answer(did, "compare", tag, "--in-parts", "200", "--time", "1:30")
    assert [way["cash_minor"] for way in facts["ways"]] == [None, 15_000, 20_000]
    assert facts["words"].endswith("type what is expected of repair.")
    assert "one of them at a time" in refused(2, "compare", tag, "--as-is", "1", "--in-parts", "2")
    assert "Which way is meant" in refused(2, "compare", tag, "--time", "10")
    assert answer(did, "past-prices", tag)["sales"] == []
    assert "None of this model was sold yet." in did("past-prices", "--model", "Crate")
    assert "Which model is meant" in refused(2, "past-prices")


def test_the_page_of_a_model(did: Did, refused: Refused, tmp_path: Path) -> None:
    tag = answer(did, "add", "Crate", "--price", "100")["tag"]
    assert "Crate" in did("model")
    did("model", tag, "--step", "lift the edge", "--screw", "cover", "--count", "8", "--torque", "0.2 Nm")
    page = answer(did, "model", tag, "--traps", "flat cable")
    assert page["steps"][0]["words"] == "lift the edge"
    assert page["screws"][0]["torque_mnm"] == 200
    assert page["traps"] == "flat cable"
    assert "Shared as" in did("model", tag, "--share", str(tmp_path / "page.json"))
    assert "written on already" in refused(4, "model", "--take", str(tmp_path / "page.json"))
    assert "Took over" in did("model", "--take", str(tmp_path / "page.json"), "--instead")
    assert answer(did, "model")["models"][0]["written"] is True
    assert "Which model is meant" in refused(2, "model", "--step", "x")
    assert "Nothing is written" in refused(2, "model", "--name", "Other", "--share", str(tmp_path / "o.json"))
