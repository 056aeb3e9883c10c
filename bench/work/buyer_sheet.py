"""Read what a buyer is told of a unit, in one snapshot."""

from __future__ import annotations

from bench.desk import Desk
from bench.domain.buyer_sheet import BuyerSheet, PartChange
from bench.errors import NotFound
from bench.views import grades as reads
from bench.views import shop as shop_reads
from bench.views import unit as unit_reads
from bench.work.condition import condition_within
from bench.work.drives import drives_within
from bench.work.grades import grades_within


def read_buyer_sheet(desk: Desk, unit_id: int) -> BuyerSheet:
    """Grades, readings before and after, parts, wipes, and what was not tested. NotFound for no such unit."""
    now_us = desk.clock.now_us()
    with desk.store.read() as connection:
        unit = unit_reads.particulars(connection, unit_id)
        if unit is None:
            raise NotFound(f"There is no unit with number {unit_id}.", "It may have been taken back.")
        return BuyerSheet(
            shop=shop_reads.facts(connection).name,
            unit_id=unit_id,
            tag=unit["tag"],
            maker=unit["maker"],
            model=unit["model"],
            serial=unit["serial"],
            grades=grades_within(connection, unit_id),
            condition=condition_within(connection, unit_id),
            drives=drives_within(connection, unit_id),
            parts=tuple(
                PartChange(row["name"], row["serial"], bool(row["goes_in"]), bool(row["used"]), row["at_us"])
                for row in reads.parts(connection, unit_id)
            ),
            made_us=now_us,
            zone=unit["zone"],
        )
