"""Kinds of test, what each may give, and how it is read and told."""

from __future__ import annotations

import pytest

from bench.domain.outcomes import KINDS, figure_words, read_figures, read_kind, read_outcome, symptom_of
from bench.errors import BadInput

ENDINGS = ("_tenths_c", "_mw", "_uwh", "_uv", "_ma", "_ms", "_kb_s", "_kbit_s", "_dbm", "_percent")
COUNTS = {
    *("passes", "errors", "dead_pixels", "keys_tested", "keys_failing", "ports_tested", "ports_working"),
    "points",
}


def test_a_kind_is_known_by_how_it_begins() -> None:
    assert (read_kind("SOAK"), read_kind(" battery "), read_kind("")) == ("soak", "battery rundown", "")
    for wrong in ("s", "smell"):  # several begin so, none does
        with pytest.raises(BadInput, match="Choose one of"):
            read_kind(wrong)


def test_an_outcome_is_one_of_three() -> None:
    assert [read_outcome(one) for one in ("Passed", "failed", "broken-off")] == [
        "passed",
        "failed",
        "broken off",
    ]
    with pytest.raises(BadInput, match="is not said"):
        read_outcome(" ")


@pytest.mark.parametrize("kind", KINDS)
def test_every_figure_is_whole_and_names_its_unit(kind: str) -> None:
    """The least and the most of each field are taken, kept as whole numbers, and told with their unit."""
    for side in ("least", "most"):
        typed = {one.given.name: f"{getattr(one.given, side):.15g}" for one in KINDS[kind].fields}
        if kind in ("ports", "keyboard"):
            typed = dict.fromkeys(typed, "10")
        figures = read_figures(kind, typed)
        assert all(isinstance(figure, int) for figure in figures.values())
        assert all(name.endswith(ENDINGS) or name in COUNTS for name in figures)
        words = figure_words(kind, figures)
        assert all(one.given.label in words and one.given.unit in words for one in KINDS[kind].fields)


def test_figures_in_words() -> None:
    given = {"rate": "433.5 Mbit/s", "signal": "-61"}
    figures = read_figures("wireless", given)
    assert figures == {"rate_kbit_s": 433_500, "signal_dbm": -61}
    assert figure_words("wireless", figures) == "Throughput 433.5 Mbit/s, Signal -61 dBm"
    assert figure_words("charger under load", {"voltage_uv": 19_100_000, "current_ma": 3_250}) == (
        "Voltage 19.10 V, Current 3.25 A"
    )
    assert read_figures("sound", {}) == {}
    assert read_figures("soak", {"hottest": " "}) == {}


def test_what_failed_is_told_in_a_line() -> None:
    assert symptom_of("soak", "") == "Soak test failed"
    assert symptom_of("soak", "shut down\nat 40 min") == "Soak test failed: shut down"
    assert len(symptom_of("soak", "x" * 900)) == 200
