"""A specification: what is told together, what changed, and what may be typed."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.domain.specification import (
    FittedDrive,
    MemoryModule,
    Specification,
    changes_between,
    filled_up,
    specification_lines,
)
from bench.domain.specification_typed import FIELDS, read_typed, typed_of
from bench.errors import BadInput, SeveralBadInputs

GB = 2**30
REST = "8 GB soldered, 1 of 1 slot filled, DDR4"
KNOWN = Specification(
    processor="Quern Q5",
    cores=4,
    memory_bytes=16 * GB,
    memory_slots=1,
    memory_soldered_bytes=8 * GB,
    memory_modules=(
        MemoryModule("board", 8 * GB, "DDR4", "Chip"),
        MemoryModule("A", 8 * GB, "DDR4", "SODIMM"),
    ),
    drives=(FittedDrive("Quern Q2", "Q1", "SSD, NVMe", 512_110_190_592),),
    screen_diagonal_mm=355,
    screen_pixels_across=1920,
    screen_pixels_down=1080,
    battery="Invented PK-57",
    battery_design_uwh=57_000_000,
    keyboard_layout="UK",
    firmware_on=date(2021, 3, 4),
    firmware_lock="none seen",
)


def test_what_is_told_anew_stands_and_the_rest_stays() -> None:
    told = Specification(processor="Quern Q7", battery="none seen", memory_seen_bytes=7 * GB)
    now = filled_up(told, KNOWN)
    assert (now.processor, now.cores) == ("Quern Q7", None)  # the four were the other one's
    assert (now.battery, now.battery_design_uwh) == ("none seen", None)
    assert (now.memory_bytes, now.keyboard_layout) == (16 * GB, "UK")
    assert filled_up(told, None) == told
    assert filled_up(Specification(), KNOWN) == KNOWN


def test_changes_are_told_by_line() -> None:
    later = replace(KNOWN, memory_bytes=24 * GB, colour="silver", keyboard_layout=None)
    assert [one.words for one in changes_between(KNOWN, later)] == [
        f"Memory: 16 GB, {REST} → 24 GB, {REST}",
        "Keyboard: UK → not known",
        "Colour: not known → silver",
    ]
    assert changes_between(KNOWN, KNOWN) == ()


def test_memory_that_only_the_kernel_tells_is_at_least_that() -> None:
    (line,) = specification_lines(Specification(memory_seen_bytes=16_165_124 * 1024))
    assert line.text == "15.4 GB or more"


def test_what_is_typed_again_unchanged_changes_nothing() -> None:
    assert read_typed(typed_of(KNOWN), KNOWN) == KNOWN  # the screen is 355 mm, and not 14.0 in


def test_typed_fields() -> None:
    typed = {
        "memory": "24",
        "soldered": "8192 MB",
        "screen": "15.6",
        "pixels": "2560×1440",
        "design": "5000 mAh",
        "firmware_on": "2022-02-28",
        "account_lock": "Locked",
        "keyboard_layout": "",
    }
    now = read_typed(typed, KNOWN)
    assert (now.memory_bytes, now.memory_soldered_bytes, now.memory_modules) == (24 * GB, 8 * GB, None)
    assert (now.screen_diagonal_mm, now.screen_pixels_across) == (396, 2560)
    assert (now.battery_design_uwh, now.battery_design_uah) == (None, 5_000_000)
    assert (now.firmware_on, now.account_lock, now.locked) == (date(2022, 2, 28), "locked", True)
    assert (now.keyboard_layout, now.drives) == (None, KNOWN.drives)


@pytest.mark.parametrize(
    ("field", "text"),
    [
        ("memory", "much"),
        ("memory", "99999999 GB"),
        ("cores", "2.5"),
        ("screen", "0"),
        ("pixels", "1920"),
        ("design", "0 Wh"),
        ("firmware_on", "2022-02-30"),
        ("firmware_on", "yesterday"),
        ("account_lock", "perhaps"),
        ("soldered", "32"),
        ("colour", "x" * 201),
    ],
)
def test_what_cannot_be_is_a_sentence_at_its_field(field: str, text: str) -> None:
    with pytest.raises(BadInput) as error:
        read_typed({field: text}, KNOWN)
    assert error.value.field == field


def test_all_that_is_wrong_is_told_at_once() -> None:
    with pytest.raises(SeveralBadInputs) as error:
        read_typed({"cores": "x", "pixels": "y"}, KNOWN)
    assert {fault.field for fault in error.value.faults} == {"cores", "pixels"}
    with pytest.raises(BadInput, match="no field “size”"):
        read_typed({"size": "1"}, KNOWN)
    with pytest.raises(BadInput, match="Nothing is typed"):
        read_typed(dict.fromkeys(FIELDS, " "), Specification())


@given(st.sampled_from(sorted(FIELDS)), st.text(max_size=30))
def test_any_text_is_read_or_refused(field: str, text: str) -> None:
    try:
        known = read_typed({field: text}, KNOWN)
    except BadInput:
        return
    assert read_typed(typed_of(known), known) == known
