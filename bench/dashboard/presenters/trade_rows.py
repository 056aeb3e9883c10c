"""How the shop trades, where it sells and its scale of grades, as rows and as the texts of forms."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from bench.dashboard.presenters.rows import Row, cell, heading, room
from bench.domain.grading import SIDES, Step
from bench.domain.machine_power import show_kwh_price
from bench.domain.money import show_money
from bench.domain.percent import show_percent
from bench.views.columns import Table
from bench.views.machine_power import TaskWatts
from bench.views.trade import ChannelLine, TradeSettings

TRADING = Table[Any]("trading", "Trading settings", (room("", 22), room("", 22, grow=1)))
TRADE, CHANNEL, STEP = "trade", "channel", "step"
REPAIRS, ELECTRICITY, TASK_WATTS, LISTINGS = "repairs", "electricity", "task watts", "listings"


def trade_rows(
    trade: TradeSettings,
    channels: Sequence[ChannelLine],
    scale: Sequence[Step],
    watts: Sequence[TaskWatts] = (),
) -> tuple[Row, ...]:
    """All of it; a key says what kind of row it is and its number."""
    return (
        heading(TRADE, "Trading"),
        *(
            Row((TRADE, at), (cell(label), cell(value, look)))
            for at, (label, value, look) in enumerate(_trade(trade))
        ),
        heading(REPAIRS, "Repairs of owners' machines"),
        *_told(REPAIRS, _repairs(trade)),
        heading(ELECTRICITY, "Electricity of machine time, an estimate"),
        *_told(ELECTRICITY, _electricity(trade)),
        *(Row((TASK_WATTS, one.name), (cell(one.name), cell(f"{one.watts} W"))) for one in watts),
        heading(CHANNEL, "Channels, where units are sold"),
        *(
            Row((CHANNEL, one.channel_id), (cell(one.name), cell(fee_words(one, trade.currency), "muted")))
            for one in channels
        ),
        *_scale(scale),
        heading(LISTINGS, "Listings"),
        *_told(LISTINGS, _listings(trade)),
    )


def trade_values(trade: TradeSettings) -> dict[str, str]:
    """What the form begins with, by field."""
    return {
        "margin_tax_text": show_percent(trade.margin_tax_per_10000),
        "hold_days_text": str(trade.hold_days),
        "keep_private_text": str(trade.keep_private_years),
        "risk_reserve_text": show_percent(trade.risk_reserve_per_10000),
        "loss_chance_text": show_percent(trade.loss_chance_per_10000),
        "wanted_margin_text": show_money(trade.wanted_margin_minor, trade.currency),
        "warranty_text": str(trade.warranty_days),
    }


def channel_values(channel: ChannelLine, currency: str) -> dict[str, str]:
    """What a channel's form begins with, by field."""
    return {
        "name": channel.name,
        "share_text": show_percent(channel.fee_per_10000) if channel.fee_per_10000 else "",
        "fixed_text": show_money(channel.fee_fixed_minor, currency) if channel.fee_fixed_minor else "",
    }


def _trade(trade: TradeSettings) -> tuple[tuple[str, str, str], ...]:
    rate = show_percent(trade.margin_tax_per_10000)
    scheme = f"on, {rate} (not advice)" if trade.margin_scheme else f"off; the rate would be {rate}"
    hold = f"{trade.hold_days} days after buying" if trade.hold_days else "none"
    years = f"{trade.keep_private_years} year{'' if trade.keep_private_years == 1 else 's'}"
    warranty = f"{trade.warranty_days} days" if trade.warranty_days else "none"
    return (
        ("Tax on the margin", scheme, "warning" if trade.margin_scheme else ""),
        ("Waiting period", hold, ""),
        ("Risk reserve", f"{show_percent(trade.risk_reserve_per_10000)} of the expected price", ""),
        ("Chance of loss", f"at most {show_percent(trade.loss_chance_per_10000)} when buying", ""),
        ("Margin wanted", show_money(trade.wanted_margin_minor, trade.currency), ""),
        ("Warranty", warranty, ""),
        ("Private people's data", f"kept {years} after the last business", ""),
    )


def _listings(trade: TradeSettings) -> tuple[tuple[str, str], ...]:
    return (
        ("Words", "the shop's own" if trade.listing_template else "built-in"),
        ("Shipping", trade.listing_shipping or "nothing is said"),
    )


def _repairs(trade: TradeSettings) -> tuple[tuple[str, str], ...]:
    after = trade.uncollected_days
    return (
        ("Tax on repairs", f"{show_percent(trade.repair_tax_per_10000)} (not advice)"),
        ("A quote holds", f"{trade.quote_days} days"),
        (
            "Warranty on repairs",
            f"{trade.repair_warranty_days} days" if trade.repair_warranty_days else "none",
        ),
        ("Uncollected", f"{after} days after it is ready; local law first" if after else "never said"),
    )


def _electricity(trade: TradeSettings) -> tuple[tuple[str, str], ...]:
    price = trade.mwh_price_minor
    return (
        ("A machine draws", "not set" if trade.machine_watts is None else f"{trade.machine_watts} W"),
        ("A kWh costs", "not set" if price is None else show_kwh_price(price, trade.currency)),
    )


def _told(kind: str, lines: Iterable[tuple[str, str]]) -> Iterable[Row]:
    for at, (label, value) in enumerate(lines):
        yield Row((kind, at), (cell(label), cell(value)))


def _scale(scale: Sequence[Step]) -> Iterable[Row]:
    for side in SIDES:
        yield heading((STEP, side), f"Grade scale for {side}, the best first")
        for one in scale:
            if one.side == side:
                yield Row((STEP, one.step_id), (cell(one.name), cell(one.meaning, "muted")))


def fee_words(channel: ChannelLine, currency: str) -> str:
    """What a channel takes, such as 10 % and 0.35 EUR."""
    fees = [show_percent(channel.fee_per_10000)] if channel.fee_per_10000 else []
    fees += [show_money(channel.fee_fixed_minor, currency)] if channel.fee_fixed_minor else []
    return " and ".join(fees) or "no fees"
