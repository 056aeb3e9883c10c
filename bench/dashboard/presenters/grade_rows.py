"""Grades of a unit as rows, and the shop's scale to choose from."""

from __future__ import annotations

from bench.dashboard.presenters.pieces import Line, Part, spread, wrap
from bench.domain.grading import NO_CONFORMITY, Step
from bench.domain.localtime import day_and_time
from bench.domain.text import for_display
from bench.views.grades import GradeLine, GradeSheet


def grades_head(sheet: GradeSheet, width: int) -> tuple[Line, ...]:
    """The unit, and how much of it was graded."""
    left = (Part(f" Grade of {sheet.tag}", "strong"), Part(f"  {for_display(sheet.model)}"))
    said = sum(one.grade_id is not None for one in sheet.lines)
    right = Part(f"{said} of {len(sheet.lines)} parts ", "good" if said == len(sheet.lines) else "warning")
    return (spread(left, (right,), width),)


def grade_detail(sheet: GradeSheet, line: GradeLine | None, width: int) -> tuple[Line, ...]:
    """All that is said of the part under the cursor, what the steps mean, and what the scale is not."""
    lines: list[Line] = []
    if line is not None and line.grade_id is not None:
        lines += [(Part(one),) for one in wrap(line.sentence, width)]
        for step in (line.function, line.looks):
            if step is not None:
                words = f"{step.name} ({step.side}): {step.meaning}"
                lines += [(Part(one, "muted"),) for one in wrap(words, width)]
        if line.at_us is not None:
            lines.append(
                (Part(f"{for_display(line.person)}, {day_and_time(line.at_us, sheet.zone)}", "muted"),)
            )
    return (*lines, *((Part(one, "muted"),) for one in wrap(NO_CONFORMITY, width)))


def step_choices(scale: tuple[Step, ...], side: str, given: Step | None) -> tuple[tuple[str, str], ...]:
    """The steps of one side, the best first, and one that was given but is no longer in the scale."""
    steps = [step for step in scale if step.side == side]
    if given is not None and given.step_id not in {step.step_id for step in steps}:
        steps.append(given)
    return tuple((str(step.step_id), f"{step.name}  ({step.meaning})") for step in steps)
