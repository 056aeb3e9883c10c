"""Attempts at tests, and how often each kind of test fails, as tables."""

from __future__ import annotations

from bench.domain.outcomes import KINDS
from bench.views.columns import Column, Table
from bench.views.kinds import INSTANT, LENGTH, SHARE, WORD
from bench.views.outcomes import KindRate, OutcomeLine, outcome_look

OUTCOMES = Table[OutcomeLine](
    "outcomes",
    "Tests",
    (
        Column("No.", "test_id", WORD, 4, from_width=84, look="muted"),
        Column("Test", "label", width=14, grow=1),
        Column("", "outcome", width=10, look=lambda one: outcome_look(one.outcome)),
        Column("Ran for", "ran_us", LENGTH),
        Column("Measured", lambda one: one.measured or None, width=16, grow=2, from_width=72),
        Column("Note", lambda one: one.note.splitlines()[0] if one.note else None, width=12, grow=2),
        Column("When", "at_us", INSTANT, from_width=100, look="muted"),
        Column("By", "person", width=8, from_width=124, look="muted"),
    ),
    key="test_id",
    empty="No test has ended yet.",
)
KIND_RATES = Table[KindRate](
    "kind_rates",
    "Tests that fail at the first attempt",
    (
        Column("", lambda one: KINDS[one.kind].label, width=20, grow=1),
        Column("Failed", lambda one: one.rate and f"{one.rate.events} of {one.rate.trials}", WORD),
        Column("Share", lambda one: one.rate and one.rate.share_per_10000, SHARE),
        Column("95 % from", lambda one: one.rate and one.rate.low_per_10000, SHARE),
        Column("to", lambda one: one.rate and one.rate.high_per_10000, SHARE),
    ),
    key="kind",
    empty="No test has ended yet.",
)
