"""Whose a unit is: an owner's, a buyer's by the sale that stands, or the shop's; and whether it has left."""

from __future__ import annotations

from sqlmodel import col, select

from bench.domain.ways_out import HANDED_BACK, PARTS, SOLD
from bench.errors import Refused
from bench.store.tables import Comeback, Purchase, Sale, Stage, Unit, WayOut
from bench.work.change import Change


def last_sale(made: Change, unit_id: int) -> Sale | None:
    """A unit's newest sale that was not taken back."""
    statement = (
        select(Sale)
        .where(Sale.unit_id == unit_id, Sale.removed == 0)
        .order_by(col(Sale.sold_us).desc(), col(Sale.id).desc())
        .limit(1)
    )
    return made.session.exec(statement).first()


def came_back(made: Change, sale: Sale) -> list[Comeback]:
    """The returns from a sale."""
    return list(made.session.exec(select(Comeback).where(Comeback.sale_id == sale.id, Comeback.removed == 0)))


def is_out(made: Change, unit: Unit) -> bool:
    """Whether the unit stands at a final stage."""
    return bool(made.get(Stage, unit.stage_id, "stage").final)


def is_sold(made: Change, unit: Unit) -> bool:
    """Whether the unit's newest sale stands: no return undid it."""
    assert unit.id is not None
    sale = last_sale(made, unit.id)
    return sale is not None and not any(one.undoes for one in came_back(made, sale))


def not_an_owners(unit: Unit) -> None:
    """Pass, or raise Refused for a machine that was brought in by its owner."""
    if unit.owner_id is not None:
        raise Refused(
            f"Unit {unit.tag} is its owner's: it was never bought.", "Hand it back; its repair can be paid."
        )


def way_out(made: Change, unit: Unit) -> WayOut | None:
    """How the unit left, while it has not come in again."""
    statement = select(WayOut).where(
        WayOut.unit_id == unit.id, WayOut.removed == 0, col(WayOut.ended_us).is_(None)
    )
    return made.session.exec(statement).first()


def natural_way(made: Change, unit: Unit) -> str:
    """How a unit leaves that is moved to a final stage: back to whose it is, as parts, or to be sold."""
    if unit.owner_id is not None or is_sold(made, unit):
        return HANDED_BACK
    donor = made.session.exec(select(Purchase.donor).where(Purchase.unit_id == unit.id)).first()
    return PARTS if donor else SOLD


def goes_out(made: Change, unit: Unit, way: str, note: str = "") -> WayOut:
    """Note how the unit leaves, now and by the desk's person."""
    assert unit.id is not None
    row = WayOut(unit_id=unit.id, way=way, at_us=made.now_us, person_id=made.desk.person_id, note=note)
    return made.add(row)


def comes_in(made: Change, unit: Unit) -> None:
    """Note that the unit came in again."""
    row = way_out(made, unit)
    if row is not None:
        row.ended_us = made.now_us
        made.session.flush()
