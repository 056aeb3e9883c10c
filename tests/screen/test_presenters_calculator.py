"""A calculator's lines: nothing wider than it may be, nothing lost, columns where there is room."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.dashboard.presenters.calculator_lines import (
    caution_lines,
    flow,
    head_lines,
    lines_of_figure,
    sheet_lines,
)
from bench.dashboard.presenters.pieces import Part, plain, width_of
from bench.domain.calculators.registry import CALCULATORS
from bench.domain.calculators.shape import Calculator
from bench.domain.calculators.worked import work
from bench.domain.text import for_display
from tests.domain.calculators.examples import EXAMPLES


def words(text: str) -> list[str]:
    return text.split()


@given(
    st.lists(st.tuples(st.text(max_size=40), st.sampled_from(["", "strong", "muted"])), max_size=5),
    st.integers(10, 90),
)
def test_flow_keeps_every_word_and_the_width(texts: list[tuple[str, str]], width: int) -> None:
    lines = flow([Part(text, look) for text, look in texts], width)
    for line in lines:
        assert width_of(line) <= width
    shown = "".join("".join(plain(line) for line in lines).split())
    assert shown == "".join("".join(for_display(text).split()) for text, _ in texts)


def test_flow_keeps_the_looks_and_indents_what_runs_over() -> None:
    lines = flow((Part("Cut"), Part("33.3 mm", "strong"), Part("(try one first)", "muted")), 16)
    assert [plain(line) for line in lines] == ["Cut 33.3 mm (try", "  one first)"]
    assert [part.look for part in lines[0] if part.text.strip()] == ["", "strong", "strong", "muted"]
    assert flow((), 20) == ()


@pytest.mark.parametrize("width", [40, 58, 90, 140])
@pytest.mark.parametrize("calculator", CALCULATORS, ids=lambda one: one.name)
def test_every_sheet_fits_and_says_all(calculator: Calculator, width: int) -> None:
    sheet = work(calculator, EXAMPLES[calculator.name])
    lines = sheet_lines(sheet, width)
    assert all(width_of(line) <= width for line in lines)
    shown = words(" ".join(plain(line) for line in lines))
    for answer in sheet.answers:
        for said in (answer.label, answer.shown(), answer.based_on and f"({answer.based_on})"):
            assert set(words(said)) <= set(shown)


@pytest.mark.parametrize("width", [30, 66, 100])
@pytest.mark.parametrize("calculator", CALCULATORS, ids=lambda one: one.name)
def test_every_caution_fits_and_is_whole(calculator: Calculator, width: int) -> None:
    lines = caution_lines(calculator, width)
    assert all(width_of(line) <= width for line in lines)
    text = " ".join("".join(part.text for part in line).strip() for line in lines)
    assert text == " ".join(f"! {caution}" for caution in calculator.cautions)


def test_columns_where_there_is_room() -> None:
    sheet = work(CALCULATORS[0], EXAMPLES["tubing"])
    wide = [plain(line) for line in sheet_lines(sheet, 120)]
    assert wide[1].index("none fits") == wide[2].index("9/3 mm")
    narrow = [plain(line) for line in sheet_lines(sheet, 50)]
    assert any(line.startswith("3:1 9/3 mm (") for line in narrow)


def test_an_alert_is_told_by_a_mark_and_not_by_colour_alone() -> None:
    touch = next(one for one in CALCULATORS if one.name == "touch")
    sheet = work(touch, {"surface": "60", "room": "25"})
    assert any("▲ OVER the limit" in plain(line) for line in sheet_lines(sheet, 60))


def test_where_a_figure_goes_into() -> None:
    sheet = work(CALCULATORS[0], EXAMPLES["tubing"])
    lines = [plain(line) for line in sheet_lines(sheet, 60)]
    assert lines[lines_of_figure(sheet, "over", 60).start] == "Sizes that fit"
    length = lines_of_figure(sheet, "length", 60)
    assert lines[length.start] == "Length"
    assert lines[length.stop] == ""
    assert len(lines_of_figure(sheet, "nothing", 60)) == 0


def test_the_head_names_the_unit_literally() -> None:
    assert plain(head_lines(CALCULATORS[0], "18\n", 100)[0]).rstrip().endswith("for 18 ⏎")
    assert plain(head_lines(CALCULATORS[0], None, 100)[0]).rstrip().endswith("no unit")
    assert all(width_of(line) <= 40 for line in head_lines(CALCULATORS[0], "18", 40))
