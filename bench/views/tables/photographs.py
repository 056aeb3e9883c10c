"""The photographs of a unit as a table."""

from __future__ import annotations

from bench.domain.grading import PARTS
from bench.views.columns import Column, Table
from bench.views.kinds import COUNT, INSTANT, SAID, Kind, Said
from bench.views.photographs import PhotographLine

SIZE = Kind(lambda size_bytes, _: f"{max(1, round(size_bytes / 1000))} kB", width=8)


def standing_of(one: PhotographLine) -> Said:
    """Whether it goes into papers, or that its file is erased or missing."""
    if one.erased_us is not None:
        return Said("erased", "muted")
    if not one.there:
        return Said("! missing", "alert")
    return Said("in papers", "good") if one.shown else Said("")


def shows_words(one: PhotographLine) -> str:
    """What it shows besides the unit as a whole: a fault, a task, a graded part, its model or a step."""
    fault = f"f{one.fault_id} {one.fault}" if one.fault_id is not None else ""
    model = (one.step or "the model") if one.model else ""
    return "; ".join(told for told in (fault, one.task, PARTS.get(one.grade, ""), model) if told)


PHOTOGRAPHS = Table[PhotographLine](
    "photographs",
    "Photographs",
    (
        Column("No.", "photograph_id", COUNT, look="muted"),
        Column("Name", "name", width=12, grow=1),
        Column("Kept", "kept_us", INSTANT, from_width=84, look="muted"),
        Column("Size", "size_bytes", SIZE, from_width=64, look="muted"),
        Column("Caption", "caption", width=16, grow=4),
        Column("Shows", shows_words, width=10, grow=1, from_width=110, look="muted"),
        Column("Papers", standing_of, SAID, 9),
        Column("Taken", "taken_us", INSTANT, from_width=130, look="muted"),
        Column("Who", "person", from_width=110, look="muted"),
    ),
    key="photograph_id",
    empty="No photograph is kept.",
)
