"""The fields that a unit's task and a route's task have in common."""

from __future__ import annotations

from collections.abc import Sequence

from bench.dashboard.screens.dialogs.choice_field import ChoiceField
from bench.dashboard.screens.dialogs.field import Field, TextField
from bench.dashboard.screens.dialogs.mark_field import YES, MarkField
from bench.domain.stages import StageLine

NAME = "name"
STAGE = "stage"
ESTIMATE = "estimate_text"
UNATTENDED = "unattended"
LID_OFF = "lid_off"


def name_and_estimate() -> tuple[Field, Field]:
    """What every task has."""
    return (
        TextField(NAME, "Task"),
        TextField(ESTIMATE, "Estimate", hint="minutes, such as 90, or 1h30"),
    )


def stage_and_marks() -> tuple[Field, ...]:
    """Where it is done, and how."""
    return (
        ChoiceField(STAGE, "Stage", none="choose"),
        MarkField(UNATTENDED, "Unattended", "runs by itself, nobody's hands on it"),
        MarkField(LID_OFF, "Lid off", "only after the opening list"),
    )


def stage_choices(stages: Sequence[StageLine]) -> tuple[tuple[str, str], ...]:
    """The stages at which something can be done."""
    return tuple((str(one.stage_id), one.name) for one in stages if not one.final)


def marked(field: Field) -> bool:
    """Whether a box is ticked."""
    return field.value == YES
