"""Plain tables: aligned, never wider than 80 columns, figures whole, text shown literally."""

from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from rich.cells import cell_len

from bench.reports.plain_tables import WIDTH, one_line, sections, table, under, wrapped
from tests.reports.reading import is_plain

ANY_TEXT = st.text(max_size=120)


def test_words_stand_left_and_figures_right() -> None:
    lines = table(("", "hours"), [("cleaned", "1.25"), ("opened at last", "12.00")]).split("\n")
    assert lines == ["                hours", "cleaned          1.25", "opened at last  12.00"]


def test_wide_characters_keep_columns_aligned() -> None:
    lines = table(("", "n"), [("修理", "1"), ("abcd", "2")]).split("\n")
    assert [cell_len(line) for line in lines[1:]] == [7, 7]


def test_the_widest_words_give_way_and_are_marked() -> None:
    (_, line) = table(("a", "b", "c"), [("x" * 70, "y" * 50, "123456789.00")], words=(0, 1)).split("\n")
    assert cell_len(line) == WIDTH
    assert line.endswith("123456789.00")
    assert line.count("…") == 2
    assert abs(line.count("x") - line.count("y")) <= 1


def test_figures_are_never_cut_even_where_there_is_no_room() -> None:
    (_, line) = table(("", *"abc"), [("name of it", *("9" * 30 for _ in range(3)))]).split("\n")
    assert line == "name …  " + "  ".join(["9" * 30] * 3)


@given(ANY_TEXT, ANY_TEXT)
def test_any_words_fit_and_stay_on_their_line(left: str, right: str) -> None:
    text = table(("one", "figure", "two"), [(left, "12.5", right)], words=(0, 2))
    assert len(text.split("\n")) == 2
    is_plain("\n".join(line.rstrip() for line in text.split("\n")) + "\n")


@given(ANY_TEXT, st.integers(0, 8), st.integers(0, 8))
@example("x" * 80, 1, 0)
def test_any_text_wraps_into_eighty_columns(text: str, start: int, indent: int) -> None:
    lines = wrapped(text, start=start, indent=indent).split("\n")
    assert all(cell_len(line) <= WIDTH for line in lines)
    assert all(line.startswith(" " * indent) for line in lines[1:] if line)


@given(st.lists(st.text("abcdefgh", min_size=1, max_size=30), min_size=1, max_size=40))
def test_wrapping_loses_no_word(words: list[str]) -> None:
    assert wrapped(" ".join(words), start=2, indent=4).split() == words


def test_a_word_longer_than_a_line_is_broken_not_lost() -> None:
    assert wrapped("see " + "x" * 200, indent=4).replace("\n", "").replace(" ", "") == "see" + "x" * 200


def test_markup_and_commands_are_shown_not_obeyed() -> None:
    assert one_line("[red]x[/] \x1b[31m\x07") == "[red]x[/] �[31m�"
    assert wrapped("a\nb") == "a ⏎ b"
    assert one_line("y" * 100) == "y" * 79 + "…"


@pytest.mark.parametrize(("parts", "text"), [(("a", "", "b"), "a\n\nb\n"), (("a",), "a\n")])
def test_sections_leave_empty_parts_out(parts: tuple[str, ...], text: str) -> None:
    assert sections(*parts) == text
    assert under("t", "b") == "t\nb"
