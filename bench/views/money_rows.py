"""The rows behind a line of a unit's money: the same lines of the ledger that were summed, one by one."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from bench.desk import Desk
from bench.domain.amounts import Instant, Length, Minor
from bench.domain.quantities import show_quantity
from bench.domain.unit_money import (
    CONSUMABLES_USED,
    PARTS_BOUGHT,
    PARTS_IN,
    PARTS_LOST,
    PARTS_OUT,
    PARTS_REFUND,
    PURCHASE,
    RETURN,
    SALE,
    TIME,
    WAY_OUT,
)
from bench.domain.ways_out import WORDS as WAY_WORDS
from bench.errors import NotFound
from bench.views import entries, ledger, parts
from bench.views.gone_parts import gone_words
from bench.views.ledger import LedgerLine
from bench.views.parts import PartLine
from bench.views.unit_money import (
    OF_A_RETURN,
    OF_A_SALE,
    OF_A_WAY_OUT,
    WORDS,
    MoneyGround,
    UnitSale,
    money_ground,
)


@dataclass(frozen=True, slots=True)
class MoneyRow:
    """One row: when, what, who, and its amount with the sign it has in the line.

    `row_id`: its number in the file. Time entries have a length and no amount: labour stands apart.
    """

    row_id: int
    at_us: Instant | None
    on: date | None
    words: str
    person: str
    amount_minor: Minor | None
    length_us: Length | None = None


@dataclass(frozen=True, slots=True)
class MoneyRows:
    """Every row behind one line of a unit's money, or behind the few lines of one sale.

    The amounts add up to those of the lines that open these rows, the lengths to the hands-on time.
    """

    unit_id: int
    tag: str
    opens: str
    rows: tuple[MoneyRow, ...]
    currency: str
    zone: str

    @property
    def amount_minor(self) -> Minor:
        """What the rows add up to."""
        return sum(row.amount_minor or 0 for row in self.rows)

    @property
    def length_us(self) -> Length:
        """The time the rows add up to."""
        return sum(row.length_us or 0 for row in self.rows)


def read_money_rows(desk: Desk, unit_id: int, opens: str) -> MoneyRows:
    """The rows behind every line of `read_unit_money` that says it opens so. NotFound for anything else."""
    with desk.store.read() as connection:
        ground = money_ground(connection, unit_id)
        rows = tuple(_rows(connection, ground, opens))
    unit = ground.unit
    if not rows and opens not in (TIME, PARTS_BOUGHT, PARTS_IN, PARTS_OUT):
        raise NotFound(f"Unit {unit.tag} has no rows behind that.", "Read its money again.")
    return MoneyRows(unit_id, unit.tag, opens, rows, unit.currency, unit.zone)


def _rows(connection: sqlite3.Connection, ground: MoneyGround, opens: str) -> Iterable[MoneyRow]:
    what, _, number = opens.rpartition(" ")
    if opens == TIME:
        return _times(connection, ground)
    if opens == PURCHASE:
        return _purchase(ground)
    if opens in _PART_KINDS:
        return _moved_parts(connection, ground, opens)
    if opens in _GONE_KINDS:
        return _gone_parts(connection, ground, _GONE_KINDS[opens])
    if not number.isdecimal():
        return ()
    if what == CONSUMABLES_USED:
        return _materials(ground, int(number))
    return _BY_NUMBER[what](ground, int(number)) if what in _BY_NUMBER else ()


def _purchase(ground: MoneyGround) -> Iterable[MoneyRow]:
    unit = ground.unit
    if unit.owner_id is not None:
        return (MoneyRow(unit.unit_id, unit.added_us, None, "brought in", "", 0),)
    told = (("lot", unit.lot), ("from", unit.seller), ("invoice", unit.invoice))
    paid = ", ".join(f"{word} {name}" for word, name in told if name) or "bought"
    return (
        MoneyRow(
            line.row_id,
            None if line.day else line.at_us,
            line.day,
            WORDS.get(line.kind, paid),
            "",
            None if line.amount_minor is None else -line.amount_minor,
        )
        for line in ground.of(*ledger.BUYING)
    )


def _times(connection: sqlite3.Connection, ground: MoneyGround) -> Iterable[MoneyRow]:
    """Hands-on entries that have been stopped, by start."""
    for entry in entries.of_unit(connection, ground.unit.unit_id):
        if entry.attended and entry.stopped_us is not None:
            length_us = entry.stopped_us - entry.started_us
            yield MoneyRow(entry.entry_id, entry.started_us, None, entry.task, entry.person, None, length_us)


def _moved_parts(connection: sqlite3.Connection, ground: MoneyGround, opens: str) -> Iterable[MoneyRow]:
    kind, way_of = _PART_KINDS[opens]
    moved = {part.part_id: part for part in parts.of_unit(connection, ground.unit.unit_id)}
    for line in ground.of(kind):
        part = moved[line.row_id]
        words = ", ".join(word for word in (part.name, part.serial, way_of(part)) if word)
        yield _costs(line, words, part.person)


def _gone_parts(connection: sqlite3.Connection, ground: MoneyGround, kind: str) -> Iterable[MoneyRow]:
    words = gone_words(connection, ground.unit.unit_id)
    for line in ground.of(kind):
        yield _costs(line, words[kind, line.row_id], "")


def _materials(ground: MoneyGround, number: int) -> Iterable[MoneyRow]:
    lines = {line.row_id: line for line in ground.of(ledger.CONSUMABLE, of_id=number)}
    for moved in ground.materials:
        if moved.movement_id in lines:
            took = "took" if moved.quantity < 0 else "gave back"
            words = f"{took} {show_quantity(abs(moved.quantity), moved.base_unit)}, {moved.task}"
            yield _costs(lines[moved.movement_id], words, moved.person)


def _sale(ground: MoneyGround, number: int) -> Iterable[MoneyRow]:
    for sale in ground.sales:
        if sale.sale_id == number:
            for line in ground.of(*OF_A_SALE, of_id=number):
                for words, amount in _told_of(line, sale):
                    yield MoneyRow(number, line.at_us, line.day, words, sale.person, amount)


def _told_of(line: LedgerLine, sale: UnitSale) -> Iterable[tuple[str, int | None]]:
    """A line of a sale in words; tax as it was calculated, and what of it is no longer due."""
    if line.kind == ledger.SALE:
        through = f", {sale.channel}" if sale.channel else ""
        invoice = f", invoice {sale.invoice}" if sale.invoice else ""
        yield f"price{through}{invoice}", line.amount_minor
    elif line.kind == ledger.TAX:
        yield "tax on the margin", -sale.tax_minor
        given_back = sale.tax_minor + (line.amount_minor or 0)
        if given_back:
            yield "tax no longer due after a refund", given_back
    else:
        yield WORDS[line.kind], line.amount_minor


def _return(ground: MoneyGround, number: int) -> Iterable[MoneyRow]:
    for back in ground.returns:
        if back.comeback_id == number:
            for line in ground.of(*OF_A_RETURN, row_id=number):
                words = back.reason if line.kind == ledger.REFUND else WORDS[line.kind]
                yield MoneyRow(number, line.at_us, None, words, back.person, line.amount_minor)


def _way_out(ground: MoneyGround, number: int) -> Iterable[MoneyRow]:
    for left in ground.ways:
        if left.way_out_id == number:
            told = ", ".join(word for word in (WAY_WORDS[left.way], left.note) if word)
            for line in ground.of(*OF_A_WAY_OUT, row_id=number):
                words = WORDS[line.kind] if line.kind == ledger.REPAIR_TAX else told
                yield MoneyRow(number, line.at_us, None, words, left.person, line.amount_minor)


def _costs(line: LedgerLine, words: str, person: str) -> MoneyRow:
    """A line of the cost side as a row of what was paid."""
    amount = None if line.amount_minor is None else -line.amount_minor
    return MoneyRow(line.row_id, line.at_us, None, words, person, amount)


_PART_KINDS: dict[str, tuple[str, Callable[[PartLine], str]]] = {
    PARTS_BOUGHT: (ledger.PART_BOUGHT, lambda part: part.supplier),
    PARTS_IN: (ledger.PART_IN, lambda part: f"out of {part.from_tag}"),
    PARTS_OUT: (ledger.PART_OUT, lambda part: f"into {part.to_tag or 'the shelf'}"),
}
_GONE_KINDS = {PARTS_LOST: ledger.PART_LOST, PARTS_REFUND: ledger.PART_REFUND}
_BY_NUMBER: Mapping[str, Callable[[MoneyGround, int], Iterable[MoneyRow]]] = {
    SALE: _sale,
    RETURN: _return,
    WAY_OUT: _way_out,
}
