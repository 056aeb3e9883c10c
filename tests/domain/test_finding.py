"""Finding among names: what is found as typed, what nearly, and in which order."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.domain.finding import LEAST_MISTYPED, Names, _one_off, find, folded, terms_of

QUEUE = Names("10629 Fenn Burr 17 FN859411\n10014 Pell Wren 13 PL89\n10022 Brack Sluice 15 keyboard CH-65")
SOLD = Names("10311 Fenn Burr 17\n90629 Pell Wren 13 fault: fan", present=False)
NAMED = {"unit": QUEUE, "unit past": SOLD}


def lines(typed: str) -> list[tuple[str, int]]:
    return [(hit.kind, hit.line) for hit in find(NAMED, typed, 40)]


@pytest.mark.parametrize(
    ("typed", "first"),
    [
        ("10629", ("unit", 0)),
        ("062", ("unit", 0)),  # part of a tag
        ("fn8594", ("unit", 0)),  # the beginning of a serial number
        ("BURR fenn", ("unit", 0)),  # in any order, in whatever capitals
        ("ch-65", ("unit", 2)),
        ("ch65", ("unit", 2)),  # the mark between left out
        ("fb17", ("unit", 0)),  # the first letters of words that follow each other
        ("kbd", ("unit", 2)),  # letters left out
        ("keybaord", ("unit", 2)),  # two letters in each other's place
        ("keybord", ("unit", 2)),  # one missing
        ("keyyboard", ("unit", 2)),  # one too many
        ("keyboatd", ("unit", 2)),  # one wrong
        ("fan", ("unit past", 1)),
    ],
)
def test_what_is_meant_comes_first(typed: str, first: tuple[str, int]) -> None:
    assert lines(typed)[0] == first


def test_what_is_in_the_queue_comes_before_what_has_left() -> None:
    assert lines("fenn burr") == [("unit", 0), ("unit past", 0)]
    assert lines("wren") == [("unit", 1), ("unit past", 1)]


def test_the_very_tag_comes_before_all_that_hold_its_digits() -> None:
    here = Names("20010 other\n10629 this")
    found = find({"unit": Names("106290 longer\n210629 inside"), "last": here}, "10629", 40)
    assert [(hit.kind, hit.line) for hit in found] == [("last", 1), ("unit", 0), ("unit", 1)]


def test_a_wrong_figure_names_nothing_else() -> None:
    """A tag or serial number with one digit wrong is another thing's, or nobody's."""
    assert lines("10628") == []
    assert lines("PL98") == []


def test_what_is_nearly_so_is_not_mixed_with_what_was_found() -> None:
    assert lines("wren") == [("unit", 1), ("unit past", 1)]
    assert [hit.nearly for hit in find(NAMED, "wrne", 40)] == [True]  # of the present alone


@pytest.mark.parametrize("typed", ["", "  ", "-", "...", "zzzz", "[/red]"])
def test_nothing_is_found_where_nothing_bears_the_words(typed: str) -> None:
    assert lines(typed) == []


def test_accents_and_capitals_do_not_matter() -> None:
    names = {"party": Names("Jürgen Straße\nΆννα\nKöhler-Møller")}
    for typed, line in (("jurgen", 0), ("STRASSE", 0), ("ανν", 1), ("kohler møller", 2)):
        assert [hit.line for hit in find(names, typed, 9)] == [line]


def test_no_more_are_found_than_asked_for() -> None:
    names = Names("\n".join(f"{number} Fenn" for number in range(1000)))
    assert [hit.line for hit in find({"unit": names}, "fenn", 5)] == [0, 1, 2, 3, 4]


def test_no_names_are_no_line() -> None:
    assert find({"unit": Names("")}, "a", 9) == []


words = st.text(st.sampled_from("abcdeé019-/ .\t"), max_size=12).map(lambda text: text.replace("\n", " "))


@given(st.lists(words, min_size=1, max_size=8), words)
def test_a_line_that_holds_the_words_is_found_whatever_they_are(names: list[str], typed: str) -> None:
    """Against a plain look at each line."""
    terms = terms_of(typed)
    holds = [at for at, name in enumerate(names) if all(term in f" {folded(name)} " for term in terms)]
    hits = find({"x": Names("\n".join(names))}, typed, 1000) if any(names) else []
    found = {hit.line for hit in hits if not hit.nearly}
    assert found == (set(holds) if terms and any(names) else set())


def distance(one: str, other: str) -> int:
    """Letters wrong, missing, too many or in each other's place: each adjacent pair once.

    The four classes of F. J. Damerau, "A technique for computer detection and correction of spelling
    errors", Communications of the ACM 7 (1964), 171-176: there more than 80 % of misspellings have one such
    mistake (from memory). Here by the table that is usually drawn for it, not by the program's own way.
    """
    table = [[0] * (len(other) + 1) for _ in range(len(one) + 1)]
    for row in range(len(one) + 1):
        for column in range(len(other) + 1):
            if not row or not column:
                table[row][column] = row + column
                continue
            same = one[row - 1] == other[column - 1]
            table[row][column] = min(
                table[row - 1][column] + 1,
                table[row][column - 1] + 1,
                table[row - 1][column - 1] + (not same),
            )
            crossed = row > 1 and column > 1 and one[row - 2 : row] == other[column - 2 : column][::-1]
            if crossed:
                table[row][column] = min(table[row][column], table[row - 2][column - 2] + 1)
    return table[-1][-1]


short = st.text(st.sampled_from("abc"), min_size=1, max_size=6)


@given(short, short)
def test_a_word_with_one_mistake_is_told_by_the_four_classes(typed: str, word: str) -> None:
    assert bool(re.fullmatch(_one_off(list(typed)), word)) == (distance(typed, word) <= 1)


@given(st.text(st.sampled_from("abcdefgh"), min_size=LEAST_MISTYPED + 1, max_size=9), st.data())
def test_a_word_is_found_with_any_two_letters_in_each_others_place(word: str, data: st.DataObject) -> None:
    at = data.draw(st.integers(0, len(word) - 2))
    typed = word[:at] + word[at + 1] + word[at] + word[at + 2 :]
    assert [hit.line for hit in find({"x": Names(f"other\n{word}")}, typed, 9)] == [1]


def test_the_order_of_equals_is_that_of_the_lines() -> None:
    found = [hit.line for hit in find({"unit": Names("Fenn 1\nFenn 2\nFenn 3")}, "fenn", 9)]
    assert all(before < after for before, after in pairwise(found))
    assert len(found) == 3
