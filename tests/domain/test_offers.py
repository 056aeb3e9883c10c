"""The list at the seller's table: kept, read back, put into a note."""

from __future__ import annotations

import pytest

from bench.domain.offers import (
    NOT_LOOKED_AT,
    NOTHING_NOTED,
    TABLE_ITEMS,
    findings_in,
    findings_note,
    keep_findings,
)
from bench.errors import BadInput


def test_the_list_has_what_must_be_looked_at() -> None:
    assert list(TABLE_ITEMS.values()) == [
        "powers on",
        "firmware or account lock",
        "drive lock",
        "lid and hinges",
        "screen coating and dead pixels",
        "battery figures",
        "charger lead",
        "serial matches the papers",
    ]


def test_what_is_kept_reads_back() -> None:
    kept = keep_findings({"screen": " two dead pixels, [b]left[/b] ", "powers_on": ""})
    found = {one.item: one for one in findings_in(kept)}
    assert list(found) == list(TABLE_ITEMS)
    assert (found["screen"].seen, found["screen"].words) == (True, "two dead pixels, [b]left[/b]")
    assert (found["powers_on"].seen, found["powers_on"].words) == (True, "")
    assert (found["battery"].seen, found["battery"].words) == (False, "")


def test_a_note_tells_seen_and_not_looked_at_apart() -> None:
    note = findings_note(findings_in(keep_findings({"powers_on": "", "battery": "81 %"})))
    lines = note.split("\n")
    assert lines[0] == "At the seller's table:"
    assert f"powers on: {NOTHING_NOTED}" in lines
    assert "battery figures: 81 %" in lines
    assert lines.count(f"drive lock: {NOT_LOOKED_AT}") == 1
    assert len(lines) == 1 + len(TABLE_ITEMS)


def test_without_a_look_there_is_no_note() -> None:
    assert findings_note(findings_in(keep_findings({}))) == ""


@pytest.mark.parametrize("typed", [{"wheels": "two"}, {"screen": "x" * 401}, {"screen": "a\nb"}])
def test_what_cannot_be_kept(typed: dict[str, str]) -> None:
    with pytest.raises(BadInput):
        keep_findings(typed)
