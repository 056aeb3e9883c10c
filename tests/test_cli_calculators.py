"""`bench calc`: every calculator as text and JSON, its cautions, its refusals, its result on a unit."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from bench.cli import run
from bench.domain.calculators.registry import CALCULATORS
from bench.domain.calculators.worked import work
from bench.domain.starting_set import ROUTES_AT_START
from tests.domain.calculators.examples import EXAMPLES
from tests.pty.program import Ran, make_shop

Bench = Callable[..., Ran]
NAMES = [calculator.name for calculator in CALCULATORS]


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Bench:
    """Run one command in this process, on a file that is not there yet."""
    settings = tmp_path / "settings.toml"
    settings.touch()
    monkeypatch.setenv("BENCH_SETTINGS", str(settings))
    monkeypatch.setenv("BENCH_DATA", str(tmp_path / "shop.bench"))
    monkeypatch.setenv("BENCH_PERSON", "Ada")
    monkeypatch.setenv("TZ", "Europe/Berlin")

    def call(*arguments: str) -> Ran:
        capsys.readouterr()
        code = run(list(arguments))
        out, err = capsys.readouterr()
        return Ran(code, out, err)

    return call


def _example(name: str) -> list[str]:
    return [f"{key}={value}" for key, value in EXAMPLES[name].items()]


def test_the_list_names_every_calculator_and_opens_no_file(bench: Bench, tmp_path: Path) -> None:
    ran = bench("calc")
    assert ran.code == 0
    assert [line.split()[0] for line in ran.out.splitlines()[1:]] == NAMES
    assert "…" not in ran.out
    listed = json.loads(bench("calc", "--json").out)
    assert [one["name"] for one in listed["calculators"]] == NAMES
    assert not (tmp_path / "shop.bench").exists()


@pytest.mark.parametrize("calculator", CALCULATORS, ids=lambda one: one.name)
def test_without_figures_it_says_what_it_takes(bench: Bench, calculator) -> None:
    ran = bench("calc", calculator.name)
    assert ran.code == 0
    for given in calculator.givens:
        assert given.name in ran.out
    assert "…" not in ran.out, "nothing is cut"
    assert max(map(len, ran.out.splitlines())) <= 80


@pytest.mark.parametrize("calculator", CALCULATORS, ids=lambda one: one.name)
def test_text_shows_cautions_answers_formula_and_source(bench: Bench, calculator) -> None:
    ran = bench("calc", calculator.name, *_example(calculator.name))
    words = " ".join(ran.out.split())
    assert ran.code == 0
    for caution in calculator.cautions:
        assert f"Caution: {caution}" in words
    for line in (*calculator.formulas, *calculator.sources):
        assert " ".join(line.split()) in words
    for answer in work(calculator, EXAMPLES[calculator.name]).answers:
        assert " ".join(f"{answer.label}: {answer.shown()}".split()) in words
    assert max(map(len, ran.out.splitlines())) <= 80


@pytest.mark.parametrize("calculator", CALCULATORS, ids=lambda one: one.name)
def test_json_holds_the_same_unrounded(bench: Bench, calculator) -> None:
    document = json.loads(bench("calc", calculator.name, *_example(calculator.name), "--json").out)
    sheet = work(calculator, EXAMPLES[calculator.name])
    shown = [answer for part in document["parts"] for answer in part["answers"]]

    assert (document["document"], document["name"]) == ("calculation", calculator.name)
    assert document["cautions"] == list(calculator.cautions)
    assert [(one["name"], one["value"], one["unit"]) for one in shown] == [
        (answer.name, answer.value, answer.unit) for answer in sheet.answers
    ]
    assert {one["name"]: one["unit"] for one in document["given"]} == {
        name: figure.unit for name, figure in sheet.figures.items()
    }


@pytest.mark.parametrize(
    ("arguments", "code", "sentence"),
    [
        (["glue"], 3, "There is no calculator “glue”."),
        (["s", "used=1"], 2, "“s” may be any of: solvent, screen, stock."),
        (["tubing", "over=5.5"], 2, "Give Cable to grip (cable=)."),
        (["tubing", "over=5 kg", "cable=3"], 2, "has a unit that does not fit"),
        (["tubing", "over=0", "cable=3"], 2, "“0” is nothing. Give 0.5 to 60 mm."),
        (["tubing", "over=-1", "cable=3"], 2, "is negative"),
        (["tubing", "over=nan", "cable=3"], 2, "is not a figure"),
        (["tubing", "over=inf", "cable=3"], 2, "is not a figure"),
        (["tubing", "over=wide", "cable=3"], 2, "is not a figure"),
        (["tubing", "over=900", "cable=3"], 2, "is too large"),
        (["tubing", "over"], 2, "has no = in it"),
        (["tubing", "colour=red"], 2, "Tubing takes no “colour”."),
        (["tubing", "over=5", "cable=3", "--task", "1"], 2, "--unit is missing"),
        (["tubing", "over=5", "cable=3", "--unit", "18"], 2, "18"),
    ],
)
def test_what_cannot_be_is_one_sentence(
    bench: Bench, tmp_path: Path, arguments: list[str], code: int, sentence: str
) -> None:
    make_shop(tmp_path / "shop.bench")
    ran = bench("calc", *arguments)
    assert ran.code == code
    assert sentence in ran.err
    assert ran.err.count("\n") == 1
    assert ran.out == ""


def test_the_result_is_put_on_a_unit_and_its_task_and_can_be_taken_back(bench: Bench) -> None:
    added = json.loads(bench("--new", "add", "Model 9", "--route", next(iter(ROUTES_AT_START)), "--json").out)
    tag = added["tag"]
    ran = bench("calc", "tubing", *_example("tubing"), "--unit", tag, "--task", "1")
    assert ran.code == 0, ran.err
    assert f"Put on {tag}: " in ran.out
    unit = json.loads(bench("unit", tag, "--json").out)
    assert unit["note"].endswith("Tubing: Take 9/3 mm, 3:1; Cut 33.3 mm")
    assert f"({unit['tasks'][0]['name']})" in unit["note"]
    assert "Noted on" in bench("undo").out
    assert json.loads(bench("unit", tag, "--json").out)["note"] == ""


def test_json_tells_where_the_result_was_put(bench: Bench) -> None:
    tag = json.loads(bench("--new", "add", "Model 9", "--json").out)["tag"]
    document = json.loads(bench("calc", "battery", *_example("battery"), "--unit", tag, "--json").out)
    assert document["put"]["tag"] == tag
    assert document["put"]["line"] == json.loads(bench("unit", tag, "--json").out)["note"]
