"""Scanners and typists told apart by pace, and no key ever out of its order."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.dashboard.scanning import LATER_WAIT, Bursts, Scanned, Typed

TAB_OR_ENTER = ("\r", "\t")


def told(keys: list[tuple[str, float]]) -> list[Typed[str] | Scanned[str]]:
    """What comes of keys with their instants, `quiet` being called when it is due."""
    bursts: Bursts[str] = Bursts()
    found: list[Typed[str] | Scanned[str]] = []
    for key, at in keys:
        due = bursts.quiet_at
        if due is not None and at > due:
            found += bursts.quiet()
        if key in TAB_OR_ENTER:
            found += bursts.end_key(key, at)
        elif key.isprintable():
            bursts.character(key, key, at)
        else:
            found += bursts.other_key(key)
    return found + bursts.quiet()


def at_pace(text: str, gap: float, start: float = 0.0) -> list[tuple[str, float]]:
    return [(key, start + place * gap) for place, key in enumerate(text)]


@pytest.mark.parametrize("gap", [0.0, 0.001, 0.005, 0.010, 0.020])
@pytest.mark.parametrize("text", ["10014", "SNxq 19/ma", "4006381333931", "https://x/?s=1", "A1", "d"])
@pytest.mark.parametrize("end", ["\r", "\t"])
def test_a_scan_is_a_scan_at_every_pace(gap: float, text: str, end: str) -> None:
    (only,) = told(at_pace(text + end, gap))
    assert isinstance(only, Scanned)
    assert (only.text, only.ended) == (text, True)


@pytest.mark.parametrize("gap", [0.040, 0.055, 0.080, 0.2])
def test_a_fast_typist_types(gap: float) -> None:
    keys = [key for one in told(at_pace("smd paste\r", gap)) for key in one.keys if isinstance(one, Typed)]
    assert "".join(keys) == "smd paste\r"


def test_two_keys_that_roll_are_typed() -> None:
    """Two fingers may come down within 15 ms of each other; the Enter comes later."""
    keys = [("s", 0.0), ("m", 0.015), ("\r", 0.140)]
    assert all(isinstance(one, Typed) for one in told(keys))


def test_back_to_back_scans_are_two() -> None:
    found = told(at_pace("10014\r10022\r", 0.001))
    assert [one.text for one in found if isinstance(one, Scanned)] == ["10014", "10022"]


def test_a_line_feed_behind_the_end_belongs_to_it() -> None:
    assert len(told(at_pace("10014\r\r", 0.001))) == 1


def test_a_scan_without_an_end_is_one_and_a_key_held_down_is_none() -> None:
    (scan,) = told(at_pace("ABC12", 0.005))
    assert isinstance(scan, Scanned)
    assert not scan.ended
    assert all(isinstance(one, Typed) for one in told(at_pace("jjjjjjjj", 0.020)))


def test_a_stumble_of_a_busy_machine_does_not_tear_a_scan_apart() -> None:
    """Bytes read late: the reader says nothing is quiet yet, and one gap among many is long."""
    bursts: Bursts[str] = Bursts()
    for key, at in [*at_pace("ABC", 0.005), *at_pace("12345", 0.005, 0.4)]:
        bursts.character(key, key, at)
    (scan,) = bursts.end_key("\r", 0.43)
    assert isinstance(scan, Scanned)
    assert scan.text == "ABC12345"


@given(
    st.lists(
        st.tuples(st.sampled_from("abc1 \r\t\x01\x02"), st.floats(0, 0.2)),
        max_size=40,
    )
)
def test_no_key_overtakes_another_and_none_is_lost(steps: list[tuple[str, float]]) -> None:
    at, keys = 0.0, []
    for key, gap in steps:
        at += gap
        keys.append((key, at))
    order = [key for one in told(keys) for key in one.keys]
    left = iter(key for key, _ in keys)
    assert all(key in left for key in order), "in the order in which they came"
    printable = [key for key, _ in keys if key not in TAB_OR_ENTER]
    assert [key for key in order if key not in TAB_OR_ENTER] == printable


@given(st.lists(st.floats(0.036, 1), min_size=1, max_size=20))
def test_one_key_after_another_is_never_held_long(gaps: list[float]) -> None:
    bursts: Bursts[int] = Bursts()
    at = 0.0
    for number, gap in enumerate(gaps):
        at += gap
        bursts.character(number, "x", at)
        assert bursts.quiet_at is not None
        assert bursts.quiet_at - at <= LATER_WAIT
        bursts.quiet()
    assert not bursts.held
