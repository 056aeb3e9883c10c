"""Commands of selling and after: from the listing to the second sale, the register, erasing, the month."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest

from bench.desk import Desk, SystemClock
from bench.work.files import open_or_new
from bench.work.trade import add_channel, edit_trade
from tests.test_cli import Did, Refused, answer

BUYER = ("--buyer", "Quendolin Buyer", "--address", "7 Nowhere Lane", "--contact", "q@example.org")


@pytest.fixture
def tag(did: Did, path: Path) -> str:
    """A unit without tasks, bought for 300, in a shop that calculates margin tax and sells at a market."""
    store = open_or_new(path)
    desk = Desk(store, SystemClock(), 1)
    edit_trade(
        desk,
        margin_scheme=True,
        margin_tax_text="20",
        hold_days_text="0",
        keep_private_text="6",
        risk_reserve_text="10",
        wanted_margin_text="",
        warranty_text="365",
    )
    add_channel(desk, "market", share_text="10", fixed_text="0.50")
    store.close()
    tag = str(answer(did, "add", "Model A", "--maker", "Maker", "--serial", "SN-1", "--price", "300")["tag"])
    did("drive", tag, "--none")
    return tag


def test_a_unit_is_listed_sold_returned_and_sold_again(did: Did, refused: Refused, tag: str) -> None:
    """300 -> 700 at 20 %: tax 66.67; fee 10 % + 0.50 = 70.50. Again for 610.10: margin 310.10, tax 51.68."""
    assert did("listing", tag).startswith("Maker Model A\n")
    assert answer(did, "listing", tag)["to_do"] == []
    said = did("sell", tag, "700", "--channel", "mark", "--with", "charger", "--invoice", "S-1", *BUYER)
    assert said.startswith(
        f"Sold {tag} for 700.00 EUR; fees 70.50 EUR, tax on the margin (not advice) 66.67 EUR.\n"
    )
    assert "Warranty until" in said
    assert f"bench handover {tag}" in said
    note = did("handover", tag)
    for words in ("SN-1", "the unit; charger", "Quendolin Buyer", "watt-hours not known", "local rules"):
        assert words in note
    assert answer(did, "handover", tag)["price_minor"] == 70_000
    assert "was sold already" in refused(4, "sell", tag, "1")
    back = did("return", tag, "key E fails", "--refund", "700", "--stage", "insp")
    assert back == (
        f"{tag} is back at inspected, refunded 700.00 EUR. Its hours count against the sale.\n"
        "The sale is undone: sell it again.\n"
    )
    assert "not sold" in refused(3, "handover", tag)
    assert "no drive is recorded in it" in refused(4, "sell", tag, "610.10")  # the buyer may have put one in
    did("drive", tag, "--none")
    sold = answer(did, "sell", tag, "610.10", "--warranty", "0")
    assert (sold["price_minor"], sold["tax_minor"], sold["warranty_until"]) == (61_010, 5_168, None)
    facts = answer(did, "register")
    assert (facts["margins_minor"], facts["taxes_minor"], facts["refunds_minor"]) == (31_010, 5_168, 70_000)
    back = answer(did, "return", tag, "hinge", "--postage", "0")
    assert (back["stage"], back["undoes"], back["postage_minor"]) == ("received", False, 0)
    back = answer(did, "return", tag, "hinge, not to be mended", "--correct", "--refund", "610.10")
    assert (back["undoes"], back["postage_minor"]) == (True, None)


def test_open_tasks_are_settled_on_the_way_out(did: Did, refused: Refused) -> None:
    tag = answer(did, "add", "Model B", "--route", "clean")["tag"]
    did("drive", tag, "--none")
    assert "Not finished" in refused(4, "sell", tag, "10")
    assert "--open-tasks" in refused(2, "sell", tag, "10", "--open-tasks", "perhaps")
    said = did("sell", tag, "10", "--open-tasks", "skip", "--reason", "as it came", "--warranty", "0")
    assert "No warranty.\n" in said
    assert "Marked done: 0. Skipped: " in said


def test_what_cannot_be_sold_or_returned_is_one_sentence(did: Did, refused: Refused, tag: str) -> None:
    refused(2, "sell", tag, "a lot")
    refused(3, "sell", tag, "1", "--channel", "bazaar")
    refused(2, "sell", tag, "1", "--on", "2099-01-01")
    refused(3, "return", tag, "never sold")
    did("sell", tag, "700")
    refused(2, "return", tag, "too much", "--refund", "700.01")
    refused(3, "return", tag, "where", "--stage", "nowhere")
    refused(4, "return", tag, "there", "--stage", "sold")


def test_documents_are_written_once_to_a_named_file(
    did: Did, refused: Refused, tag: str, tmp_path: Path
) -> None:
    did("sell", tag, "700", *BUYER)
    for command, names in (
        (("listing", tag), ("l.txt", "l.html", "l.json", "l.pdf")),
        (("handover", tag), ("h.txt", "h.html", "h.json", "h.pdf")),
        (("register",), ("r.txt", "r.csv", "r.html", "r.json")),
        (("month",), ("m.txt", "m.csv", "m.json")),
        (("year",), ("y.txt", "y.csv", "y.json")),
    ):
        for name in names:
            target = tmp_path / name
            assert did(*command, "--to", str(target)) == f"Wrote {target}.\n"
            assert target.stat().st_size > 100
            assert (target.stat().st_mode & 0o777) == 0o600
            refused(2, *command, "--to", str(target))
        refused(2, *command, "--to", str(tmp_path / "x.docx"))
    assert "Quendolin Buyer" in (tmp_path / "r.html").read_text(encoding="utf-8")


def test_the_register_by_year_and_in_every_form(did: Did, refused: Refused, tag: str) -> None:
    did("sell", tag, "700", "--on", "today", *BUYER)
    (row,) = csv.DictReader(io.StringIO(did("register", "--csv")))
    assert (row["tag"], row["buyer"], row["margin_minor"]) == (tag, "Quendolin Buyer", "40000")
    assert "no such line" in did("register", "2001")
    assert answer(did, "register", row["sold_on"][:7])["lines"][0]["tag"] == tag
    refused(2, "register", "soon")
    refused(2, "register", "--csv", "--json")


def test_parties_are_erased_and_it_is_said_what_is_left(
    did: Did, refused: Refused, tag: str, path: Path
) -> None:
    assert did("parties") == "Nobody is on record.\n"
    did("buy-lot", "Pallet", "30", "--unit", "Model Z=40", "--seller", "Zebulon")
    assert "in stock" in did("parties")
    did("sell", tag, "700", *BUYER)
    other = answer(did, "add", "Model B", "--note", "Quendolin Buyer rang")["tag"]
    did("drive", other, "--none")
    did("sell", other, "5", "--buyer", "A firm", "--business")
    shown = did("parties")
    assert "Quendolin Buyer" in shown
    assert "firm" in shown
    line = next(one for one in answer(did, "parties")["parties"] if one["private"])
    number = str(line["party_id"])
    assert answer(did, "parties", "--due")["parties"] == []
    assert line["erase_on"] in refused(4, "erase", number, "asked for")
    assert "law lets you" in refused(4, "erase", number, "asked for")
    refused(2, "erase", number, "quendolin buyer asked", "--early")
    refused(2, "erase", number, "--early")
    refused(2, "erase", "someone", "asked for")
    refused(2, "erase", "due", "years", "--early")
    refused(3, "erase", "due", "years are over")
    said = did("erase", number, "asked for by letter", "--early")
    assert said.startswith(f"Erased the data of party {number}. It cannot be undone.\n")
    assert "still stand in: unit note (1)" in said
    assert "copies of the file in" in said
    assert "Copies elsewhere and exports" in said
    assert "erased" in did("parties")
    assert did("erase", "again") == "The file was rewritten: of what was erased no bytes are left in it.\n"
    assert b"7 Nowhere Lane" not in path.read_bytes()
    refused(4, "erase", number, "again", "--early")


def test_erasing_what_is_due_and_a_file_in_use(
    did: Did, refused: Refused, tag: str, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    did("sell", tag, "700", *BUYER)
    did("undo")
    assert "Quendolin Buyer" in did("parties", "--due")
    store = open_or_new(path)
    with store.read() as connection:
        connection.execute("SELECT COUNT(*) FROM party").fetchone()
        monkeypatch.setattr("bench.store.scrubbing.PATIENCE_SECONDS", 0.01)
        assert "Old bytes may be left" in did("erase", "due", "taken back")
        assert "could not be rewritten" in refused(4, "erase", "again")
    store.close()
    assert answer(did, "parties")["parties"] == []
    did("erase", "again")


def test_erased_as_json(did: Did, tag: str, path: Path) -> None:
    did("sell", tag, "700", *BUYER)
    assert answer(did, "erase", "1", "asked for", "--early") == {
        "document": "erased",
        "shape": 2,
        "party_ids": [1],
        "left_in": [],
        "not_rewritten": "",
        "copies": 2,  # that of the day and the one before the erasing
        "copies_folder": f"{path}.copies",
        "photographs": 0,
        "photographs_left": [],
    }


def test_the_month_and_the_year(did: Did, refused: Refused, tag: str) -> None:
    assert "not known yet" in did("sell", tag, "700", "--on", "today")
    unknown = answer(did, "month")
    assert (unknown["complete"], unknown["missing"]) == (False, [f"{tag} shipping"])
    assert (unknown["total"]["margin_minor"], unknown["result_minor"]) == (None, None)
    assert "shipping, 1 not typed" in did("month")
    assert did("shipping", "", "0", "--through") == "Shipping of 1 sale is noted.\n"
    assert "is known" in refused(3, "shipping", "", "0", "--through")
    did("undo")
    assert did("shipping", tag, "0") == f"Shipping of {tag} is noted.\n"
    month = answer(did, "month")
    assert (month["document"], month["total"]["margin_minor"]) == ("month", 70_000 - 30_000 - 6_667)
    year = answer(did, "year", month["span"][:4])
    assert (year["document"], len(year["by_month"])) == ("year", 12)
    assert year["total"] == month["total"]
    assert did("month", month["span"]).startswith(did("month").split("\n")[0])
    assert next(csv.DictReader(io.StringIO(did("year", "--csv"))))["units"] == "1"
    assert "bench year" in refused(2, "month", "2026")
    assert "bench month" in refused(2, "year", "2026-11")
    refused(2, "month", "soon")
    refused(2, "year", "--csv", "--json")
    assert json.loads(did("month", "2001-01", "--json"))["total"]["units"] == 0


def test_a_unit_leaves_otherwise_than_by_a_sale(did: Did, refused: Refused, tag: str) -> None:
    """300 paid and 5 for scrap; an owner pays 40 for a repair."""
    assert "nobody to hand it back to" in refused(4, "leave", tag, "handed-back", "x")
    assert "cannot leave by flying" in refused(2, "leave", tag, "flying", "x")
    said = did("leave", tag, "scrapped", "burnt", "--proceeds", "5")
    assert said == f"{tag} scrapped, 300.00 EUR lost, 5.00 EUR for scrap.\n"
    own = answer(did, "add", "Model O", "--owner", "Odo Owner", "--contact", "o@example.org")["tag"]
    assert "never bought" in refused(4, "sell", own, "10")
    left = answer(did, "leave", own, "handed-back", "repaired", "--price", "40")
    assert (left["way"], left["price_minor"], left["lost_minor"]) == ("handed back", 4_000, None)
    month = answer(did, "month")
    assert month["result_minor"] == 4_000 - 30_000 + 500
    assert [line["amount_minor"] for line in month["unsold"]] == [4_000, 0, -30_000, 500]
