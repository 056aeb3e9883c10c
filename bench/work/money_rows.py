"""Read the rows behind a line of a unit's money, by what the line opens."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from datetime import date

from bench.desk import Desk
from bench.domain.money_rows import MoneyRow, MoneyRows
from bench.domain.quantities import show_quantity
from bench.domain.unit_money import (
    MATERIALS,
    PARTS_BOUGHT,
    PARTS_IN,
    PARTS_OUT,
    PURCHASE,
    RETURN,
    SALE,
    TIME,
    WAY_OUT,
)
from bench.domain.ways_out import HANDED_BACK, WORDS
from bench.errors import NotFound
from bench.views.entries import of_unit
from bench.views.parts import PartLine
from bench.views.unit import MaterialLine, material_lines
from bench.work.money import MoneyGround, bought_parts, money_ground


def read_money_rows(desk: Desk, unit_id: int, opens: str) -> MoneyRows:
    """The rows behind every line of `read_unit_money` that says it opens so. NotFound for anything else."""
    with desk.store.read() as connection:
        ground = money_ground(connection, unit_id)
        rows = _rows(connection, ground, opens)
    if rows is None:
        raise NotFound(f"Unit {ground.unit['tag']} has no rows behind that.", "Read its money again.")
    return MoneyRows(
        unit_id, ground.unit["tag"], opens, tuple(rows), ground.unit["currency"], ground.unit["zone"]
    )


def _rows(connection: sqlite3.Connection, ground: MoneyGround, opens: str) -> Sequence[MoneyRow] | None:
    what, _, number = opens.rpartition(" ")
    if opens == PURCHASE:
        return _purchase(ground.unit)
    if opens == PARTS_BOUGHT:
        return [_part(part, part.supplier, 1) for part in ground.bought()]
    if opens == PARTS_IN:
        return [_part(part, f"out of {part.from_tag}", 1) for part in ground.came_in()]
    if opens == PARTS_OUT:
        return [_part(part, f"into {part.to_tag or 'the shelf'}", -1) for part in ground.went_out()]
    if opens == TIME:
        return _entries(connection, ground)
    if what == MATERIALS:
        return _materials(connection, ground, number)
    if what == SALE:
        return _sale(ground, number)
    if what == WAY_OUT:
        return _way_out(ground, number)
    return _return(ground, number) if what == RETURN else None


def _purchase(unit: sqlite3.Row) -> list[MoneyRow]:
    words = [f"lot {unit['lot']}"] if unit["lot"] else []
    words += [f"from {unit['seller']}"] if unit["seller"] else []
    words += [f"invoice {unit['invoice']}"] if unit["invoice"] else []
    bought_on = date.fromisoformat(unit["bought_on"]) if unit["bought_on"] else None
    at_us = None if bought_on else unit["added_us"]
    if unit["owner_id"] is not None:
        return [MoneyRow(unit["unit_id"], at_us, bought_on, "brought in", "", 0)]
    (_, paid), *more = bought_parts(unit)
    parts = [(", ".join(words) or "bought", paid), *more]
    return [MoneyRow(unit["unit_id"], at_us, bought_on, what, "", amount) for what, amount in parts]


def _part(part: PartLine, way: str, sign: int) -> MoneyRow:
    words = ", ".join(word for word in (part.name, part.serial, way) if word)
    return MoneyRow(part.part_id, part.at_us, None, words, part.person, sign * part.cost_minor)


def _materials(connection: sqlite3.Connection, ground: MoneyGround, number: str) -> list[MoneyRow] | None:
    lines = material_lines(connection, ground.unit_id)
    return [_movement(line) for line in lines if str(line.consumable_id) == number] or None


def _movement(line: MaterialLine) -> MoneyRow:
    took = "took" if line.quantity < 0 else "gave back"
    words = f"{took} {show_quantity(abs(line.quantity), line.base_unit)}, {line.task}"
    return MoneyRow(line.movement_id, line.at_us, None, words, line.person, -line.cost_minor)


def _sale(ground: MoneyGround, number: str) -> list[MoneyRow] | None:
    sale = next((one for one in ground.sales if str(one["sale_id"]) == number), None)
    if sale is None:
        return None
    through = f", {sale['channel']}" if sale["channel"] else ""
    invoice = f", invoice {sale['invoice']}" if sale["invoice"] else ""
    left = ground.tax_left_minor(sale)
    parts = (
        (f"price{through}{invoice}", sale["price_minor"]),
        ("fees of the channel", -sale["fee_minor"]),
        ("shipping", -sale["shipping_minor"] if sale["shipping_known"] else None),
        ("tax on the margin", -sale["tax_minor"]),
        ("tax no longer due after a refund", sale["tax_minor"] - left),
    )
    sold_on = date.fromisoformat(sale["sold_on"])
    return [
        MoneyRow(sale["sale_id"], sale["sold_us"], sold_on, words, sale["person"], amount)
        for at, (words, amount) in enumerate(parts)
        if amount or amount is None or at == 0
    ]


def _return(ground: MoneyGround, number: str) -> list[MoneyRow] | None:
    back = next((one for one in ground.returns if str(one["comeback_id"]) == number), None)
    if back is None:
        return None
    parts = (
        (back["reason"], -back["refund_minor"]),
        ("fees given back", back["fee_back_minor"]),
        ("return postage", None if back["postage_minor"] is None else -back["postage_minor"]),
    )
    return [
        MoneyRow(back["comeback_id"], back["at_us"], None, words, back["person"], amount)
        for at, (words, amount) in enumerate(parts)
        if amount or amount is None or at == 0
    ]


def _way_out(ground: MoneyGround, number: str) -> list[MoneyRow] | None:
    row = next((one for one in ground.ways if str(one["way_out_id"]) == number), None)
    if row is None:
        return None
    amount = row["price_minor"] if row["way"] == HANDED_BACK else row["proceeds_minor"]
    words = ", ".join(word for word in (WORDS[row["way"]], row["note"]) if word)
    return [MoneyRow(row["way_out_id"], row["at_us"], None, words, row["person"], amount)]


def _entries(connection: sqlite3.Connection, ground: MoneyGround) -> list[MoneyRow]:
    """Attended entries that have been stopped, by start."""
    return [
        MoneyRow(
            entry.entry_id,
            entry.started_us,
            None,
            entry.task,
            entry.person,
            None,
            entry.stopped_us - entry.started_us,
        )
        for entry in of_unit(connection, ground.unit_id)
        if entry.attended and entry.stopped_us is not None
    ]
