"""One word for one thing: no text of the interface uses a word for which there is a better one."""

from __future__ import annotations

import shlex
from collections.abc import Callable, Iterable
from pathlib import Path

import pytest

from bench.cli import run
from bench.desk import SystemClock
from bench.work.demo import make_demo
from tests.docs import interface_texts as texts
from tests.docs.words import WRONG, wrong_in

UNIT = "10428"  # of the demo: read, graded, tested, with parts
PAPERS = (
    *("queue", "stock", "week", "month", "next", "forecast", "journal --limit 200", "register", "parties"),
    *(
        "lot 3",
        "offer --all",
        "order",
        "fault --all",
        "fault --by place",
        "suppliers",
        "return-rates",
        "trade",
    ),
    *("expense", "power", "calc", "calc paste", "shelf", "people", "channel", "model", "job", "trade"),
    *(f"{of_unit} {UNIT}" for of_unit in ("unit", "condition", "drive", "money", "sheet", "listing", "part")),
    *(f"{of_unit} {UNIT}" for of_unit in ("spec", "bought", "photo", "compare", "past-prices", "fault")),
)

Texts = Callable[[], Iterable[tuple[str, str]]]


@pytest.mark.parametrize(
    ("told", "least"),
    [
        (texts.said_in_code, 2_000),
        (texts.acts, 200),
        (texts.headings, 40),
        (texts.help_texts, 300),
        (texts.pages, 100),
    ],
)
def test_a_text_uses_the_words(told: Texts, least: int) -> None:
    seen = list(told())
    assert len(seen) >= least
    assert [(where, text, wrong) for where, text in seen for wrong in wrong_in(text)] == []


@pytest.mark.parametrize(
    "text",
    [
        *(
            "Held.",
            "Time that ran by itself",
            "4 of 5",
            "The sum",
            "cannot be taken back",
            "Take it back first",
        ),
        *("Walk away at", "an hour", "the cells flat", "Opening list", "close-up", "landed cost", "a firm"),
    ],
)
def test_a_wrong_word_is_found(text: str) -> None:
    assert wrong_in(text)


@pytest.mark.parametrize(
    "text",
    [
        "Brought up to date; nobody's hands on it; on hold, hands-on time, a checksum, summed, withheld",
        "Confirm it, per hour; most to pay; the lid and hinges; an hourly rate",
    ],
)
def test_what_may_be_said_is_not_found(text: str) -> None:
    assert wrong_in(text) == []


def test_no_exception_is_idle() -> None:
    """Each exception is needed by a text that is there."""
    everything = [text for told in (texts.said_in_code, texts.help_texts) for _, text in told()]
    for wrong in WRONG:
        for at, (pattern, why) in enumerate(wrong.but):
            assert why
            without = wrong._replace(but=(*wrong.but[:at], *wrong.but[at + 1 :]))
            assert any(without.is_in(text) and not wrong.is_in(text) for text in everything), pattern


def test_the_papers_of_the_demo_use_the_words(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """What commands print of the demo workshop, with what its people typed."""
    path = tmp_path / "demo.bench"
    make_demo(path, SystemClock()).close()
    monkeypatch.setenv("BENCH_DATA", str(path))
    monkeypatch.setenv("BENCH_PERSON", "Ines")
    printed = 0
    found = []
    for paper in PAPERS:
        code = run(shlex.split(paper))
        said = capsys.readouterr()
        printed += code == 0 and bool(said.out.strip())
        found += [(paper, line, wrong) for line in said.out.splitlines() for wrong in wrong_in(line)]
    assert printed >= len(PAPERS) - 3
    assert found == []
