"""The stages a unit passes, as a new shop begins with them: each is named for what has been done."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class StageAtStart:
    """A stage of a new shop."""

    name: str
    lid_off: bool = False
    final: bool = False
    lists: bool = False
    sells: bool = False


STAGES_AT_START = (
    StageAtStart("received"),
    StageAtStart("inspected"),
    StageAtStart("opened", lid_off=True),
    StageAtStart("cleaned", lid_off=True),
    StageAtStart("refitted", lid_off=True),
    StageAtStart("closed"),
    StageAtStart("soaked"),
    StageAtStart("graded"),
    StageAtStart("listed", lists=True),
    StageAtStart("sold", final=True, sells=True),
)
