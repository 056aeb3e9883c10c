"""The demo's photographs as rows, and their files in the folder beside the data file."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

from sqlmodel import Session, col, select

from bench.domain.photographs import file_name_of
from bench.domain.pictures import without_place
from bench.domain.tags import tag_from_number
from bench.store.demo_trade import DemoPhotograph
from bench.store.photographs import hash_of, write_new
from bench.store.tables import Fault, ModelPage, ModelStep, Photograph, PhotographCaption, Unit
from bench.work.demo.ground import Ground, Line
from bench.work.demo.story import Moments

FAULT, STEP = "fault", "step "


@dataclass
class PhotographRows:
    """Photographs, the earliest first, their captions, what they show, and the journal's lines about them."""

    photographs: list[Photograph] = field(default_factory=list)
    captions: list[PhotographCaption] = field(default_factory=list)
    shows: list[tuple[Photograph, str]] = field(default_factory=list)
    lines: list[Line] = field(default_factory=list)


def photograph_rows(ground: Ground, moments: Moments, names: Sequence[str]) -> PhotographRows:
    """Rows of all photographs. `names`: each one's file's, as written, in the order of the table."""
    rows = PhotographRows()
    told = [
        (moments.ended(one.unit, one.at), one, name)
        for one, name in zip(ground.demo.trade.photographs, names, strict=True)
    ]
    for number, (moment, one, name) in enumerate(sorted(told, key=lambda each: each[0].at_us), start=1):
        stripped, tag = without_place(one.content, one.file), tag_from_number(one.unit)
        unit_id = ground.unit_ids[one.unit]
        rows.photographs.append(
            Photograph(
                id=number,
                unit_id=unit_id,
                folder=tag,
                name=name,
                sha256=hash_of(stripped.content),
                size_bytes=len(stripped.content),
                kind=stripped.kind,
                kept_us=moment.at_us,
                person_id=ground.people[moment.who],
                shown=int(one.shown == "yes"),
            )
        )
        rows.shows += [(rows.photographs[-1], one.shows)] if one.shows else []
        rows.captions.append(PhotographCaption(photograph_id=number, caption=one.caption))
        words = f"Kept photograph {number} of {tag}"
        rows.lines.append(Line(moment.at_us, moment.who, "keep photographs", words, unit_id))
    return rows


def point_photographs(session: Session, rows: PhotographRows) -> None:
    """Say in rows that are stored what they show: the unit's fault, or a step of its model's page."""
    for photograph, shows in rows.shows:
        if shows == FAULT:
            fault = select(Fault.id).where(Fault.unit_id == photograph.unit_id)
            photograph.fault_id = session.exec(fault).one()
            continue
        step = (
            select(ModelStep)
            .join(ModelPage, col(ModelPage.id) == ModelStep.page_id)
            .join(Unit, (col(Unit.maker) == ModelPage.maker) & (col(Unit.model) == ModelPage.model))
            .where(Unit.id == photograph.unit_id, ModelStep.position == int(shows.removeprefix(STEP)))
        )
        found = session.exec(step).one()
        photograph.model_page_id, photograph.model_step_id = found.page_id, found.id


def write_photographs(path: Path, photographs: Sequence[DemoPhotograph]) -> list[str]:
    """Bring their files to the disk beside the data file that will be; answers the name of each."""
    names = []
    for one in photographs:
        kept = without_place(one.content, one.file)
        names.append(
            write_new(path, tag_from_number(one.unit), file_name_of(one.file, kept.kind), kept.content)
        )
    return names
