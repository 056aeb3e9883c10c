"""How the shop trades: its settings, where it sells, and the hold period of a local code."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta


@dataclass(frozen=True, slots=True)
class TradeSettings:
    """The shop's trading settings. Shares are parts per 10,000, money in minor units of `currency`."""

    margin_scheme: bool
    margin_tax_per_10000: int
    hold_days: int
    keep_private_years: int
    risk_reserve_per_10000: int
    wanted_margin_minor: int
    warranty_days: int
    currency: str
    loss_chance_per_10000: int = 2000

    @property
    def tax_per_10000(self) -> int:
        """The margin tax that is reckoned: 0 while the shop has it turned off."""
        return self.margin_tax_per_10000 if self.margin_scheme else 0


@dataclass(frozen=True, slots=True)
class ChannelLine:
    """Where units are sold, and what that costs: a share of the price (per 10,000) and a fixed amount."""

    channel_id: int
    name: str
    fee_per_10000: int
    fee_fixed_minor: int


def hold_ends(bought_on: date | None, hold_days: int) -> date | None:
    """The first day on which a unit may be altered or sold; None where no hold period applies.

    With 14 days, a unit bought on the 1st is free from the 15th on. Local code first: a shop whose code
    counts the day of purchase otherwise sets one day more or less.
    """
    if bought_on is None or hold_days <= 0:
        return None
    return bought_on + timedelta(days=hold_days)
