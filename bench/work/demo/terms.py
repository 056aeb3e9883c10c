"""How the demo's workshop trades: its settings, its channels, who it trades with, what each unit cost."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from sqlmodel import Session, col, select

from bench.domain.lots import lot_weights, share_lot
from bench.domain.money import read_money, show_money
from bench.domain.percent import read_percent
from bench.errors import NotFound
from bench.store.demo_data import Demo
from bench.store.demo_trade import DemoTrade
from bench.store.tables import Channel, GradeStep, Party, Trade


@dataclass(frozen=True)
class Terms:
    """Rows by name, and what was paid for each unit (its price or its share of a lot), by unit number."""

    trade: Trade
    channels: Mapping[str, Channel]
    parties: Mapping[str, int]
    steps: Mapping[tuple[str, str], int]
    prices: Mapping[int, int | None]
    freights: Mapping[int, int]
    currency: str

    def money(self, text: str) -> int:
        """Minor units of what stands in a file, nothing for 0."""
        return read_money(text, self.currency) if text else 0

    def shown(self, minor: int) -> str:
        """An amount as the journal says it."""
        return show_money(minor, self.currency)


def terms_of(session: Session, demo: Demo) -> Terms:
    """Set what trade.toml says, and add the parties."""
    trade = session.get(Trade, 1)
    if trade is None:
        raise NotFound("The new file has no trading settings in it.", "Install bench again.")
    _set(trade, demo)
    session.add_all(_channel(row, demo.currency) for row in demo.trade.channels)
    parties = [
        Party(
            id=number,
            name=one.name,
            address=one.address,
            contact=one.contact,
            identity_seen=one.identity_seen,
            private=int(one.private == "yes"),
        )
        for number, one in enumerate(demo.trade.parties, start=1)
    ]
    session.add_all(parties)
    session.flush()
    return Terms(
        trade=trade,
        channels={row.name: row for row in session.exec(select(Channel).order_by(col(Channel.id)))},
        parties={party.name: number for number, party in enumerate(parties, start=1)},
        steps={(step.side, step.name): step.id or 0 for step in session.exec(select(GradeStep))},
        prices=_prices(demo),
        freights=_freights(demo),
        currency=demo.currency,
    )


def units_of_lot(trade: DemoTrade, lot: str) -> list[int]:
    """The numbers of a lot's units, in order."""
    return [number for number, purchase in trade.purchases.items() if purchase.lot == lot]


def _set(trade: Trade, demo: Demo) -> None:
    told = demo.trade.settings
    trade.margin_scheme = int(told["margin_scheme"])
    trade.margin_tax_per_10000 = read_percent(told["margin_tax"], "The tax rate")
    trade.hold_days = int(told["hold_days"])
    trade.keep_private_years = int(told["keep_private"])
    trade.risk_reserve_per_10000 = read_percent(told["risk_reserve"], "The risk reserve")
    trade.wanted_margin_minor = read_money(told["wanted_margin"], demo.currency)
    trade.warranty_days = int(told["warranty_days"])
    trade.listing_shipping = told["listing_shipping"]


def _channel(row: Mapping[str, str], currency: str) -> Channel:
    return Channel(
        name=row["name"],
        fee_per_10000=read_percent(row["share"], "The fee's share"),
        fee_fixed_minor=read_money(row["fixed"], currency),
    )


def _prices(demo: Demo) -> dict[int, int | None]:
    prices = {
        unit.number: read_money(unit.price, demo.currency) if unit.price else None for unit in demo.units
    }
    return {**prices, **_shared(demo, "price")}


def _freights(demo: Demo) -> dict[int, int]:
    """What bringing each unit of a lot here cost, shared like the lot's price."""
    return _shared(demo, "freight")


def _shared(demo: Demo, what: str) -> dict[int, int]:
    """Each unit's share of an amount of its lot."""
    shared: dict[int, int] = {}
    for lot in demo.trade.lots:
        numbers = units_of_lot(demo.trade, lot["name"])
        bought = [demo.trade.purchases[number] for number in numbers]
        expected = [read_money(one.expected, demo.currency) for one in bought]
        weights = lot_weights(expected, [one.donor == "yes" for one in bought])
        shares = share_lot(read_money(lot[what] or "0", demo.currency), weights)
        shared.update(zip(numbers, shares, strict=True))
    return shared
