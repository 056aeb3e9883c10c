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


@dataclass(frozen=True, slots=True)
class GradeLine:
    """What is said of one part. A step is None where none was given; `grade_id` None: nothing was said.

    `holds`: whether the unit is still in the condition in which it was said.
    """

    part: str
    label: str
    grade_id: int | None = None
    function: Step | None = None
    looks: Step | None = None
    sentence: str = ""
    tested: bool = False
    person: str = ""
    at_us: int | None = None
    holds: bool = True


@dataclass(frozen=True, slots=True)
class GradeSheet:
    """Every part of a unit with its grade, and the scale."""

    unit_id: int
    tag: str
    model: str
    lines: tuple[GradeLine, ...]
    scale: tuple[Step, ...]
    zone: str

    def line(self, part: str) -> GradeLine:
        """What is said of that part."""
        return next(line for line in self.lines if line.part == part)


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
