"""The rows behind a line of a unit's money."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class MoneyRow:
    """One row: when, what, who, and its amount with the sign it has in the line.

    `row_id`: its number in the file. Time entries have a length and no amount: labour stands apart.
    """

    row_id: int
    at_us: int | None
    on: date | None
    words: str
    person: str
    amount_minor: int | None
    length_us: int | None = None


@dataclass(frozen=True, slots=True)
class MoneyRows:
    """Every row behind one line of a unit's money, or behind the few lines of one sale.

    The amounts add up to those of the lines that open these rows, the lengths to the attended time.
    """

    unit_id: int
    tag: str
    opens: str
    rows: tuple[MoneyRow, ...]
    currency: str
    zone: str

    @property
    def amount_minor(self) -> int:
        """What the rows add up to."""
        return sum(row.amount_minor or 0 for row in self.rows)

    @property
    def length_us(self) -> int:
        """The time the rows add up to."""
        return sum(row.length_us or 0 for row in self.rows)
