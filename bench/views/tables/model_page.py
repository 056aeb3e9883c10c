"""Models, and what stands on the page of one, as tables."""

from __future__ import annotations

from bench.domain.model_page import FittedPart, ModelStepLine, ScrewLine, TaskHours, show_torque
from bench.views.columns import Column, Table
from bench.views.kinds import COUNT, LENGTH, MONEY, WORD
from bench.views.model_page import ModelLine


def _torque(screw: ScrewLine) -> str | None:
    return None if screw.torque_mnm is None else show_torque(screw.torque_mnm)


MODELS = Table[ModelLine](
    "models",
    "Models",
    (
        Column("Model", "model", width=14, grow=2),
        Column("Maker", "maker", width=8, grow=1, look="muted"),
        Column("Here", "here", COUNT),
        Column("All", "units", COUNT, look="muted"),
        Column("", lambda one: "page" if one.written else "", width=4, look="good"),
    ),
    key=lambda one: (one.maker, one.model),
    empty="No model yet: the first unit makes it.",
)
STEPS = Table[ModelStepLine](
    "model_steps",
    "How it comes apart",
    (Column("", "position", COUNT, 3, look="muted"), Column("Step", "words", width=30, grow=1)),
    key="step_id",
    empty="Nothing written yet.",
)
SCREWS = Table[ScrewLine](
    "model_screws",
    "Screws",
    (
        Column("No.", "count", COUNT, 3),
        Column("Size", "size", width=9, grow=1),
        Column("Where", "place", width=14, grow=2),
        Column("Torque", _torque, WORD, 8, look="muted"),
        Column("Note", "note", width=10, grow=1, from_width=70, look="muted"),
    ),
    key="screw_id",
    empty="None known yet.",
)
TASK_HOURS = Table[TaskHours](
    "model_hours",
    "Hours by task",
    (
        Column("Task", "name", width=16, grow=1),
        Column("Jobs", "jobs", COUNT),
        Column("50 %", "median_us", LENGTH),
        Column("80 %", "p80_us", LENGTH),
    ),
    key="name",
    empty="No task of such a unit was timed yet.",
)
FITTED = Table[FittedPart](
    "model_parts",
    "Parts bought for it",
    (
        Column("Part", "name", width=12, grow=2),
        Column("Times", "times", COUNT, 5),
        Column("Newest cost", "cost_minor", MONEY),
        Column("Supplier", "supplier", width=10, grow=1, look="muted"),
    ),
    key="name",
    empty="None yet.",
)
