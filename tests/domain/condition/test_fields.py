"""What is typed for a reading becomes whole numbers with their unit in the name, or one sentence."""

from __future__ import annotations

import pytest

from bench.domain.condition.fields import GLUED, SUBJECTS, check_moment, read_fields, subject_named
from bench.domain.condition.figures import LABELS, facts
from bench.domain.condition.found import ACT, FINE, OPEN, STATE
from bench.domain.condition.verdicts import verdicts
from bench.errors import BadInput

TYPED = {
    "battery": (
        {"design": "57 Wh", "full": "51.3", "cycles": "312", "voltage": "12.69 V", "swelling": "No"}
        | {"fitted": "Glued in"},
        {"design_uwh": 57_000_000, "full_uwh": 51_300_000, "cycles": 312, "voltage_uv": 12_690_000}
        | {"swelling": "no", "fitted": GLUED},
    ),
    "drive": (
        {"size": "0.512 TB", "used": "7", "hours": "3,191", "errors": "0"},
        {"size_bytes": 512 * 10**9, "used_percent": 7, "power_on_hours": 3191, "media_errors": 0},
    ),
    "memory": ({"passes": "2", "errors": "0"}, {"passes": 2, "errors": 0}),
    "heat": (
        {"room": "21.5", "idle": "38", "load": "204.8 F", "power": "45 W", "minutes": "0.5 h"},
        {"room_tenths_c": 215, "idle_tenths_c": 380, "load_tenths_c": 960, "power_mw": 45_000, "minutes": 30},
    ),
    "screen": (
        {"brightness": "287 nits", "dead_pixels": "1"},
        {"brightness_cd_m2": 287, "dead_pixels": 1},
    ),
    "ports": ({"ports_tested": "6", "ports_working": "5"}, {"ports_tested": 6, "ports_working": 5}),
    "keyboard": ({"keys_tested": "84", "keys_failing": "0"}, {"keys_tested": 84, "keys_failing": 0}),
    "screws": ({"screws_missing": "2"}, {"screws_missing": 2}),
}


@pytest.mark.parametrize("name", SUBJECTS)
def test_each_subject_keeps_what_was_typed(name: str) -> None:
    typed, figures = TYPED[name]
    assert read_fields(subject_named(name), typed) == figures
    assert len(facts(figures)) == len(figures), "every figure has a label"
    assert verdicts(name, figures)


@pytest.mark.parametrize("name", SUBJECTS)
def test_every_field_can_be_shown_by_one_form(name: str) -> None:
    for field in SUBJECTS[name].fields:
        assert field.given.label
        assert field.given.limits()
        assert all(kept.name in LABELS for kept in field.kept.values())


def test_charge_is_kept_as_charge() -> None:
    figures = read_fields(subject_named("battery"), {"design": "4400 mAh", "full": "4.1 Ah"})
    assert figures == {"design_uah": 4_400_000, "full_uah": 4_100_000}


@pytest.mark.parametrize(
    ("subject", "typed", "words"),
    [
        ("battery", {}, "Nothing was typed"),
        ("battery", {"full": "  "}, "Nothing was typed"),
        ("battery", {"colour": "red"}, "has no field “colour”"),
        ("battery", {"design": "57 Wh", "full": "4100 mAh"}, "different units"),
        ("battery", {"design": "4400 mAh", "full": "50 Wh"}, "different units"),
        ("battery", {"design": "57", "full": "570"}, "far above design"),
        ("battery", {"swelling": "perhaps"}, "not one of its choices"),
        ("battery", {"cycles": "0"}, "is nothing"),
        ("drive", {"used": "256"}, "too large"),
        ("heat", {"load": "151"}, "too large"),
        ("ports", {"ports_tested": "4", "ports_working": "5"}, "More ports work"),
        ("keyboard", {"keys_tested": "4", "keys_failing": "5"}, "More keys fail"),
        ("memory", {"passes": "1.5"}, "not a whole number"),
    ],
)
def test_what_cannot_be_is_one_sentence(subject: str, typed: dict[str, str], words: str) -> None:
    with pytest.raises(BadInput, match=words):
        read_fields(subject_named(subject), typed)


def test_only_these_subjects_and_moments() -> None:
    assert subject_named(" Battery ").name == "battery"
    assert check_moment("after") == "after"
    with pytest.raises(BadInput, match="battery, drive"):
        subject_named("smell")
    with pytest.raises(BadInput, match="before or after"):
        check_moment("during")


@pytest.mark.parametrize(
    ("subject", "figures", "standing", "words"),
    [
        ("memory", {"passes": 2, "errors": 0}, FINE, "no error found in 2 full passes"),
        ("memory", {"passes": 1, "errors": 0}, FINE, "1 full pass"),
        ("memory", {"passes": 2, "errors": 1}, ACT, "1 error:"),
        ("memory", {"errors": 3}, ACT, "3 errors"),
        ("memory", {"errors": 0}, OPEN, "no full pass"),
        ("memory", {"passes": 3}, OPEN, "no full pass"),
        ("screen", {"brightness_cd_m2": 287}, STATE, "287 cd/m²"),
        ("screen", {"dead_pixels": 0}, FINE, "none found"),
        ("screen", {"dead_pixels": 1}, STATE, "1 dead or stuck pixel"),
        ("screen", {}, OPEN, "No definition"),
        ("ports", {"ports_tested": 6, "ports_working": 6}, FINE, "all 6"),
        ("ports", {"ports_tested": 6, "ports_working": 4}, STATE, "2 of 6 ports fail"),
        ("ports", {"ports_tested": 6}, OPEN, "both needed"),
        ("keyboard", {"keys_failing": 1}, STATE, "1 key fail"),
        ("keyboard", {"keys_tested": 84, "keys_failing": 0}, FINE, "all 84"),
        ("keyboard", {"keys_tested": 84}, OPEN, "both needed"),
        ("screws", {"screws_missing": 2}, STATE, "2 missing"),
        ("screws", {"screws_missing": 0}, FINE, "none missing"),
        ("heat", {"load_tenths_c": 920}, OPEN, "are needed"),
        ("heat", {"load_tenths_c": 920, "room_tenths_c": 240, "power_mw": 45_000}, OPEN, "1.51 K/W"),
        ("heat", {"load_tenths_c": 220, "room_tenths_c": 240, "power_mw": 45_000}, OPEN, "cannot be"),
        ("drive", {}, OPEN, "No definition"),
        ("drive", {"media_errors": 2}, STATE, "2 media errors"),
    ],
)
def test_verdicts_on_typed_figures(subject: str, figures: dict[str, int], standing: str, words: str) -> None:
    (found,) = verdicts(subject, figures)
    assert found.standing == standing
    assert words in found.words
    assert found.definition
    assert found.source
