"""Channels and routes to choose from, and what is typed of the people traded with."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from bench.domain.money import show_money
from bench.domain.party import PartyTyped
from bench.domain.percent import show_percent
from bench.views.routes import RouteLine
from bench.views.shop import StageLine
from bench.views.trade import ChannelLine


def channel_choices(channels: Sequence[ChannelLine], currency: str) -> tuple[tuple[str, str], ...]:
    """Each channel with its fees."""
    return tuple((str(one.channel_id), f"{one.name}  ({fee_words(one, currency)})") for one in channels)


def fee_words(channel: ChannelLine, currency: str) -> str:
    """What a channel takes, such as 10 % and 0.35 EUR."""
    fees = [show_percent(channel.fee_per_10000)] if channel.fee_per_10000 else []
    fees += [show_money(channel.fee_fixed_minor, currency)] if channel.fee_fixed_minor else []
    return " and ".join(fees) or "no fees"


def route_names(routes: Sequence[RouteLine]) -> tuple[tuple[str, str], ...]:
    """Each route by its name alone."""
    return tuple((str(one.route_id), one.name) for one in routes)


def stage_choices(stages: Sequence[StageLine]) -> tuple[tuple[str, str], ...]:
    """The stages at which work goes on."""
    return tuple((str(one.stage_id), one.name) for one in stages if not one.final)


def party_typed(values: Mapping[str, str], *, private: bool) -> PartyTyped | None:
    """Who was typed into name, address, contact and paper seen; None where nothing was."""
    name, address, contact, seen = (
        values.get(name, "").strip() for name in ("name", "address", "contact", "identity_seen")
    )
    if not any((name, address, contact, seen)):
        return None
    return PartyTyped(name, address, contact, seen, private)
