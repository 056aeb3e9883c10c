"""`bench find`: what bears the words, the likeliest first, as text and as JSON."""

from __future__ import annotations

import json

from tests.test_cli import Did, Refused


def test_a_unit_is_found_by_its_model_mistyped_and_by_its_serial(did: Did) -> None:
    did("add", "Reed 3", "--maker", "Quaggy", "--serial", "QQ-7 x")
    for words in (("quaggy",), ("reed", "3"), ("qq-7",), ("quagyg",)):
        assert "Quaggy Reed 3" in did("find", *words)


def test_it_answers_a_script_as_json(did: Did) -> None:
    did("add", "Reed 3", "--maker", "Quaggy")
    told = json.loads(did("find", "quaggy", "--json"))
    assert told["document"] == "found"
    assert [(one["kind"], one["name"]) for one in told["found"]] == [
        ("unit", "Quaggy Reed 3"),
        ("model", "Quaggy Reed 3"),
    ]
    assert json.loads(did("find", "zzyzx", "--json"))["found"] == []


def test_nothing_found_is_said(did: Did) -> None:
    assert did("find", "zzyzx").strip() == "Nothing bears these words."


def test_no_letter_is_refused(refused: Refused) -> None:
    assert "no letter or digit" in refused(2, "find", "--", "-")
