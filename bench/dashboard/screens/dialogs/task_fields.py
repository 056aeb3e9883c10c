"""The fields that a unit's task and a route's task have in common."""

from __future__ import annotations

from collections.abc import Sequence

from bench.dashboard.screens.dialogs.choice_field import ChoiceField
from bench.dashboard.screens.dialogs.field import LENGTH, Field, NumberField, TextField
from bench.dashboard.screens.dialogs.mark_field import YES, MarkField
from bench.domain.safety import HAZARD_NAMES, HAZARDS
from bench.views.shop import StageLine

NAME = "name"
STAGE = "stage"
ESTIMATE = "estimate_text"
UNATTENDED = "unattended"
LID_OFF = "lid_off"
OPENS = "opens"
HAZARD = "hazard"


def name_and_estimate() -> tuple[Field, Field]:
    """What every task has."""
    return (
        TextField(NAME, "Task"),
        NumberField(ESTIMATE, "Estimate", like=LENGTH, hint="minutes, such as 90, or 1h30"),
    )


def stage_and_marks() -> tuple[Field, ...]:
    """Where it is done, and how."""
    return (
        ChoiceField(STAGE, "Stage", none="choose"),
        MarkField(UNATTENDED, "Unattended", "runs by itself, nobody's hands on it"),
        MarkField(LID_OFF, "Cover off", "only after the opening checklist"),
        MarkField(OPENS, "Takes it off", "opens the machine: the battery comes out in it"),
        ChoiceField(HAZARD, "Can hurt", tuple((kind, HAZARD_NAMES[kind]) for kind in HAZARDS)),
    )


def stage_choices(stages: Sequence[StageLine]) -> tuple[tuple[str, str], ...]:
    """The stages at which something can be done."""
    return tuple((str(one.stage_id), one.name) for one in stages if not one.final)


def marked(field: Field) -> bool:
    """Whether a box is ticked."""
    return field.value == YES
