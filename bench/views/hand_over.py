"""The note that goes along with a sold unit."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from bench.desk import Desk
from bench.domain.amounts import Instant, Minor
from bench.domain.shipping import PackEnergy, pack_energy, shipping_lines
from bench.errors import NotFound
from bench.views.buyer_sheet import read_buyer_sheet
from bench.views.condition import ConditionSheet
from bench.views.sales import address, read_sales

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
    price_minor: Minor
    invoice: str
    warranty_until: date | None
    goes_along: str
    parts: tuple[str, ...]
    drives: tuple[DriveGiven, ...]
    packs: tuple[PackEnergy, ...]
    cell_finding: str | None
    currency: str
    zone: str
    made_us: Instant

    @property
    def shipping(self) -> tuple[str, ...]:
        """What to know before it is sent."""
        return shipping_lines(self.packs, self.cell_finding)


def read_hand_over(desk: Desk, unit_id: int) -> HandOver:
    """The note for the sale that stands. NotFound when the unit is not sold, or has come back."""
    sales, sheet = read_sales(desk, unit_id), read_buyer_sheet(desk, unit_id)
    sale = sales.standing
    if sale is None:
        raise NotFound(f"Unit {sales.tag} is not sold.", "Record its sale first.")
    with desk.store.read() as connection:
        lives_at = address(connection, sale.party_id)
    return HandOver(
        shop=sheet.shop,
        unit_id=unit_id,
        tag=sheet.tag,
        maker=sheet.maker,
        model=sheet.model,
        serial=sheet.serial,
        sale_id=sale.sale_id,
        sold_on=sale.sold_on,
        buyer=sale.buyer,
        buyer_address=lives_at,
        price_minor=sale.price_minor,
        invoice=sale.invoice,
        warranty_until=sale.warranty_until,
        goes_along=sale.note,
        parts=tuple(f"{part.name} {part.serial}".rstrip() for part in sheet.parts if part.into),
        drives=tuple(DriveGiven(one.name, one.wiped, one.standing) for one in sheet.drives.drives),
        packs=_packs(sheet.condition),
        cell_finding=sheet.condition.cell_finding,
        currency=sales.currency,
        zone=sales.zone,
        made_us=sheet.made_us,
    )


def _packs(condition: ConditionSheet) -> tuple[PackEnergy, ...]:
    """What each pack holds: as read after the work, since a pack may have been replaced; else before it."""
    battery = next(lines for lines in condition.subjects if lines.subject == "battery")
    return tuple(
        pack_energy(pack.part, pack.after or pack.before, before_work=not pack.after)
        for pack in battery.parts
    )
