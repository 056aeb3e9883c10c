"""The note that goes along with a sold unit."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from bench.domain.shipping import PackEnergy, shipping_lines

RIGHTS = "Rights that the law gives a buyer stand beside this."


@dataclass(frozen=True, slots=True)
class DriveGiven:
    """A drive that goes along and what its wipe record says."""

    name: str
    wiped: bool
    standing: str


@dataclass(frozen=True, slots=True)
class HandOver:
    """What the buyer is given in writing. Money in minor units of `currency`; `goes_along`: as typed."""

    shop: str
    unit_id: int
    tag: str
    maker: str
    model: str
    serial: str
    sale_id: int
    sold_on: date
    buyer: str
    buyer_address: str
    price_minor: int
    invoice: str
    warranty_until: date | None
    goes_along: str
    parts: tuple[str, ...]
    drives: tuple[DriveGiven, ...]
    packs: tuple[PackEnergy, ...]
    cell_finding: str | None
    currency: str
    zone: str
    made_us: int

    @property
    def shipping(self) -> tuple[str, ...]:
        """What to know before it is sent."""
        return shipping_lines(self.packs, self.cell_finding)
