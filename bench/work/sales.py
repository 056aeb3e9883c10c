"""Read what became of a unit: its sales and returns."""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from datetime import date

from bench.desk import Desk
from bench.domain.selling import ComebackLine, SaleLine, UnitSales
from bench.errors import NotFound
from bench.views import selling as reads


def read_sales(desk: Desk, unit_id: int) -> UnitSales:
    """Every sale of a unit and every return, in one snapshot. NotFound when there is no such unit."""
    with desk.store.read() as connection:
        return sales_of(connection, _unit(connection, unit_id))


def sales_of(connection: sqlite3.Connection, unit: sqlite3.Row) -> UnitSales:
    """The sales of a unit whose particulars were read in the same snapshot."""
    comebacks: defaultdict[int, list[ComebackLine]] = defaultdict(list)
    for row in reads.comebacks(connection, unit["unit_id"]):
        values = {**dict(row), "undoes": bool(row["undoes"])}
        comebacks[values.pop("sale_id")].append(ComebackLine(**values))
    return UnitSales(
        unit_id=unit["unit_id"],
        tag=unit["tag"],
        model=unit["model"],
        stage=unit["stage"],
        out=bool(unit["final"]),
        sales=tuple(
            _sale(row, comebacks[row["sale_id"]]) for row in reads.sales(connection, unit["unit_id"])
        ),
        currency=unit["currency"],
        zone=unit["zone"],
    )


def _sale(row: sqlite3.Row, comebacks: list[ComebackLine]) -> SaleLine:
    values = dict(row)
    values["sold_on"] = date.fromisoformat(row["sold_on"])
    values["warranty_until"] = date.fromisoformat(row["warranty_until"]) if row["warranty_until"] else None
    return SaleLine(**values, comebacks=tuple(comebacks))


def _unit(connection: sqlite3.Connection, unit_id: int) -> sqlite3.Row:
    unit = reads.unit(connection, unit_id)
    if unit is None:
        raise NotFound(f"There is no unit with number {unit_id}.", "It may have been taken back.")
    return unit
