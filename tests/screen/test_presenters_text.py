from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from bench.dashboard.presenters.key_bar import KeyHint, hints_that_fit, shown_key
from bench.dashboard.presenters.pieces import Part, bar, clip, cut, fit, length, plain, spread, width_of, wrap

FAMILY = "\U0001f469\u200d\U0001f469\u200d\U0001f467"
TEXTS = st.one_of(
    st.text(max_size=60),
    st.sampled_from(["[red]x[/]", FAMILY, "日本語" * 9, "مرحبا", "e\u0301" * 30, "\t\r\n\x1b[31m"]),
)


@given(TEXTS, st.integers(min_value=0, max_value=50), st.booleans())
def test_a_cell_is_exactly_as_wide_as_asked(text: str, width: int, right: bool) -> None:
    assert cell_len(fit(text, width, right=right)) == width


def test_what_is_cut_says_so() -> None:
    assert clip("replace the fan", 8) == "replace…"
    assert clip("replace", 7) == "replace"
    assert clip("anything", 0) == ""


def test_ten_thousand_characters_are_cut_like_ten() -> None:
    assert clip("w" * 10_000, 5) == "wwww…"


def test_zero_width_characters_beyond_what_is_looked_at_are_cut_and_said() -> None:
    assert clip("a" + "\u0301" * 10_000, 5).endswith("…")


def test_wide_characters_are_never_halved() -> None:
    assert fit("日本語", 4) == "日… "


def test_markup_is_text() -> None:
    assert clip("[red]x[/]", 20) == "[red]x[/]"


@given(TEXTS, st.integers(min_value=2, max_value=30))
def test_wrapped_lines_fit_and_keep_every_word(text: str, width: int) -> None:
    lines = wrap(text, width)
    assert all(cell_len(line) <= width for line in lines)
    assert "".join("".join(lines).split()) == "".join("".join(wrap(text, 10_000)).split())


def test_spread_puts_the_right_part_at_the_edge() -> None:
    line = spread((Part("left"),), (Part("right"),), 20)
    assert plain(line) == "left           right"


def test_spread_gives_the_right_part_its_room_first() -> None:
    line = spread((Part("a long left part"),), (Part("right"),), 12)
    assert plain(line) == "a lon… right"
    assert width_of(line) == 12


def test_cut_keeps_what_fits() -> None:
    assert plain(cut((Part("abc"), Part("defgh")), 5)) == "abcd…"


def test_bar_in_eighths() -> None:
    assert bar(0, 100, 4) == "░░░░"
    assert bar(100, 100, 4) == "████"
    assert bar(50, 100, 4) == "██░░"
    assert bar(1, 32, 4) == "▏░░░"
    assert bar(3, 32, 4) == "▍░░░"


def test_bar_never_hides_a_rest_nor_runs_over() -> None:
    assert bar(1, 1_000_000, 4) == "▏░░░"
    assert bar(900, 100, 4) == "████"
    assert bar(5, 0, 4) == "░░░░"
    assert length(1, 2, 4) == "██  "


def test_keys_as_people_know_them() -> None:
    assert [shown_key(key) for key in ("f1,question_mark", "ctrl+s", "escape", "slash", "n")] == [
        "F1",
        "Ctrl+S",
        "Esc",
        "/",
        "n",
    ]


def test_the_last_hints_are_always_there() -> None:
    hints = [KeyHint(letter, "something long", letter) for letter in "abcdef"]
    last = [KeyHint("q", "quit", "leave")]
    shown = hints_that_fit(hints, last, 45)
    assert [hint.key for hint in shown] == ["a", "b", "q"]
    assert [hint.key for hint in hints_that_fit(hints, last, 3)] == ["q"]
