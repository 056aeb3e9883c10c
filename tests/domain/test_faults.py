"""Where a fault is, as far as its symptom names it; what may be said of one; what a buyer is told."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from bench.domain.faults import (
    ORIGINS,
    PLACES,
    STATES,
    place_in,
    read_origin,
    read_place,
    read_state,
    told_words,
)
from bench.domain.outcomes import KINDS, OUTCOMES, PLACE_TESTED
from bench.errors import BadInput
from bench.store.revision import HEAD

SCHEMA = (Path(__file__).parents[1] / "store" / "revisions" / f"{HEAD}.sql").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("symptom", "place"),
    [
        ("fan rattles", "fan"),
        ("Charging port loose", "charging port"),
        ("USB on the left dead", "ports"),
        ("the heat sink came off the fan", "heat sink"),
        ("screen: stripes", "display"),
        ("no boot", "system"),
        ("fantastic noise", ""),
        ("other", ""),
        ("", ""),
        ("Wi-Fi drops; antenna?", "wireless"),
    ],
)
def test_the_place_that_a_symptom_names_first(symptom: str, place: str) -> None:
    assert place_in(symptom) == place


def test_what_is_read_is_one_of_the_list() -> None:
    assert read_place("  Heat   Sink ") == "heat sink"
    assert read_place("") == ""
    assert (read_origin("OURS"), read_state("stays")) == ("ours", "stays")
    for read, what in ((read_place, "place"), (read_origin, "origin"), (read_state, "state")):
        with pytest.raises(BadInput, match="Choose one of"):
            read(f"no {what}")


def test_a_buyer_is_told_what_and_whether_it_stays() -> None:
    assert told_words("rattles", "fan", "open", "") == "Fan: rattles (not repaired)"
    assert (
        told_words("scratch", "", "stays", "looks only")
        == "Known fault: scratch (stays as it is: looks only)"
    )


def listed_by_the_file(constraint: str) -> set[str]:
    found = re.search(rf"CONSTRAINT {constraint} CHECK \(\w+ IN \((.*?)\)\)", SCHEMA)
    assert found is not None
    return set(re.findall(r"'([^']*)'", found[1]))


def test_the_file_knows_the_same_words() -> None:
    assert listed_by_the_file("ck_fault_place") == {"", *PLACES}
    assert listed_by_the_file("ck_fault_origin") == set(ORIGINS)
    assert listed_by_the_file("ck_fault_state") == set(STATES)
    assert listed_by_the_file("ck_test_run_kind") == set(KINDS)
    assert listed_by_the_file("ck_task_test") == listed_by_the_file("ck_route_task_test") == {"", *KINDS}
    assert listed_by_the_file("ck_test_run_outcome") == set(OUTCOMES)
    assert set(PLACE_TESTED) <= set(KINDS)
    assert set(PLACE_TESTED.values()) <= set(PLACES)
