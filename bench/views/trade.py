"""SQL texts behind the shop's trading settings and its channels."""

from __future__ import annotations

import sqlite3

from bench.domain.trade import ChannelLine, TradeSettings

_SETTINGS = """
SELECT trade.margin_scheme, trade.margin_tax_per_10000, trade.hold_days, trade.keep_private_years,
       trade.risk_reserve_per_10000, trade.wanted_margin_minor, trade.warranty_days, shop.currency,
       trade.loss_chance_per_10000
FROM trade CROSS JOIN shop
"""

_CHANNELS = """
SELECT id, name, fee_per_10000, fee_fixed_minor FROM channel WHERE removed = 0 ORDER BY id
"""

# A removed channel still explains the fees of what was sold or offered through it.
_CHANNEL = "SELECT id, name, fee_per_10000, fee_fixed_minor FROM channel WHERE id = ?"


def settings(connection: sqlite3.Connection) -> TradeSettings:
    """The trading settings as they stand."""
    scheme, *others = connection.execute(_SETTINGS).fetchone()
    return TradeSettings(bool(scheme), *others)


def channels(connection: sqlite3.Connection) -> tuple[ChannelLine, ...]:
    """The channels that are kept, in the order in which they came."""
    return tuple(ChannelLine(*row) for row in connection.execute(_CHANNELS))


def channel(connection: sqlite3.Connection, channel_id: int) -> ChannelLine | None:
    """One channel, a removed one too; None when there is none of that number."""
    row = connection.execute(_CHANNEL, (channel_id,)).fetchone()
    return ChannelLine(*row) if row else None
