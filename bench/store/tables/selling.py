"""Sales, returns, and every way a unit leaves the queue."""

from __future__ import annotations

from sqlalchemy import ForeignKey, Index, Text, text
from sqlmodel import Field, SQLModel

from bench.store.tables.base import STRICT, check, unique_while_kept, yes_or_no


class Trade(SQLModel, table=True):
    """The shop's one row of trading settings. Shares are parts per 10,000.

    `margin_scheme`: second-hand margin tax is calculated. `hold_days`: days unaltered, by local code.

    `repair_*`, `quote_days`, `uncollected_days`: of owners' machines. `machine_watts`: what a machine draws
    while a task runs by itself; `mwh_price_minor`: of 1000 kWh of electricity; NULL: not set.

    `listing_template`: the words of a listing; empty: the program's. `listing_shipping`: what it says of
    sending.
    """

    __tablename__ = "trade"
    __table_args__ = (
        check("one_row", "id = 1"),
        yes_or_no("margin_scheme"),
        check("margin_tax", "margin_tax_per_10000 BETWEEN 0 AND 10000"),
        check("hold_days", "hold_days BETWEEN 0 AND 365"),
        check("keep_private", "keep_private_years BETWEEN 0 AND 100"),
        check("risk_reserve", "risk_reserve_per_10000 BETWEEN 0 AND 10000"),
        check("wanted_margin", "wanted_margin_minor >= 0"),
        check("loss_chance", "loss_chance_per_10000 BETWEEN 0 AND 10000"),
        check("warranty_days", "warranty_days BETWEEN 0 AND 3650"),
        check("repair_tax", "repair_tax_per_10000 BETWEEN 0 AND 10000"),
        check("quote_days", "quote_days BETWEEN 0 AND 3650"),
        check("repair_warranty", "repair_warranty_days BETWEEN 0 AND 3650"),
        check("uncollected", "uncollected_days BETWEEN 0 AND 3650"),
        check("machine_watts", "machine_watts IS NULL OR machine_watts BETWEEN 0 AND 5000"),
        check("mwh_price", "mwh_price_minor IS NULL OR mwh_price_minor >= 0"),
        STRICT,
    )

    id: int = Field(default=1, primary_key=True)
    margin_scheme: int = 0
    margin_tax_per_10000: int = 2000
    hold_days: int = 0
    keep_private_years: int = 6
    risk_reserve_per_10000: int = 1000
    wanted_margin_minor: int = 0
    warranty_days: int = 365
    loss_chance_per_10000: int = 2000
    repair_tax_per_10000: int = 0
    quote_days: int = 14
    repair_warranty_days: int = 0
    uncollected_days: int = 90
    machine_watts: int | None = None
    mwh_price_minor: int | None = None
    listing_template: str = Field(default="", sa_type=Text)
    listing_shipping: str = Field(default="", sa_type=Text)


class Channel(SQLModel, table=True):
    """Where units are sold, and its fees: a share of the price (parts per 10,000) and a fixed amount."""

    __tablename__ = "channel"
    __table_args__ = (
        check("share", "fee_per_10000 BETWEEN 0 AND 10000"),
        check("fixed", "fee_fixed_minor >= 0"),
        yes_or_no("removed"),
        unique_while_kept("channel"),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    name: str = Field(sa_type=Text)
    fee_per_10000: int = 0
    fee_fixed_minor: int = 0
    removed: int = 0


class UnitListing(SQLModel, table=True):
    """What a unit's listing asks, NULL: not typed; and what it says of sending, empty: what the shop's do."""

    __tablename__ = "unit_listing"
    __table_args__ = (
        check("price", "price_minor IS NULL OR price_minor >= 0"),
        Index("uq_unit_listing_unit_id", "unit_id", unique=True, sqlite_where=text("removed = 0")),
        yes_or_no("removed"),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    unit_id: int = Field(foreign_key="unit.id")
    price_minor: int | None = None
    shipping: str = Field(default="", sa_type=Text)
    removed: int = 0


class Sale(SQLModel, table=True):
    """One sale of a unit. A unit that came back can be sold again: each sale stays.

    `shipping_known`: what sending it cost was typed, be it 0; while it was not, `shipping_minor` is 0.
    """

    __tablename__ = "sale"
    __table_args__ = (
        check("price", "price_minor >= 0"),
        check("fees", "fee_minor >= 0 AND shipping_minor >= 0 AND tax_minor >= 0"),
        check("shipping_known", "shipping_known = 1 OR (shipping_known = 0 AND shipping_minor = 0)"),
        Index("ix_sale_unit_id", "unit_id"),
        Index("ix_sale_sold_on", "sold_on"),
        Index("ix_sale_party_id", "party_id"),
        Index("ix_sale_channel_id", "channel_id", "sold_us"),
        yes_or_no("removed"),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    unit_id: int = Field(foreign_key="unit.id")
    party_id: int | None = Field(default=None, foreign_key="party.id")
    channel_id: int | None = Field(default=None, foreign_key="channel.id")
    sold_on: str = Field(sa_type=Text)
    sold_us: int
    person_id: int = Field(foreign_key="person.id")
    price_minor: int
    fee_minor: int = 0
    shipping_minor: int = 0
    tax_minor: int = 0
    invoice: str = Field(default="", sa_type=Text)
    warranty_until: str | None = Field(default=None, sa_type=Text)
    note: str = Field(default="", sa_type=Text)
    removed: int = 0
    shipping_known: int = 1


class Comeback(SQLModel, table=True):
    """A return: the unit of a sale is back in the queue; further hours count against that sale.

    `undoes`: the sale is undone and the unit is the shop's again; otherwise it stands, at a price less
    `refund_minor`, and the unit is the buyer's. `postage_minor`: what its way back cost the shop; NULL: not
    known. `fee_back_minor`: what the channel gave back of its fee.
    """

    __tablename__ = "comeback"
    __table_args__ = (
        check("refund", "refund_minor >= 0"),
        check("fee_back", "fee_back_minor >= 0"),
        check("postage", "postage_minor IS NULL OR postage_minor >= 0"),
        yes_or_no("undoes"),
        Index("ix_comeback_sale_id", "sale_id"),
        Index("ix_comeback_at_us", "at_us"),
        Index("ix_comeback_fault_id", "fault_id", sqlite_where=text("fault_id IS NOT NULL")),
        yes_or_no("removed"),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    sale_id: int = Field(foreign_key="sale.id")
    at_us: int
    person_id: int = Field(foreign_key="person.id")
    reason: str = Field(sa_type=Text)
    refund_minor: int = 0
    removed: int = 0
    undoes: int = 0
    fee_back_minor: int = 0
    postage_minor: int | None = None
    fault_id: int | None = Field(default=None, sa_column_args=(ForeignKey("fault.id", use_alter=True),))


class WayOut(SQLModel, table=True):
    """One leaving of a unit. `ended_us`: it came in again; a unit has at most one that has not ended.

    `price_minor`: what an owner pays for the repair; NULL: not typed. `tax_minor`: how much of it is
    tax that the shop passes on. `proceeds_minor`: what scrap brought.
    """

    __tablename__ = "way_out"
    __table_args__ = (
        check("way", "way IN ('sold', 'handed back', 'kept', 'scrapped', 'parts')"),
        check("price", "price_minor IS NULL OR price_minor >= 0"),
        check("proceeds", "proceeds_minor >= 0"),
        check("tax", "tax_minor BETWEEN 0 AND COALESCE(price_minor, 0)"),
        yes_or_no("removed"),
        Index("ix_way_out_unit_id", "unit_id"),
        Index("ix_way_out_at_us", "at_us"),
        Index(
            "uq_way_out_out", "unit_id", unique=True, sqlite_where=text("removed = 0 AND ended_us IS NULL")
        ),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    unit_id: int = Field(foreign_key="unit.id")
    way: str = Field(sa_type=Text)
    at_us: int
    person_id: int | None = Field(default=None, foreign_key="person.id")
    note: str = Field(default="", sa_type=Text)
    price_minor: int | None = None
    proceeds_minor: int = 0
    ended_us: int | None = None
    removed: int = 0
    tax_minor: int = 0


class UnsettledSale(SQLModel, table=True):
    """A unit of which no sale stands, though it is out as sold or a sale of it was undone since.

    The file keeps it by itself. `unrecorded`: it is out as sold. `undone`: a return undid a sale, and the
    unit is the shop's again, not gone otherwise.
    """

    __tablename__ = "unsettled_sale"
    __table_args__ = (yes_or_no("unrecorded"), yes_or_no("undone"), STRICT)

    unit_id: int = Field(primary_key=True)
    unrecorded: int
    undone: int
