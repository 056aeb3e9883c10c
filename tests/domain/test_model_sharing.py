"""A shared page: what goes out comes in again, and what is no page is refused in a sentence."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.domain.model_page import WRITTEN, ModelPageSheet, ModelStepLine, ScrewLine
from bench.domain.model_sharing import SharedScrew, read_shared, shared_text
from bench.errors import BadInput

LINES = st.text(st.characters(min_codepoint=33, max_codepoint=126), min_size=1, max_size=60)
SCREWS = st.builds(
    ScrewLine, st.integers(1, 9), LINES, LINES, st.integers(1, 200), st.none() | st.integers(1, 5000), LINES
)


@given(LINES, LINES, st.lists(LINES, max_size=5), st.lists(SCREWS, max_size=5), st.sampled_from(WRITTEN))
def test_what_goes_out_comes_in(
    maker: str, model: str, steps: list[str], screws: list[ScrewLine], field: str
) -> None:
    page = ModelPageSheet(
        page_id=7,
        maker=maker,
        model=model,
        **{**dict.fromkeys(WRITTEN, ""), field: "minded"},
        currency="EUR",
        zone="UTC",
        steps=tuple(ModelStepLine(at, at, words) for at, words in enumerate(steps)),
        screws=tuple(screws),
    )
    shared = read_shared(shared_text(page))
    assert (shared.maker, shared.model, shared.steps) == (maker, model, tuple(steps))
    assert shared.written[field] == "minded"
    assert shared.screws == tuple(
        SharedScrew(one.place, one.size, one.count, one.torque_mnm, one.note) for one in screws
    )


GOOD = {"document": "bench model page", "shape": 1, "model": "M"}


@pytest.mark.parametrize(
    "told",
    [
        "no JSON",
        "[]",
        json.dumps({"document": "something"}),
        json.dumps({**GOOD, "shape": 2}),
        json.dumps({**GOOD, "model": ""}),
        json.dumps({**GOOD, "model": 4}),
        json.dumps({**GOOD, "steps": "first"}),
        json.dumps({**GOOD, "steps": [None]}),
        json.dumps({**GOOD, "screws": [3]}),
        json.dumps({**GOOD, "screws": [{"place": "cover", "count": 0}]}),
        json.dumps({**GOOD, "screws": [{"place": "cover", "count": 1, "torque_mnm": 10**9}]}),
        json.dumps({**GOOD, "note": "control \u0007"}),
    ],
)
def test_what_is_no_page_is_refused(told: str) -> None:
    with pytest.raises(BadInput):
        read_shared(told)


@given(st.text(max_size=200) | st.binary(max_size=200).map(lambda one: one.decode("utf-8", "replace")))
def test_anything_is_a_page_or_refused(text: str) -> None:
    with pytest.raises(BadInput):
        read_shared(text)
