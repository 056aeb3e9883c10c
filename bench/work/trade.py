"""Set how the shop trades: its settings, and the channels it sells through."""

from __future__ import annotations

from sqlmodel import select

from bench.desk import Desk
from bench.domain.money import read_money
from bench.domain.percent import read_percent
from bench.domain.typed import TypedFields, read_whole
from bench.errors import NotFound, Refused
from bench.store.tables import Channel, Trade
from bench.work.change import Change, change
from bench.work.lookups import shop_of
from bench.work.names import free_name, tells_if_changed

MOST_HOLD_DAYS = 365
MOST_YEARS = 100
MOST_WARRANTY_DAYS = 3650


def edit_trade(
    desk: Desk,
    *,
    margin_scheme: bool,
    margin_tax_text: str,
    hold_days_text: str,
    keep_private_text: str,
    risk_reserve_text: str,
    wanted_margin_text: str,
    warranty_text: str,
    loss_chance_text: str = "",
) -> None:
    """Set the trading settings; all of them, as typed. An empty wanted margin is 0.

    An empty chance of a loss stays as it is.
    """
    with change(desk, "trade settings") as made:
        trade = trade_of(made)
        currency = shop_of(made.session).currency
        fields, wanted = TypedFields(), wanted_margin_text.strip()
        trade.margin_scheme = int(margin_scheme)
        trade.margin_tax_per_10000 = fields.read(
            "margin_tax_text", read_percent, margin_tax_text, "The tax rate"
        )
        trade.hold_days = fields.read(
            "hold_days_text", read_whole, hold_days_text, "The waiting period in days", 0, MOST_HOLD_DAYS
        )
        trade.keep_private_years = fields.read(
            "keep_private_text", read_whole, keep_private_text, "Years to keep names", 0, MOST_YEARS
        )
        trade.risk_reserve_per_10000 = fields.read(
            "risk_reserve_text", read_percent, risk_reserve_text, "The risk reserve"
        )
        trade.wanted_margin_minor = (
            fields.read("wanted_margin_text", read_money, wanted, currency) if wanted else 0
        )
        trade.warranty_days = fields.read(
            "warranty_text", read_whole, warranty_text, "The warranty in days", 0, MOST_WARRANTY_DAYS
        )
        if loss_chance_text.strip():
            trade.loss_chance_per_10000 = fields.read(
                "loss_chance_text", read_percent, loss_chance_text, "The chance of a loss"
            )
        fields.check()
        tells_if_changed(made, "Changed the trading settings")


def add_channel(desk: Desk, name: str, *, share_text: str = "", fixed_text: str = "") -> int:
    """A new channel with its fees, nothing typed for none; answers its number."""
    with change(desk, "add channel") as made:
        fields = TypedFields()
        channel = Channel(name=fields.read("name", free_name, made, Channel, name, "channel"))
        _set_fees(made, channel, fields, share_text, fixed_text)
        made.add(channel)
        made.tells(f"Added channel {channel.name}")
        assert channel.id is not None
        return channel.id


def edit_channel(desk: Desk, channel_id: int, *, name: str, share_text: str, fixed_text: str) -> None:
    """Set a channel's name and fees. What was sold through it keeps the fees it had."""
    with change(desk, "edit channel") as made:
        channel = made.get(Channel, channel_id, "channel")
        fields = TypedFields()
        new_name = fields.read("name", free_name, made, Channel, name, "channel", channel_id)
        _set_fees(made, channel, fields, share_text, fixed_text)
        channel.name = new_name
        tells_if_changed(made, f"Changed channel {channel.name}")


def remove_channel(desk: Desk, channel_id: int) -> None:
    """Take a channel off the list; sales through it stay. Refused for the only one."""
    with change(desk, "remove channel") as made:
        channel = made.get(Channel, channel_id, "channel")
        if len(made.session.exec(select(Channel.id).where(Channel.removed == 0)).all()) == 1:
            raise Refused(f"{channel.name} is the only channel.", "Add another one first, or rename it.")
        channel.removed = 1
        made.tells(f"Removed channel {channel.name}")


def trade_of(made: Change) -> Trade:
    """The one row of trading settings."""
    trade = made.session.get(Trade, 1)
    if trade is None:
        raise NotFound("The data file has no trading settings in it.", "Restore it from a backup.")
    return trade


def _set_fees(made: Change, channel: Channel, fields: TypedFields, share_text: str, fixed_text: str) -> None:
    share, fixed, currency = share_text.strip(), fixed_text.strip(), shop_of(made.session).currency
    channel.fee_per_10000 = fields.read("share_text", read_percent, share, "The fee's share") if share else 0
    channel.fee_fixed_minor = fields.read("fixed_text", read_money, fixed, currency) if fixed else 0
    fields.check()
