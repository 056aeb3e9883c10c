"""What the demo's units are made of, as it was typed, as rows."""

from __future__ import annotations

from dataclasses import dataclass, field

from bench.domain.condition.fields import BEFORE
from bench.domain.specification import TYPED
from bench.domain.specification import Specification as Known
from bench.domain.specification_typed import read_typed
from bench.domain.tags import tag_from_number
from bench.store.tables import Specification
from bench.work.demo.drives import LOOKED_OVER, READ_AFTER
from bench.work.demo.ground import Ground, Line
from bench.work.demo.story import Moments
from bench.work.specification import values_of


@dataclass
class SpecificationRows:
    """Specifications, the earliest first, and the journal's lines about them."""

    specifications: list[Specification] = field(default_factory=list)
    lines: list[Line] = field(default_factory=list)


def specification_rows(ground: Ground, moments: Moments) -> SpecificationRows:
    """Rows of all that was typed: when the unit was looked over, and at its readings after."""
    rows, known = SpecificationRows(), dict[int, Known]()
    for one in ground.demo.trade.specifications:
        typed = dict(pair.strip().split("=", 1) for pair in one.fields.split(";"))
        known[one.unit] = read_typed(typed, known.get(one.unit, Known()))
        begins_with = LOOKED_OVER if one.moment == BEFORE else READ_AFTER
        moment, unit_id = moments.ended_one_of(one.unit, begins_with), ground.unit_ids[one.unit]
        rows.specifications.append(
            Specification(
                unit_id=unit_id,
                source=TYPED,
                at_us=moment.at_us,
                person_id=ground.people[moment.who],
                **values_of(known[one.unit]),
            )
        )
        words = f"Typed the specification of {tag_from_number(one.unit)}"
        rows.lines.append(Line(moment.at_us, moment.who, "specification", words, unit_id))
    return rows
