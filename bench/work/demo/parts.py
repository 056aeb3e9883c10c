"""The demo's parts as rows: bought for a unit, taken out of one for another or for the shelf."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from bench.domain.tags import tag_from_number
from bench.store.demo_trade import DemoPart
from bench.store.tables import Component, Part
from bench.work.demo.ground import Ground, Line
from bench.work.demo.story import Moments


@dataclass
class PartRows:
    """Which parts they are, their moves, the earliest first, and the journal's lines about them."""

    components: list[Component] = field(default_factory=list)
    parts: list[Part] = field(default_factory=list)
    lines: list[Line] = field(default_factory=list)


def part_rows(ground: Ground, moments: Moments, drives: Mapping[str, int]) -> PartRows:
    """Rows of all parts. `drives`: the number of each drive by its serial number."""
    rows = PartRows()
    for one in ground.demo.trade.parts:
        moment = moments.ended(one.from_unit or one.to_unit or 0, one.at)
        part = Part(
            name=one.name,
            serial=one.serial,
            from_unit_id=ground.unit_ids[one.from_unit] if one.from_unit else None,
            to_unit_id=ground.unit_ids[one.to_unit] if one.to_unit else None,
            cost_minor=ground.terms.money(one.cost),
            at_us=moment.at_us,
            person_id=ground.people[moment.who],
            supplier=one.supplier,
            note=one.note,
            drive_id=drives[one.drive] if one.drive else None,
            component_id=len(rows.components) + 1,
        )
        rows.components.append(Component(id=part.component_id, name=one.name, serial=one.serial))
        rows.parts.append(part)
        unit_id = part.to_unit_id or part.from_unit_id
        action = "take part" if one.from_unit else "fit part"
        rows.lines.append(Line(moment.at_us, moment.who, action, _words(ground, one), unit_id))
    rows.parts.sort(key=lambda part: part.at_us)
    return rows


def _words(ground: Ground, one: DemoPart) -> str:
    verb = "Took" if one.from_unit else "Fitted"
    out = f" out of {tag_from_number(one.from_unit)}" if one.from_unit else ""
    into = f" into {tag_from_number(one.to_unit)}" if one.to_unit else " to the shelf"
    return f"{verb} {one.name}{out}{into}, {ground.terms.shown(ground.terms.money(one.cost))}"
