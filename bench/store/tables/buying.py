"""Where units come from and go to: people and firms traded with, lots, asking prices looked into."""

from __future__ import annotations

from sqlalchemy import ForeignKey, Index, Text, text
from sqlmodel import Field, SQLModel

from bench.store.tables.base import NUMBERED_ONCE, STRICT, check, yes_or_no


class Party(SQLModel, table=True):
    """Someone a unit was bought from or sold to. A private person's data can be erased; the number stays."""

    __tablename__ = "party"
    __table_args__ = (
        yes_or_no("private"),
        yes_or_no("removed"),
        Index("ix_party_name", text("name COLLATE NOCASE")),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    name: str = Field(sa_type=Text)
    address: str = Field(default="", sa_type=Text)
    contact: str = Field(default="", sa_type=Text)
    identity_seen: str = Field(default="", sa_type=Text)
    private: int = 1
    erased_us: int | None = None
    removed: int = 0


class Lot(SQLModel, table=True):
    """Units bought together for one price, shared among them by relative expected value.

    `premium_minor`: how much of the price is a buyer's premium. `freight_minor`: paid on top, to others.
    """

    __tablename__ = "lot"
    __table_args__ = (
        check("price", "price_minor >= 0"),
        check("premium", "premium_minor >= 0"),
        check("freight", "freight_minor >= 0"),
        yes_or_no("removed"),
        Index("ix_lot_party_id", "party_id"),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    name: str = Field(sa_type=Text)
    price_minor: int
    bought_on: str = Field(sa_type=Text)
    party_id: int | None = Field(default=None, foreign_key="party.id")
    note: str = Field(default="", sa_type=Text)
    removed: int = 0
    premium_minor: int = 0
    freight_minor: int = 0


class Purchase(SQLModel, table=True):
    """How a unit came to the shop. `donor`: kept for its parts. The price paid stands with the unit.

    `expected_minor`: what it is expected to sell for; a lot's price is shared in proportion to it.
    `premium_minor`: how much of the price paid is a buyer's premium. `freight_minor`: paid on top, to others.
    `shipping_minor`: what sending it to its buyer is expected to cost; NULL: not typed.
    """

    __tablename__ = "purchase"
    __table_args__ = (
        check("expected", "expected_minor IS NULL OR expected_minor >= 0"),
        check("premium", "premium_minor >= 0"),
        check("freight", "freight_minor >= 0"),
        check("shipping", "shipping_minor IS NULL OR shipping_minor >= 0"),
        yes_or_no("donor"),
        Index("uq_purchase_unit_id", "unit_id", unique=True),
        Index("ix_purchase_lot_id", "lot_id"),
        Index("ix_purchase_party_id", "party_id"),
        NUMBERED_ONCE,
    )

    id: int | None = Field(default=None, primary_key=True)
    unit_id: int = Field(foreign_key="unit.id")
    lot_id: int | None = Field(default=None, foreign_key="lot.id")
    party_id: int | None = Field(default=None, foreign_key="party.id")
    bought_on: str | None = Field(default=None, sa_type=Text)
    invoice: str = Field(default="", sa_type=Text)
    expected_minor: int | None = None
    donor: int = 0
    premium_minor: int = 0
    freight_minor: int = 0
    shipping_minor: int | None = None


class Offer(SQLModel, table=True):
    """A unit looked at before paying: what was typed, and the unit it became if it was bought.

    `findings` is JSON: each line of the list at the seller's table with what was seen. `premium_per_10000`: a
    buyer's premium on the price; `freight_minor`: to bring it here; `shipping_minor`: to its buyer. NULL: not
    typed.
    """

    __tablename__ = "offer"
    __table_args__ = (
        check("asking", "asking_minor IS NULL OR asking_minor >= 0"),
        check("expected", "expected_minor >= 0"),
        check("premium", "premium_per_10000 IS NULL OR premium_per_10000 BETWEEN 0 AND 10000"),
        check("freight", "freight_minor IS NULL OR freight_minor >= 0"),
        check("shipping", "shipping_minor IS NULL OR shipping_minor >= 0"),
        check("findings", "json_valid(findings)"),
        check("state", "state IN ('open', 'bought', 'left')"),
        yes_or_no("removed"),
        Index("ix_offer_state", "state"),
        Index("ix_offer_unit_id", "unit_id"),
        Index("ix_offer_party_id", "party_id"),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    at_us: int
    maker: str = Field(default="", sa_type=Text)
    model: str = Field(sa_type=Text)
    serial: str = Field(default="", sa_type=Text)
    note: str = Field(default="", sa_type=Text)
    route_id: int | None = Field(default=None, foreign_key="route.id")
    channel_id: int | None = Field(default=None, foreign_key="channel.id")
    party_id: int | None = Field(default=None, foreign_key="party.id")
    asking_minor: int | None = None
    expected_minor: int
    parts_minor: int = 0
    findings: str = Field(default="{}", sa_type=Text)
    state: str = Field(default="open", sa_type=Text)
    unit_id: int | None = Field(default=None, foreign_key="unit.id")
    removed: int = 0
    premium_per_10000: int | None = None
    freight_minor: int | None = None
    shipping_minor: int | None = None


class Part(SQLModel, table=True):
    """A move of a part: into a unit, out of it, or from one to another, and the cost that went along.

    `component_id`: which part it is. `from_unit_id` NULL: bought. `to_unit_id` NULL: kept on the shelf.
    """

    __tablename__ = "part"
    __table_args__ = (
        check("two_units", "from_unit_id IS NULL OR to_unit_id IS NULL OR from_unit_id <> to_unit_id"),
        check("cost", "cost_minor >= 0"),
        Index("ix_part_from_unit_id", "from_unit_id"),
        Index("ix_part_to_unit_id", "to_unit_id"),
        Index("ix_part_drive_id", "drive_id"),
        Index("ix_part_fault_id", "fault_id", sqlite_where=text("fault_id IS NOT NULL")),
        Index("ix_part_component_id", "component_id", "removed", "to_unit_id", "from_unit_id"),
        yes_or_no("removed"),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    name: str = Field(sa_type=Text)
    serial: str = Field(default="", sa_type=Text)
    from_unit_id: int | None = Field(default=None, foreign_key="unit.id")
    to_unit_id: int | None = Field(default=None, foreign_key="unit.id")
    cost_minor: int
    at_us: int
    person_id: int = Field(foreign_key="person.id")
    supplier: str = Field(default="", sa_type=Text)
    note: str = Field(default="", sa_type=Text)
    drive_id: int | None = Field(default=None, foreign_key="drive.id")
    component_id: int = Field(default=None, foreign_key="component.id", nullable=False)
    removed: int = 0
    fault_id: int | None = Field(default=None, sa_column_args=(ForeignKey("fault.id", use_alter=True),))
