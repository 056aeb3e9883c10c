"""Grades: function and looks apart, a plain sentence for each part, on the shop's own scale.

The scale is the shop's. It claims conformity with no standard and no other scale.
"""

from __future__ import annotations

from dataclasses import dataclass

from bench.domain.text import quoted
from bench.errors import BadInput

WHOLE = "whole"
PARTS: dict[str, str] = {
    "lid": "Lid",
    "screen": "Screen",
    "keyboard": "Keyboard",
    "case": "Case",
    "battery": "Battery",
    "ports": "Ports",
    WHOLE: "The unit as a whole",
}
FUNCTION, LOOKS = "function", "looks"
SIDES = (FUNCTION, LOOKS)
NO_CONFORMITY = "Graded on the shop's own scale. It claims conformity with no standard."


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the scale for function or for looks; `position` 1 is the best."""

    step_id: int
    side: str
    position: int
    name: str
    meaning: str


def check_part(part: str) -> str:
    """The same part, if it is graded; BadInput otherwise."""
    if part not in PARTS:
        raise BadInput(f"{quoted(part)} is not graded.", f"Choose one of: {', '.join(PARTS)}.")
    return part


def check_side(side: str) -> str:
    """The same side, if it is function or looks; BadInput otherwise."""
    if side not in SIDES:
        raise BadInput(f"{quoted(side)} is not a side of the scale.", f"Choose {FUNCTION} or {LOOKS}.")
    return side


def check_grade(*, function: Step | None, looks: Step | None, sentence: str, tested: bool) -> None:
    """Pass, or BadInput: what was not tested has no grade of function, and a flaw is said in a sentence."""
    if not tested and function is not None:
        raise BadInput(
            "What was not tested has no grade of function.", "Leave it out, or test it.", field=FUNCTION
        )
    if tested and function is None and looks is None and not sentence:
        raise BadInput("Nothing was said of the part.", "Give a step for function or looks, or a sentence.")
    flawed = [step.name for step in (function, looks) if step is not None and step.position > 1]
    if flawed and not sentence:
        raise BadInput(
            f"{' and '.join(flawed)}: a sentence must say what is wrong.",
            "Write what a buyer will find.",
            field="sentence",
        )
