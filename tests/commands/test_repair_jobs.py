"""Commands of owners' repairs, general expenses and electricity, with their papers and JSON."""

from __future__ import annotations

import io
import json
import sys
from pathlib import Path

import pytest

from bench.commands.documents import DOCUMENTS, record_of
from bench.reports.record_keys import keys_of
from tests.test_cli import Did, Refused, answer


@pytest.fixture
def tag(did: Did) -> str:
    """An owner's machine, its repair taken in with a complaint."""
    added = json.loads(did("add", "Model", "--maker", "Maker", "--owner", "Odo [b]Owner[/b]", "--json"))
    found = str(added["tag"])
    did("job", found, "--complaint", "it [/]goes off", "--along", "charger", "--its-data", "must be kept")
    return found


def quoted(did: Did, tag: str) -> None:
    did("quote", "--tax", "19", "--warranty", "90", "--uncollected", "30")
    did("quote", tag, "--line", "fan", "--price", "40")
    did("quote", tag, "--line", "fit it", "--kind", "labour", "--number", "1.5", "--price", "48")


def test_a_repair_from_the_counter_to_the_bill(did: Did, refused: Refused, tag: str, tmp_path: Path) -> None:
    said = did("job", tag)
    assert "it [/]goes off" in said
    assert "not quoted yet" in said
    assert "Odo [b]Owner[/b]" in did("job")
    refused(3, "quote", tag)
    quoted(did, tag)
    facts = answer(did, "job", tag)
    assert facts["quote"]["total_minor"] == 13_328
    assert (facts["job"]["data_consent"], facts["job"]["has_access_word"]) == ("must be kept", False)
    assert facts["lines"][1]["net_minor"] == 7_200
    assert "a draft, not given yet" in did("quote", tag)
    did("quote", tag, "--give", "--on", "today")
    did("job", tag, "--diagnosis", "the fan stands still")
    assert "accepted" in did("quote", tag, "--accepted", "--how", "by phone")
    paper = did("quote", tag, "--paper", "bill")
    assert "Tax 19 % of 112.00 EUR" in paper
    assert "133.28 EUR" in paper
    refused(3, "quote", tag, "--paper", "hand-back")
    did("leave", tag, "handed-back", "repaired")
    note = did("quote", tag, "--paper", "hand-back")
    assert "Warranty of the shop on this repair until" in note
    for end in ("txt", "html", "json", "pdf"):
        did("quote", tag, "--paper", "bill", "--to", str(tmp_path / f"bill.{end}"))
    assert (tmp_path / "bill.pdf").read_bytes().startswith(b"%PDF-")
    assert "Odo [b]Owner[/b]" in (tmp_path / "bill.html").read_text()
    assert did("job") == "No owner's machine is here for repair.\n"
    assert "handed back" in did("job", "--all")
    assert answer(did, "month")["unsold"][0]["amount_minor"] == 11_200


def test_each_document_has_the_keys_that_are_told(did: Did, tag: str) -> None:
    quoted(did, tag)
    did("expense", "rent", "480")
    made = {
        "job": answer(did, "job", tag),
        "jobs": answer(did, "job"),
        "quote": answer(did, "quote", tag),
        "bill": answer(did, "quote", tag, "--paper", "bill"),
        "expenses": answer(did, "expense"),
        "quoted": answer(did, "quote", tag, "--line", "x", "--price", "1"),
        "expense_kept": answer(did, "expense", "tools", "5"),
    }
    for document in DOCUMENTS:
        if document.name in made:
            told = {key.name for key in keys_of(record_of(document))} | {"document", "shape"}
            assert set(made[document.name]) == told, document.name
            assert made[document.name]["document"] == document.name


def test_the_access_word_is_no_argument_and_is_in_no_output_but_one(
    did: Did, refused: Refused, tag: str, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    refused(2, "access", tag)
    monkeypatch.setattr(sys, "stdin", io.StringIO("marmalade-41\n"))
    assert "marmalade" not in did("access", tag, "--keep")
    quoted(did, tag)
    others = (("job", tag), ("job", tag, "--json"), ("quote", tag), ("journal", "--json"), ("unit", tag))
    assert all("marmalade" not in did(*one) for one in others)
    did("export", "--json", str(tmp_path / "all.json"))
    assert "marmalade" not in (tmp_path / "all.json").read_text()
    assert did("access", tag, "--show") == "marmalade-41\n"
    assert "Erased" in did("access", tag, "--erase")
    refused(3, "access", tag, "--show")


def test_general_expenses_are_kept_shown_and_set_right(did: Did, refused: Refused) -> None:
    assert "480.00 EUR for rent" in did("expense", "rent", "480", "--who", "A landlord")
    assert "Income" in did("expense", "teaching", "119", "--tax", "19")
    shown = did("expense")
    assert "Total: -361.00 EUR." in shown
    assert "470.00" in did("expense", "--edit", "1", "rent", "470")
    assert answer(did, "expense", "rent")["total_minor"] == -47_000
    month = did("month")
    assert "after general expenses" in month
    told = [line.split(",")[:3] for line in did("month", "--csv").splitlines() if line.startswith("general,")]
    assert [name for _, _, name in told] == ["teaching", "rent"]
    assert "-351.00 EUR" in month
    assert "Removed" in did("expense", "--remove", "1")
    did("undo")
    assert answer(did, "month")["general_minor"] == -35_100
    refused(2, "expense", "rent", "nothing")
    refused(3, "expense", "--edit", "77", "rent", "1")


def test_what_machines_draw_is_set(did: Did, refused: Refused) -> None:
    assert "not set" in did("power")
    said = did("power", "--watts", "40", "--price", "0.3214")
    assert "0.3214 EUR" in said
    assert "in no total" in said
    assert "soak: 65 W" in did("power", "soak", "--watts", "65")
    assert answer(did, "power")["task_watts"] == [{"name": "soak", "watts": 65}]
    refused(2, "power", "--price", "cheap")


def test_an_amount_alone_is_no_category(did: Did, refused: Refused) -> None:
    for typed in (("12.50",), ("rent", "--income")):
        assert "such as rent 400" in refused(2, "expense", *typed)
    assert answer(did, "expense")["lines"] == []
