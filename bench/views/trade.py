"""How the shop trades: its settings, and the channels it sells through."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass

from bench.desk import Desk
from bench.domain.amounts import Minor
from bench.views.binder import Query


@dataclass(frozen=True, slots=True)
class TradeSettings:
    """The shop's trading settings. Shares are parts per 10,000, money in minor units of `currency`."""

    margin_scheme: bool
    margin_tax_per_10000: int
    hold_days: int
    keep_private_years: int
    risk_reserve_per_10000: int
    wanted_margin_minor: Minor
    warranty_days: int
    currency: str
    loss_chance_per_10000: int = 2000
    repair_tax_per_10000: int = 0
    quote_days: int = 14
    repair_warranty_days: int = 0
    uncollected_days: int = 90
    machine_watts: int | None = None
    mwh_price_minor: Minor | None = None
    listing_template: str = ""
    listing_shipping: str = ""

    @property
    def tax_per_10000(self) -> int:
        """The margin tax that is calculated: 0 while the shop has it turned off."""
        return self.margin_tax_per_10000 if self.margin_scheme else 0


@dataclass(frozen=True, slots=True)
class ChannelLine:
    """Where units are sold, and what that costs: a share of the price (per 10,000) and a fixed amount."""

    channel_id: int
    name: str
    fee_per_10000: int
    fee_fixed_minor: Minor


_SETTINGS = Query(
    TradeSettings,
    """
SELECT trade.margin_scheme, trade.margin_tax_per_10000, trade.hold_days, trade.keep_private_years,
       trade.risk_reserve_per_10000, trade.wanted_margin_minor, trade.warranty_days, shop.currency,
       trade.loss_chance_per_10000, trade.repair_tax_per_10000, trade.quote_days,
       trade.repair_warranty_days, trade.uncollected_days, trade.machine_watts, trade.mwh_price_minor,
       trade.listing_template, trade.listing_shipping
FROM trade CROSS JOIN shop
""",
)

_CHANNEL = "SELECT id AS channel_id, name, fee_per_10000, fee_fixed_minor FROM channel"

_CHANNELS = Query(ChannelLine, _CHANNEL + " WHERE removed = 0 ORDER BY id")

# A removed channel still explains the fees of what was sold or offered through it.
_ONE_CHANNEL = Query(ChannelLine, _CHANNEL + " WHERE id = :channel_id")


def read_trade(desk: Desk) -> TradeSettings:
    """The trading settings as they stand."""
    with desk.store.read() as connection:
        return settings(connection)


def read_channels(desk: Desk) -> tuple[ChannelLine, ...]:
    """The channels that are kept, in the order in which they came."""
    with desk.store.read() as connection:
        return channels(connection)


def settings(connection: sqlite3.Connection) -> TradeSettings:
    """The trading settings, within a snapshot that other reads share."""
    return _SETTINGS.the(connection)


def channels(connection: sqlite3.Connection) -> tuple[ChannelLine, ...]:
    """The channels that are kept, within a snapshot that other reads share."""
    return _CHANNELS.all(connection)


def channel(connection: sqlite3.Connection, channel_id: int) -> ChannelLine | None:
    """One channel, a removed one too; None when there is none of that number."""
    return _ONE_CHANNEL.first(connection, channel_id=channel_id)
