"""Faults as tables: those of a unit, those of the shop, the rows behind one, and what they cost together."""

from __future__ import annotations

from dataclasses import replace
from typing import Protocol

from bench.domain.faults import CURED, OPEN, STATES
from bench.views.columns import Column, Table
from bench.views.fault_costs import BehindFault, FaultGroup
from bench.views.faults import FaultLine
from bench.views.kinds import COUNT, HOURS, INSTANT, LENGTH, LOCAL_DAY, MONEY, WORD


class _Stated(Protocol):
    @property
    def state(self) -> str:
        """What became of it."""


def state_look(fault: _Stated) -> str:
    """The look of what became of a fault; beside it stands the word."""
    return {OPEN: "alert", CURED: "good"}.get(fault.state, "warning")


def state_words(fault: FaultLine) -> str:
    """What became of a fault, and which test showed it."""
    by = f", {fault.closing_test} test" if fault.closing_test else ""
    return f"{STATES[fault.state]}{by}"


def _number(fault: FaultLine) -> str:
    return f"f{fault.fault_id}"


FAULTS = Table[FaultLine](
    "faults",
    "Faults",
    (
        Column("No.", _number, WORD, 4, look="muted"),
        Column("Where", lambda one: one.place or None, width=13, look="muted"),
        Column("What is seen", "symptom", width=22, grow=3),
        Column("State", state_words, width=12, grow=1, look=state_look),
        Column("Whose", "whose", width=16, from_width=92, look="muted"),
        Column("Found", "found_us", LOCAL_DAY, from_width=104, look="muted"),
        Column("By", "person", width=8, from_width=116, look="muted"),
    ),
    key="fault_id",
    empty="No fault is recorded.",
)
FAULTS_ON_PAPER = replace(
    FAULTS,
    columns=(
        *FAULTS.columns,
        Column("", lambda one: "; ".join(words for words in (one.cause, one.done) if words), beneath=True),
    ),
)
OPEN_FAULTS = Table[FaultLine](
    "open_faults",
    "Faults",
    (
        Column("No.", _number, WORD, 4, look="muted"),
        Column("Unit", "tag", width=6),
        Column("Where", lambda one: one.place or None, width=13, look="muted"),
        Column("What is seen", "symptom", width=20, grow=3),
        Column("State", state_words, width=6, grow=1, look=state_look),
        Column("Model", "model", width=12, grow=1, from_width=96, look="muted"),
        Column("Found", "found_us", LOCAL_DAY, from_width=84, look="muted"),
        Column("Whose", "whose", width=16, from_width=110, look="muted"),
    ),
    key="fault_id",
    empty="No fault is open.",
)
BEHIND = Table[BehindFault](
    "behind_fault",
    "Belongs to it",
    (
        Column("", "what", width=7, look="muted"),
        Column("No.", "row_id", COUNT, look="muted"),
        Column("", "words", width=20, grow=2),
        Column("When", "at_us", INSTANT, from_width=80, look="muted"),
        Column("Time", "length_us", LENGTH),
        Column("Cost", "amount_minor", MONEY),
    ),
    key=lambda row: (row.what, row.row_id),
    empty="Nothing belongs to it yet.",
)
FAULT_GROUPS = Table[FaultGroup](
    "fault_groups",
    "What faults cost",
    (
        Column("", "name", width=12, grow=2),
        Column("Faults", "faults", COUNT, 6),
        Column("Open", "open", COUNT, from_width=76),
        Column("Hands-on", "hours_us", HOURS, 8),
        Column("Parts", "parts_minor", MONEY),
        Column("Consumables", "consumables_minor", MONEY, from_width=110),
        Column("Returns", "returns", COUNT, 7),
        Column("Returns cost", "returned_minor", MONEY, from_width=90),
        Column("Total", "cost_minor", MONEY),
    ),
    key="name",
    empty="No fault is recorded.",
)
