"""Models, and what stands on the page of one, as tables."""

from __future__ import annotations

from bench.domain.faults import OPEN, STAYS
from bench.domain.model_page import (
    FittedPart,
    KnownFault,
    ModelPhotograph,
    ModelStepLine,
    ScrewLine,
    TaskHours,
    show_torque,
)
from bench.views.columns import Column, Table
from bench.views.kinds import COUNT, LENGTH, LOCAL_DAY, MONEY, WORD
from bench.views.model_page import ModelLine


def _torque(screw: ScrewLine) -> str | None:
    return None if screw.torque_mnm is None else show_torque(screw.torque_mnm)


def _cure_look(fault: KnownFault) -> str:
    return {OPEN: "alert", STAYS: "warning"}.get(fault.state, "")


def _shows(photograph: ModelPhotograph) -> str:
    return "the model" if photograph.position is None else f"step {photograph.position}"


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
KNOWN_FAULTS = Table[KnownFault](
    "model_faults",
    "Known faults",
    (
        Column("Where", lambda one: one.place or None, width=10, look="muted"),
        Column("What is seen", "symptom", width=16, grow=2),
        Column("Times", "times", COUNT, 5),
        Column("Cause, and what cured it", "cured_by", width=14, grow=3, look=_cure_look),
        Column("Newest", "found_us", LOCAL_DAY, from_width=84, look="muted"),
        Column("Unit", "tag", width=6, from_width=92, look="muted"),
    ),
    key="fault_id",
    empty="None was recorded of such a unit.",
)
MODEL_PHOTOGRAPHS = Table[ModelPhotograph](
    "model_photographs",
    "Photographs",
    (
        Column("No.", "photograph_id", COUNT, look="muted"),
        Column("Shows", _shows, width=9),
        Column("Caption", "caption", width=14, grow=2),
        Column("", lambda one: "" if one.there else "! missing", width=9, from_width=50, look="alert"),
        Column("Unit", "tag", width=6, look="muted"),
    ),
    key="photograph_id",
    empty="None stands on its page.",
)
