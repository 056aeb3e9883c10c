"""One command, one transaction: where the second step is refused, the first has not happened either."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest

from tests.test_cli import Bench, Did, Refused


@pytest.fixture
def tag(did: Did) -> str:
    return str(_json(did, "add", "Model A", "--route", "clean")["tag"])


def _json(did: Did, *arguments: str) -> Any:
    return json.loads(did(*arguments, "--json"))


def _journal(did: Did) -> list[Any]:
    return list(_json(did, "journal")["lines"])


@pytest.fixture
def drives(did: Did, tag: str) -> Callable[[], list[int]]:
    """Two drives in the unit, d1 and d2, and a way to see which are there."""
    did("drive", tag, "--model", "Disk", "--serial", "S1")
    did("drive", tag, "--model", "Disk", "--serial", "S2")
    return lambda: sorted(one["drive_id"] for one in _json(did, "drive", tag)["drives"])


def test_a_drive_stays_on_record_where_the_move_beside_it_is_refused(
    did: Did, refused: Refused, tag: str, drives: Callable[[], list[int]]
) -> None:
    before = _journal(did)
    # d2 is in that unit already, so that moving it there is refused.
    said = refused(4, "drive", tag, "--remove", "d1", "--reason", "sold apart", "--move", "d2")
    assert "there already" in said
    assert drives() == [1, 2]
    assert _journal(did) == before


def test_a_drive_is_not_moved_where_the_new_one_is_refused(
    did: Did, refused: Refused, tag: str, drives: Callable[[], list[int]]
) -> None:
    other = str(_json(did, "add", "Model B")["tag"])
    before = _journal(did)
    said = refused(2, "drive", other, "--move", "d1", "--cost", "0", "--serial", "S2")
    assert "another drive's" in said
    assert drives() == [1, 2]
    assert _journal(did) == before


def test_drives_are_removed_moved_and_recorded_by_one_command(
    did: Did, tag: str, drives: Callable[[], list[int]]
) -> None:
    other = str(_json(did, "add", "Model B")["tag"])
    steps = ("--remove", "d1", "--reason", "sold", "--move", "d2", "--cost", "0", "--serial", "S3")
    shown = _json(did, "drive", other, *steps)
    assert sorted(one["drive_id"] for one in shown["drives"]) == [2, 3]
    assert drives() == []


def test_ticks_stay_where_one_of_those_to_take_off_is_not_there(
    did: Did, refused: Refused, bench: Bench, tag: str
) -> None:
    did("tick", tag, "opening", "strap")
    before = _journal(did)
    refused(4, "tick", tag, "opening", "strap", "battery_out", "--off")
    ticks = {one["item"]: one["at_us"] for one in _json(did, "tick", tag, "opening")["opening"]}
    assert ticks["strap"] is not None
    assert _journal(did) == before


def test_an_offer_is_not_changed_where_leaving_it_is_refused(did: Did, refused: Refused) -> None:
    number = _json(did, "offer", "--new", "Model A", "--expected", "200")["offer_id"]
    before = _journal(did)
    refused(2, "offer", str(number), "--expected", "100", "--decline", "--reason", "r" * 5000)
    assert _json(did, "offer", str(number))["expected_minor"] == 20000
    assert _journal(did) == before


def test_an_offer_never_put_down_where_leaving_it_is_refused(did: Did, refused: Refused) -> None:
    refused(2, "offer", "--new", "Model A", "--expected", "100", "--decline", "--reason", "r" * 5000)
    assert _json(did, "offer", "--all")["offers"] == []
