"""All limits and constants in one table, for papers, tests and the mutation program."""

from __future__ import annotations

from bench.domain.limits import air, colours, heat, media, packs, power, reading_files, shelf, tubes
from bench.domain.limits.record import Limit, by_id

SUBJECTS: tuple[dict[str, Limit], ...] = (
    packs.LIMITS,
    power.LIMITS,
    tubes.LIMITS,
    air.LIMITS,
    heat.LIMITS,
    media.LIMITS,
    colours.LIMITS,
    shelf.LIMITS,
    reading_files.LIMITS,
)


def whole_table() -> dict[str, Limit]:
    """Every limit by its id, subject after subject."""
    return by_id(*(limit for subject in SUBJECTS for limit in subject.values()))
