"""A model's page as one file, so that shops can share what they wrote: nothing of units, people or money."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, NamedTuple

from bench.domain.model_page import LABELS, MOST_SCREWS, MOST_STEP, WRITTEN, ModelPageSheet, read_torque
from bench.domain.text import clean_line, clean_note, quoted
from bench.domain.typed import read_whole
from bench.errors import BadInput

SHARED, SHARED_SHAPE = "bench model page", 1


@dataclass(frozen=True, slots=True)
class SharedScrew:
    """Screws as a shared page tells them."""

    place: str
    size: str
    count: int
    torque_mnm: int | None
    note: str


class SharedPage(NamedTuple):
    """A page as it goes from one shop to another: what was written, nothing of units, people or money."""

    maker: str
    model: str
    written: Mapping[str, str]
    steps: tuple[str, ...]
    screws: tuple[SharedScrew, ...]


def shared_text(page: ModelPageSheet) -> str:
    """The page as one file for another shop: JSON, with nothing of units, people or money."""
    shown = {
        "document": SHARED,
        "shape": SHARED_SHAPE,
        "maker": page.maker,
        "model": page.model,
        **{name: getattr(page, name) for name in WRITTEN},
        "steps": [step.words for step in page.steps],
        "screws": [
            {
                "place": one.place,
                "size": one.size,
                "count": one.count,
                "torque_mnm": one.torque_mnm,
                "note": one.note,
            }
            for one in page.screws
        ],
    }
    return json.dumps(shown, ensure_ascii=False, indent=2) + "\n"


def read_shared(text: str) -> SharedPage:
    """A page that another shop wrote. BadInput, saying where, for anything that is not one."""
    try:
        told = json.loads(text)
    except ValueError as error:
        raise _no_page("it is no JSON") from error
    if not isinstance(told, dict) or told.get("document") != SHARED:
        raise _no_page("it does not say that it is one")
    if told.get("shape") != SHARED_SHAPE:
        raise _no_page(f"it is of shape {told.get('shape')}, this version reads {SHARED_SHAPE}")
    steps, screws = told.get("steps", []), told.get("screws", [])
    if not isinstance(steps, list) or not isinstance(screws, list):
        raise _no_page("its steps or its screws are no list")
    return SharedPage(
        maker=clean_line(_string(told, "maker"), "The maker", allow_empty=True),
        model=clean_line(_string(told, "model"), "The model"),
        written={name: clean_note(_string(told, name), LABELS[name]) for name in WRITTEN},
        steps=tuple(clean_line(_words(step), "A step", MOST_STEP) for step in steps),
        screws=tuple(map(_screw, screws)),
    )


def _screw(told: Any) -> SharedScrew:
    if not isinstance(told, dict):
        raise _no_page("one of its screws is none")
    torque = told.get("torque_mnm")
    return SharedScrew(
        place=clean_line(_string(told, "place"), "The place of a screw"),
        size=clean_line(_string(told, "size"), "The size of a screw", allow_empty=True),
        count=read_whole(str(told.get("count", "")), "The number of screws", 1, MOST_SCREWS),
        torque_mnm=None if torque is None else read_torque(f"{torque} mNm"),
        note=clean_line(_string(told, "note"), "The note on a screw", allow_empty=True),
    )


def _string(told: Mapping[str, Any], name: str) -> str:
    return _words(told.get(name, ""))


def _words(value: Any) -> str:
    if not isinstance(value, str):
        raise _no_page(f"{quoted(str(value))} stands where words should")
    return value


def _no_page(why: str) -> BadInput:
    return BadInput(f"That is no shared page of a model: {why}.", "Name a file made by bench model --share.")
