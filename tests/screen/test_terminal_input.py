"""What a terminal sends, cut into what was typed and what was pasted."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.dashboard.terminal_driver import LONGEST_PASTE, Pasted, TerminalInput, Typed, plain_text


def fed(*parts: bytes) -> list[Typed | Pasted]:
    cut = TerminalInput()
    return [one for part in parts for one in cut.feed(part)]


def typed(*parts: bytes) -> str:
    return "".join(one.text for one in fed(*parts) if isinstance(one, Typed))


@pytest.mark.parametrize("broken", [b"\xff", b"\xc3(", b"\xf0\x9f", b"\x80"])
def test_a_broken_byte_is_skipped_and_the_keys_around_it_stay(broken: bytes) -> None:
    assert typed(b"a" + broken + b"b").replace("(", "") == "ab"


def test_a_letter_of_several_bytes_may_come_in_two_reads() -> None:
    assert typed(b"K\xc3", b"\xb6hler") == "Köhler"


@pytest.mark.parametrize("column", [b"\x21", b"\x80", b"\xff", b"\x00"])
def test_a_mouse_report_of_the_oldest_form_presses_no_key(column: bytes) -> None:
    report = b"\x1b[M " + column + b"\x22"
    assert typed(b"a" + report + b"b") == "ab"
    for at in range(3, len(report)):
        assert typed(b"a" + report[:at], report[at:] + b"b") == "ab"


def test_the_escape_key_waits_for_nothing() -> None:
    assert fed(b"\x1b") == [Typed("\x1b")]


def test_escape_sequences_in_a_paste_are_no_keys_and_no_text() -> None:
    paste = b"\x1b[200~one\x1b[A two\x1bq\x1b]0;title\x07 three\rfour\x07\x1b[201~x"
    assert fed(paste) == [Pasted("one two three\rfour"), Typed("x")]


@given(st.binary(max_size=60), st.integers(0, 80))
def test_a_paste_comes_whole_however_it_is_read(body: bytes, at: int) -> None:
    body = body.replace(b"\x1b", b"")
    sent = b"a\x1b[200~" + body + b"\x1b[201~b"
    cut = max(4, min(at, len(sent)))  # a lone Esc is a key: it is not held back
    assert fed(sent[:cut], sent[cut:]) == fed(sent)
    assert fed(sent)[1] == Pasted(plain_text(body.decode(errors="ignore")))


@given(st.lists(st.binary(max_size=40), max_size=8))
def test_no_bytes_end_it(parts: list[bytes]) -> None:
    assert all(isinstance(one.text, str) for one in fed(*parts))


def test_a_paste_whose_end_never_comes_is_handed_on() -> None:
    found = fed(b"\x1b[200~" + b"x" * LONGEST_PASTE, b"q")
    assert found == [Pasted("x" * LONGEST_PASTE), Typed("q")]
