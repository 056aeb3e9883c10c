"""What a reading that was just taken shows, in a line, and the drives it may be of."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from bench.domain.condition.verdicts import Verdict
from bench.views.drives import DriveSheet


def added_words(verdicts: Iterable[Sequence[Verdict]], told: Iterable[str]) -> str:
    """The verdicts in a line, and what else must be known, the gravest first."""
    found = "; ".join(f"{one.words}: {one.standing}" for given in verdicts for one in given)
    return " ".join((*told, f"{found}." if found else "Kept."))


def drive_choices(drives: DriveSheet) -> tuple[tuple[str, str], ...]:
    """The drives in a unit to choose from."""
    return tuple((str(one.drive_id), one.name) for one in drives.drives)
