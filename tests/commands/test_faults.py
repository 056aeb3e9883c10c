"""Commands of faults, tests and rates: from a line of text to what it cost."""

from __future__ import annotations

import json

import pytest

from tests.test_cli import Did, Refused, answer


@pytest.fixture
def tag(did: Did) -> str:
    return str(answer(did, "add", "Model One", "--maker", "Invented", "--route", "charger")["tag"])


def test_a_fault_goes_in_by_one_line_and_is_shown(did: Did, tag: str) -> None:
    assert did("fault", tag, "fan [b]rattles") == f"Fault f1 of {tag}, fan: fan [b]rattles (open).\n"
    kept = answer(did, "fault", tag, "hinge loose", "--origin", "before", "--suspected", "screw")
    assert (kept["document"], kept["fault_id"], kept["place"], kept["origin"]) == (
        "fault_kept",
        2,
        "hinge",
        "before",
    )
    listed = answer(did, "fault")
    assert [one["symptom"] for one in listed["faults"]] == ["hinge loose", "fan [b]rattles"]
    assert " f2  hinge  hinge loose     open" in did("fault", tag)
    shown = did("fault", "f2")
    assert shown.startswith(f"Fault f2 of {tag}, Invented Model One: hinge loose\n")
    assert "Suspected     screw" in shown
    assert "f1 Fan: fan [b]rattles (not repaired)" in did("unit", tag)


def test_the_rest_is_said_later_and_belongs_to_it(did: Did, tag: str) -> None:
    did("fault", tag, "fan rattles")
    did("part", tag, "fan", "--cost", "12.50")
    kept = answer(
        did, "fault", "F1", "--origin", "ours", "--cause", "lead torn", "--part", "1", "--task", "2"
    )
    assert kept["origin"] == "ours"
    sheet = answer(did, "fault", "f1")
    assert (sheet["fault"]["cause"], sheet["cost"]["parts_minor"], sheet["cost_minor"]) == (
        "lead torn",
        1250,
        1250,
    )
    assert {one["what"] for one in sheet["rows"]} == {"part", "task"}
    did("fault", "f1", "--part", "1", "--off")
    assert answer(did, "fault", "f1")["cost"]["parts_minor"] == 0
    assert "(cured)" in did("fault", "f1", "--cured", "new fan")
    assert "No fault is open." in did("fault")
    assert "f1" in did("fault", "--all")
    assert "(open)" in did("fault", "f1", "--open")
    assert "(stays as it is)" in did("fault", "f1", "--stays", "only at full speed")
    assert "Fan: fan rattles (stays as it is: only at full speed)" in did("listing", tag)
    assert "Fan: fan rattles (stays as it is: only at full speed)" in did("sheet", tag)


def test_what_is_wrong_is_one_sentence(refused: Refused, did: Did, tag: str) -> None:
    assert "What is seen is not said" in refused(2, "fault", tag, "--place", "fan")
    assert "There is no fault f9" in refused(3, "fault", "f9")
    assert "said of a fault that is recorded" in refused(2, "fault", tag, "dark", "--cured", "x")
    did("fault", tag, "dark")
    assert "said twice" in refused(2, "fault", "f1", "--cured", "x", "--stays", "y")
    assert "has not come back" in refused(2, "fault", "f1", "--return")
    assert "no part of a laptop" in refused(2, "fault", "f1", "--place", "wheel")
    assert "not summed by weather" in refused(2, "fault", "--by", "weather")
    # Both or none: what was said with what is refused is not kept either.
    refused(3, "fault", "f1", "--cause", "torn", "--part", "9")
    assert answer(did, "fault", "f1")["fault"]["cause"] == ""
    assert did("fault", "f1", "--remove", "the lamp was off") == "Took fault f1 off.\n"
    refused(3, "fault", "f1")


def test_a_test_ends_with_its_outcome(refused: Refused, did: Did, tag: str) -> None:
    said = refused(4, "done", tag, "charger under load")
    assert "is a test: it is done with its outcome" in said
    ended = did("test", tag, "charger", "failed", "voltage=18.9 V", "--ran", "12", "--note", "hot smell")
    assert ended == (
        f"Charger under load of {tag}: failed after 12 min.\n"
        "  fault f1: Charger under load failed: hot smell\n"
    )
    passed = answer(did, "test", tag, "3", "passed", "--cures", "f1", "--ran", "1h")
    assert (passed["document"], passed["task"], passed["cured"]) == (
        "test_ended",
        "charger under load, with someone near",
        [1],
    )
    assert (passed["ran_us"], passed["ran_minutes"]) == (3_600_000_000, 60)
    facts = answer(did, "test", tag)
    assert [one["outcome"] for one in facts["outcomes"]] == ["passed", "failed"]
    assert facts["outcomes"][1]["figures"] == {"voltage_uv": 18_900_000}
    assert facts["faults"][0]["closing_test"] == "charger under load"
    assert "Voltage 18.90 V" in did("test", tag)
    assert "How it ended is not said" in refused(2, "test", tag, "soak")
    assert "no outcome" in refused(2, "test", tag, "soak", "fine")
    assert "not a fault's number" in refused(2, "test", tag, "soak", "passed", "--cures", "1")
    assert did("test", tag, "sound", "broken off") == f"Sound test of {tag}: broken off.\n"
    assert did("test", tag, "--remove", "3", "--note", "another unit") == "Took test t3 off.\n"


def test_a_test_closes_a_fault_by_its_number(did: Did, tag: str) -> None:
    did("fault", tag, "crackles", "--place", "speakers")
    did("test", tag, "sound", "passed")
    did("fault", "f1", "--cured", "t1")
    fault = answer(did, "fault", "f1")["fault"]
    assert (fault["state"], fault["closing_test"], fault["done"]) == ("cured", "sound", "Sound test passed")


def test_what_faults_cost_is_summed(did: Did, tag: str) -> None:
    did("fault", tag, "fan rattles")
    did("part", tag, "fan", "--cost", "12.50")
    did("fault", "f1", "--part", "1")
    report = answer(did, "fault", "--by", "place")
    assert [(one["name"], one["parts_minor"]) for one in report["groups"]] == [("fan", 1250)]
    assert "12.50" in did("fault", "--by", "model")


def test_rates_say_how_sure_they_are(refused: Refused, did: Did, tag: str) -> None:
    did("test", tag, "sound", "failed")
    said = did("return-rates", "--claim", "2")
    assert "nothing can be said yet" in said
    assert "Put by: 10 % of a price, the shop's setting." in said
    assert "To claim, at 95 %, less than 2 %: 149 sales without a return." in said
    assert "1 of 1" in said
    facts = json.loads(did("return-rates", "--json"))
    assert (facts["returns"]["rate"], facts["tests"][0]["rate"]["high_per_10000"]) == (None, 10_000)
    assert "cannot be claimed" in refused(2, "return-rates", "--claim", "0")
