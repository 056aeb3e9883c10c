"""What next, when units will be done and how long they stay, as tables."""

from __future__ import annotations

from dataclasses import dataclass

from bench.domain.amounts import Length
from bench.domain.durations import MINUTE_US
from bench.domain.forecast_sheet import Forecast, ForecastLine, StageWait, days_and_hours
from bench.domain.next_up import NextLine, WaitingLine
from bench.views.columns import Column, Table
from bench.views.kinds import BAR, COUNT, DAY, LENGTH, LOCAL_DAY, MONEY, WORD, Bound, Context, Kind, at_most


def _earns(line: NextLine, minor: int) -> int | Bound | None:
    return None if line.expected_minor is None else at_most(minor, known=not line.missing)


def _earns_look(line: NextLine) -> str:
    return "" if line.expected_minor is not None else "muted"


def _due(line: NextLine, context: Context) -> str:
    return f"{'! ' if line.past_due else ''}{DAY.told(line.due_on, context)}"


DUE = Kind(_due, width=13, right=False, order=lambda line: line.due_on)
STAY = Kind(lambda us, _: days_and_hours(us), width=9)

RANKING = Table[NextLine](
    "order",
    "The order",
    (
        Column("", "place", COUNT, 3, look="muted"),
        Column("Unit", "tag", width=6, look=lambda one: "alert" if one.past_due else ""),
        Column("Model", "model", width=10, grow=2),
        Column(
            "Next task",
            lambda one: one.next_task or "nothing open",
            width=12,
            grow=1,
            from_width=96,
            look="muted",
        ),
        Column("Earns", lambda one: _earns(one, one.to_earn_minor), MONEY, 9, look=_earns_look),
        Column("In", lambda one: one.minutes_left * MINUTE_US, LENGTH),
        Column(
            "Per hour",
            lambda one: _earns(one, one.per_hour_minor),
            MONEY,
            13,
            look=lambda one: _earns_look(one) or "strong",
        ),
        Column(
            "Due",
            lambda one: one if one.due_on is not None else None,
            DUE,
            from_width=80,
            look=lambda one: "alert" if one.past_due else "muted",
        ),
    ),
    key="unit_id",
    empty="Nothing to work on.",
)
WAITING = Table[WaitingLine](
    "waiting",
    "Waiting",
    (
        Column("Unit", "tag", width=6),
        Column("Model", "model", width=10, grow=2),
        Column("Stage", "stage", width=9),
    ),
    key="unit_id",
)
FORECAST = Table[ForecastLine](
    "forecast",
    "Ready by",
    (
        Column("Unit", "tag", width=6),
        Column("Model", "model", width=10, grow=1, from_width=110),
        Column("At", "stage", width=9, grow=1, from_width=56, look="muted"),
        Column("50 %", "ready_50_us", LOCAL_DAY),
        Column("80 %", "ready_most_us", LOCAL_DAY, look="strong"),
        Column("95 %", "ready_nearly_all_us", LOCAL_DAY, look="muted"),
        Column("Left 50 %", "left_50_us", LOCAL_DAY, from_width=120, look="muted"),
        Column("Left 80 %", "left_most_us", LOCAL_DAY, from_width=120, look="muted"),
        Column(
            "Based on",
            lambda one: f"{one.rests_on} unit{'' if one.rests_on == 1 else 's'}",
            WORD,
            from_width=66,
            look="muted",
        ),
    ),
    key="unit_id",
    empty="No unit.",
)


@dataclass(frozen=True, slots=True)
class StageStay:
    """How long units stay at a stage, and whether longer than at any other."""

    wait: StageWait
    is_bottleneck: bool

    @property
    def longest_us(self) -> Length | None:
        """The longest stay of those that are there now."""
        return self.wait.longest_us if self.wait.standing else None


STAGES = Table[StageStay](
    "stages",
    "Time in stage",
    (
        Column(
            "Stage",
            lambda one: f"! {one.wait.stage}" if one.is_bottleneck else one.wait.stage,
            width=10,
            grow=1,
            look=lambda one: "alert" if one.is_bottleneck else "",
        ),
        Column(
            "",
            lambda one: one.wait.median_us or 0,
            BAR,
            grow=1,
            look=lambda one: "alert" if one.is_bottleneck else "waiting",
        ),
        Column("Stays", "wait.stays", COUNT, 5, from_width=80, look="muted"),
        Column("50 %", "wait.median_us", STAY),
        Column("80 %", "wait.p80_us", STAY, from_width=56, look="muted"),
        Column("Now", "wait.standing", COUNT, 3, look="muted"),
        Column("Longest", "longest_us", STAY, from_width=66, look="muted"),
    ),
    key="wait.stage_id",
)


def stays_of(view: Forecast) -> tuple[StageStay, ...]:
    """The stages in the order of the work."""
    longest = max((one.median_us or 0 for one in view.stages), default=0)
    return tuple(StageStay(one, bool(longest) and one.median_us == longest) for one in view.stages)
