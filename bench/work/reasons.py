"""Read what was said for listing a unit without something, as far as it still answers."""

from __future__ import annotations

import sqlite3

from bench.domain.holding import condition_of
from bench.domain.wipe import UnwipedReason
from bench.views import drives as reads


def reasons_within(connection: sqlite3.Connection, unit: sqlite3.Row) -> tuple[UnwipedReason, ...]:
    """The reasons of a unit that still answer, the newest first, each with what it still covers."""
    held = condition_of(unit["opened_us"], unit["back_us"])
    found = (
        UnwipedReason(
            row["reason"],
            row["person"],
            row["at_us"],
            tuple(one for one in row["covers"].split() if held.still_answers(one, row["at_us"])),
        )
        for row in reads.reasons(connection, unit["id"])
    )
    return tuple(reason for reason in found if reason.covers)
