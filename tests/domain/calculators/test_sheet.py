"""Every calculator through the one engine: what is typed, what it waits for, what it refuses."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.domain.calculators.registry import CALCULATORS
from bench.domain.calculators.shape import Answer, Calculator, Given
from bench.domain.calculators.worked import require, work
from bench.errors import BadInput
from tests.domain.calculators.examples import EXAMPLES

BY_NAME = {calculator.name: calculator for calculator in CALCULATORS}
NUMBERS = [(one, figure) for one in CALCULATORS for figure in one.givens if not figure.choices]


def _id(value: object) -> str:
    return getattr(value, "name", str(value))


@pytest.mark.parametrize("calculator", CALCULATORS, ids=_id)
def test_the_example_works_every_sum(calculator: Calculator) -> None:
    sheet = require(work(calculator, EXAMPLES[calculator.name]))

    assert [part.lacks for part in sheet.parts] == [()] * len(calculator.sums)
    assert all(part.answers for part in sheet.parts)
    for answer in sheet.answers:
        assert answer.label
        assert answer.value is not None or answer.words
        assert not isinstance(answer.value, float) or math.isfinite(answer.value)


@pytest.mark.parametrize("calculator", CALCULATORS, ids=_id)
def test_every_calculator_explains_itself(calculator: Calculator) -> None:
    assert calculator.formulas
    assert calculator.sources
    assert calculator.cautions
    assert calculator.line
    names = [given.name for given in calculator.givens]
    assert len(set(names)) == len(names)
    for one in calculator.sums:
        assert set(one.needs) <= set(names)
    for name in names:
        assert any(name in one.needs for one in calculator.sums) or name in ("volts", "cycles")
    for caution in calculator.cautions:
        assert not caution.casefold().startswith(("it is safe", "safe"))


@pytest.mark.parametrize("calculator", CALCULATORS, ids=_id)
def test_the_note_is_one_line_of_results(calculator: Calculator) -> None:
    note = work(calculator, EXAMPLES[calculator.name]).note()

    assert note.startswith(f"{calculator.title}: ")
    assert "\n" not in note
    assert len(note) <= 200


@pytest.mark.parametrize("calculator", CALCULATORS, ids=_id)
def test_nothing_typed_waits_and_says_for_what(calculator: Calculator) -> None:
    sheet = work(calculator, {})
    assert not sheet.answers
    with pytest.raises(BadInput, match="needs more to work with"):
        require(sheet)
    with pytest.raises(BadInput, match="has no result yet"):
        sheet.note()


@pytest.mark.parametrize(("calculator", "given"), NUMBERS, ids=_id)
@pytest.mark.parametrize("text", ["nan", "inf", "text", "5 parsec", "1e99"])
def test_no_number_takes_text_or_a_wrong_unit(calculator: Calculator, given: Given, text: str) -> None:
    sheet = work(calculator, {**EXAMPLES[calculator.name], given.name: text})

    assert list(sheet.wrong) == [given.name]
    assert sheet.wrong[given.name].startswith(given.label)
    with pytest.raises(BadInput, match=r"is not a figure|has a unit that does not fit"):
        require(sheet)


@pytest.mark.parametrize(("calculator", "given"), NUMBERS, ids=_id)
def test_limits_are_told(calculator: Calculator, given: Given) -> None:
    step = 1.0 if given.whole else max(abs(given.most), 1.0) * 1e-3
    for outside in (given.least - step, given.most + step, -1.0 if given.least >= 0 else given.least - step):
        sheet = work(calculator, {given.name: f"{outside:.6f}"})
        assert given.name in sheet.wrong, outside
        assert given.limits() in sheet.wrong[given.name]
    for inside in (given.least, given.most):
        assert given.name not in work(calculator, {given.name: f"{inside:.6f}"}).wrong


@pytest.mark.parametrize(("calculator", "given"), NUMBERS, ids=_id)
def test_zero_is_told_apart_where_it_cannot_be(calculator: Calculator, given: Given) -> None:
    wrong = work(calculator, {given.name: "0"}).wrong
    if given.least > 0:
        assert "is nothing" in wrong[given.name]
    else:
        assert given.name not in wrong


def test_a_whole_number_stays_whole() -> None:
    assert "is not a whole number" in work(BY_NAME["battery"], {"cells": "3.5"}).wrong["cells"]


def test_a_choice_is_one_of_its_words() -> None:
    charger = BY_NAME["charger"]
    assert work(charger, {"polarity": "SAME"}).figures["polarity"].words == "same"
    assert "is not one of its choices" in work(charger, {"polarity": "up"}).wrong["polarity"]


def test_an_unknown_name_lists_those_there_are() -> None:
    with pytest.raises(BadInput, match=r"Tubing takes no “colour”\. It takes over, cable"):
        work(BY_NAME["tubing"], {"colour": "red"})


def test_an_emptied_default_is_empty() -> None:
    sheet = work(BY_NAME["tubing"], {"over": "5", "cable": "3", "clearance": " "})
    assert sheet.parts[0].lacks == ("Room to spare over the plug",)


def test_half_a_form_answers_its_half() -> None:
    sheet = work(BY_NAME["paste"], {"die": "150"})
    assert sheet.parts[0].answers
    assert sheet.parts[1].lacks == ("Conductivity of the paste",)


def test_one_wrong_figure_leaves_the_other_sums() -> None:
    sheet = work(BY_NAME["tubing"], {"over": "x", "cable": "3", "length": "30"})
    assert not sheet.parts[0].answers
    assert sheet.parts[1].answers


def test_what_cannot_be_reckoned_is_one_sentence() -> None:
    test = {"hot_before": "20", "room_before": "25", "power_before": "9"}
    sheet = work(BY_NAME["paste"], {**EXAMPLES["paste"], **test})
    assert sheet.parts[3].wrong.startswith("A chip at 20 °C under load in a room at 25 °C cannot be.")
    with pytest.raises(BadInput, match="Read both again"):
        require(sheet)


def test_how_an_answer_is_shown() -> None:
    assert Answer("a", "A", 35.294, "mm", 1).shown() == "35.3 mm"
    assert Answer("a", "A", 1000.0).shown() == "1000"
    assert Answer("a", "A", "9/3", "mm").shown() == "9/3 mm"
    assert Answer("a", "A", None, "mm", words="none fits").shown() == "none fits"
    assert Answer("a", "A", None).shown() == "–"


@given(st.data())
def test_any_figures_within_limits_give_finite_answers_or_one_sentence(data: st.DataObject) -> None:
    calculator = data.draw(st.sampled_from(CALCULATORS))
    typed = {given.name: data.draw(_texts(given), label=given.name) for given in calculator.givens}
    sheet = work(calculator, typed)

    assert not sheet.wrong
    for part in sheet.parts:
        assert part.answers or part.wrong
        assert "\n" not in part.wrong
    for answer in sheet.answers:
        assert isinstance(answer.value, str) or answer.value is None or math.isfinite(answer.value)


def _texts(given: Given) -> st.SearchStrategy[str]:
    if given.choices:
        return st.sampled_from(given.choices)
    if given.whole:
        return st.integers(int(given.least), int(given.most)).map(str)
    return (
        st.floats(given.least, given.most)
        .map(lambda value: f"{value:.4f}")
        .filter(lambda text: given.least <= float(text) <= given.most)
    )
