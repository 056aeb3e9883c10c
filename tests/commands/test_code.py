"""`bench code`: the code on a consumable's pack, shown, set, refused where it cannot be, and taken off."""

from __future__ import annotations

from tests.test_cli import Did, Refused

EAN = "4006381333931"


def test_a_code_is_set_shown_and_taken_off(did: Did) -> None:
    assert "has no code" in did("code", "isopropyl")
    assert f"has the code {EAN} now" in did("code", "isopropyl", EAN)
    assert f"has the code {EAN}." in did("code", "isopropyl")
    assert "no code any more" in did("code", "isopropyl", "")


def test_a_wrong_check_digit_and_a_code_taken_are_refused(did: Did, refused: Refused) -> None:
    assert "does not fit" in refused(2, "code", "isopropyl", "4006381333932")
    did("code", "isopropyl", EAN)
    assert "already" in refused(2, "code", "lint", EAN)
    assert "has no code" in did("code", "lint")
