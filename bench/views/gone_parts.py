"""Parts that left the shop off the shelf, refunds that are no unit's: what they brought and lost."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass

from bench.desk import Desk
from bench.domain.amounts import Instant, Minor
from bench.domain.unit_money import PARTS_LOST, MoneyLine
from bench.views.binder import Query
from bench.views.parts import IS_LAST
from bench.views.shop import facts

SOLD_WORDS = "parts sold off the shelf, less their cost"
SCRAPPED_WORDS = "parts scrapped off the shelf"
REFUND_WORDS = "the shop's own parts: refunds less cost"


@dataclass(frozen=True, slots=True)
class GonePart:
    """A part that left the shop off the shelf. `gone`: sold, scrapped, sent back; `note`: why, to whom."""

    part_id: int
    component_id: int
    drive_id: int | None
    name: str
    serial: str
    maker_number: str
    from_tag: str
    supplier: str
    gone: str
    gone_us: Instant
    cost_minor: Minor
    price_minor: Minor | None
    note: str


@dataclass(frozen=True, slots=True)
class GoneParts:
    """Every such part, the newest first."""

    lines: tuple[GonePart, ...]
    currency: str
    zone: str


@dataclass(frozen=True, slots=True)
class _Sum:
    """What such parts brought less what they cost, and how many they are."""

    amount_minor: Minor
    parts: int


@dataclass(frozen=True, slots=True)
class GoneWords:
    """What a line of the ledger is about: the kind and row of the line, and the part in words."""

    row_id: int
    kind: str
    words: str


_LINES = Query(
    GonePart,
    f"""
SELECT part.id AS part_id, part.component_id, part.drive_id, part.name, part.serial, component.maker_number,
       COALESCE(giver.tag, '') AS from_tag, part.supplier, component.gone, component.gone_us, part.cost_minor,
       CASE component.gone WHEN 'sold' THEN component.price_minor END AS price_minor, component.note
FROM component CROSS JOIN part ON part.component_id = component.id AND part.removed = 0
AND part.to_unit_id IS NULL LEFT JOIN unit AS giver ON giver.id = part.from_unit_id
WHERE component.gone_us IS NOT NULL AND {IS_LAST} ORDER BY component.gone_us DESC, component.id DESC
""",  # noqa: S608 - a text of ours
)
_GONE = Query(
    _Sum,
    """
SELECT COALESCE(SUM(component.price_minor - part.cost_minor), 0) AS amount_minor, COUNT(*) AS parts
FROM component INDEXED BY ix_component_gone_us
CROSS JOIN part ON part.component_id = component.id AND part.removed = 0
AND part.to_unit_id IS NULL
WHERE component.gone_us IS NOT NULL AND component.gone_us >= :lo AND component.gone_us < :hi
AND component.gone = :way AND component.bears_unit_id IS NULL
""",
)
# What was sent back for the shop itself is lost when it is settled; until then it is tied up.
_REFUNDS = Query(
    _Sum,
    """
SELECT COALESCE(SUM(parts_order.refund_minor - CASE
           WHEN component.gone = 'sent back' AND component.bears_unit_id IS NULL THEN part.cost_minor
           ELSE 0 END), 0) AS amount_minor, COUNT(*) AS parts
FROM parts_order INDEXED BY ix_parts_order_refunded_us
CROSS JOIN component ON component.id = parts_order.component_id
LEFT JOIN part ON part.component_id = component.id AND part.removed = 0 AND part.to_unit_id IS NULL
WHERE parts_order.refunded_us IS NOT NULL AND parts_order.refunded_us >= :lo
AND parts_order.refunded_us < :hi AND parts_order.refund_unit_id IS NULL AND parts_order.removed = 0
""",
)


# What such a line of a unit's money is of: a part that is gone, or an order that was refunded.
_WORDS = Query(
    GoneWords,
    """
SELECT component.id AS row_id, 'part lost' AS kind,
       component.name || ', ' || component.gone || CASE component.note WHEN '' THEN '' ELSE ': ' END
       || component.note AS words
FROM component WHERE component.bears_unit_id = :unit_id AND component.gone <> ''
UNION ALL
SELECT parts_order.id, 'part refund', parts_order.what || CASE parts_order.supplier WHEN '' THEN '' ELSE
       ', from ' END || parts_order.supplier
FROM parts_order WHERE parts_order.refund_unit_id = :unit_id AND parts_order.removed = 0
""",
)


def read_gone_parts(desk: Desk) -> GoneParts:
    """The parts that left the shop off the shelf: sold, scrapped, sent back."""
    with desk.store.read() as connection:
        shop = facts(connection)
        return GoneParts(_LINES.all(connection), shop.currency, shop.zone)


def gone_words(connection: sqlite3.Connection, unit_id: int) -> dict[tuple[str, int], str]:
    """What the lines of parts gone and of refunds of a unit are about, by kind and row."""
    return {(one.kind, one.row_id): one.words for one in _WORDS.each(connection, unit_id=unit_id)}


def part_lines(connection: sqlite3.Connection, span: tuple[int, int]) -> tuple[MoneyLine, ...]:
    """The lines of a month for them; those of nothing are left out. `span`: bounds in UTC microseconds."""
    lo, hi = span
    told = (
        (SOLD_WORDS, _GONE.the(connection, lo=lo, hi=hi, way="sold")),
        (SCRAPPED_WORDS, _GONE.the(connection, lo=lo, hi=hi, way="scrapped")),
        (REFUND_WORDS, _REFUNDS.the(connection, lo=lo, hi=hi)),
    )
    return tuple(
        MoneyLine(words, one.amount_minor, PARTS_LOST, one.parts) for words, one in told if one.parts
    )
