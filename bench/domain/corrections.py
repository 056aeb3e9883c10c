"""What was corrected in a time entry: the values before and after, who, when and why."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class CorrectionLine:
    """One correction of one time entry, oldest first on screen. A stop of None: it was still running."""

    correction_id: int
    at_us: int
    person: str
    old_started_us: int
    old_stopped_us: int | None
    new_started_us: int
    new_stopped_us: int | None
    reason: str
