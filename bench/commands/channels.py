"""How the shop trades: its channels with their fees, its settings, and what is meant by their names."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from bench.commands.arguments import AsJson
from bench.commands.named import the_one
from bench.commands.opening import desk_for
from bench.commands.printing import CAUTION, say, say_json
from bench.domain.party import PartyTyped
from bench.domain.text import quoted
from bench.errors import BadInput

if TYPE_CHECKING:
    from bench.desk import Desk
    from bench.views.trade import TradeSettings

if TYPE_CHECKING:
    from bench.desk import Desk


Seller = Annotated[str, typer.Option(metavar="NAME", help="Who sells it.")]
SellerAddress = Annotated[str, typer.Option("--address", metavar="TEXT", help="Where the seller lives.")]
SellerFirm = Annotated[
    bool, typer.Option("--business", help="The seller is a business: its data are never due for erasing.")
]
SellerPaper = Annotated[
    str, typer.Option("--id-seen", metavar="TEXT", help="The proof of identity seen, where a code asks.")
]


def route_named(desk: Desk, text: str) -> int | None:
    """The number of the route so named; None for nothing typed."""
    if not text.strip():
        return None
    from bench.views.routes import read_routes

    return the_one(text, read_routes(desk), lambda line: line.name, "route").route_id


def channel_named(desk: Desk, text: str) -> int | None:
    """The number of the channel so named; None for nothing typed."""
    if not text.strip():
        return None
    from bench.views.trade import read_channels

    return the_one(text, read_channels(desk), lambda line: line.name, "channel").channel_id


def seller_from(name: str, address: str, paper: str, firm: bool) -> PartyTyped | None:
    """The seller as typed; None for nothing typed."""
    if not any((name, address, paper)):
        return None
    return PartyTyped(name, address, identity_seen=paper, private=not firm)


def parted(text: str, example: str) -> tuple[str, str]:
    """What stands before and behind the last = sign; BadInput, with an example, where there is none."""
    before, equals, behind = text.rpartition("=")
    if not equals:
        raise BadInput(f"{quoted(text)} has no = in it.", f'Write it as "{example}".')
    return before.strip(), behind.strip()


NOT_ADVICE = "Tax and waiting period are calculated as set here; that is not advice, local code comes first."
_ON_OFF = {"on": True, "off": False}


def channel(
    ctx: typer.Context,
    name: Annotated[
        str | None, typer.Argument(metavar="NAME", help="One channel; without it, a list of them.")
    ] = None,
    add: Annotated[bool, typer.Option("--add", help="Add it.")] = False,
    remove: Annotated[bool, typer.Option("--remove", help="Take it off the list.")] = False,
    rename: Annotated[str, typer.Option(metavar="NAME", help="Give it another name.")] = "",
    share: Annotated[
        str | None, typer.Option(metavar="PERCENT", help="Its fee as a share of the price.")
    ] = None,
    fixed: Annotated[str | None, typer.Option(metavar="AMOUNT", help="Its fee a sale.")] = None,
    as_json: AsJson = False,
) -> None:
    """Show where units are sold and its fees, or change that."""
    changes = add or remove or bool(rename) or share is not None or fixed is not None
    if changes and name is None:
        raise BadInput("Which channel is meant?", "Name it.")
    if add and (remove or rename):
        raise BadInput("--add does not go with --remove or --rename.", "Give one of them.")
    desk = desk_for(ctx, acts=changes)
    if name is not None and changes:
        _change(desk, name, add=add, remove=remove, rename=rename, share=share, fixed=fixed)
    _say_channels(desk, None if changes else name, as_json)


def trade(
    ctx: typer.Context,
    scheme: Annotated[str, typer.Option(metavar="on|off", help="Calculate margin tax.")] = "",
    tax: Annotated[str, typer.Option(metavar="PERCENT", help="The rate of the margin tax.")] = "",
    hold: Annotated[
        str,
        typer.Option("--waiting", metavar="DAYS", help="Days a bought unit stays unaltered."),
    ] = "",
    reserve: Annotated[str, typer.Option(metavar="PERCENT", help="Risk reserve in the most to pay.")] = "",
    margin: Annotated[str, typer.Option(metavar="AMOUNT", help="The margin wanted of a unit.")] = "",
    chance: Annotated[
        str, typer.Option(metavar="PERCENT", help="The most chance of a loss to take when buying.")
    ] = "",
    warranty: Annotated[str, typer.Option(metavar="DAYS", help="Warranty on what is sold.")] = "",
    keep: Annotated[
        str, typer.Option(metavar="YEARS", help="How long private people's data must be kept.")
    ] = "",
    as_json: AsJson = False,
) -> None:
    """Show or change the trading settings."""
    from bench.domain.money import show_money
    from bench.domain.percent import show_percent
    from bench.views.trade import read_trade
    from bench.work.trade import edit_trade

    changes = any((scheme, tax, hold, reserve, margin, chance, warranty, keep))
    desk = desk_for(ctx, acts=changes)
    found = read_trade(desk)
    if changes:
        if scheme and scheme.casefold() not in _ON_OFF:
            raise BadInput(f"--scheme {scheme} is not understood.", "Give on or off.")
        edit_trade(
            desk,
            margin_scheme=_ON_OFF[scheme.casefold()] if scheme else found.margin_scheme,
            margin_tax_text=tax or show_percent(found.margin_tax_per_10000),
            hold_days_text=hold or str(found.hold_days),
            keep_private_text=keep or str(found.keep_private_years),
            risk_reserve_text=reserve or show_percent(found.risk_reserve_per_10000),
            wanted_margin_text=margin or show_money(found.wanted_margin_minor, found.currency),
            warranty_text=warranty or str(found.warranty_days),
            loss_chance_text=chance or show_percent(found.loss_chance_per_10000),
        )
        found = read_trade(desk)
    if as_json:
        say_json(desk, "trade", found)
    else:
        _say_settings(found)


def _change(
    desk: Desk, name: str, *, add: bool, remove: bool, rename: str, share: str | None, fixed: str | None
) -> None:
    from bench.commands.named import the_one
    from bench.domain.money import show_money
    from bench.domain.percent import show_percent
    from bench.views.shop import read_shop
    from bench.views.trade import read_channels
    from bench.work.trade import add_channel, edit_channel, remove_channel

    if add:
        add_channel(desk, name, share_text=share or "", fixed_text=fixed or "")
        return
    line = the_one(name, read_channels(desk), lambda one: one.name, "channel")
    if remove:
        remove_channel(desk, line.channel_id)
        return
    edit_channel(
        desk,
        line.channel_id,
        name=rename or line.name,
        share_text=show_percent(line.fee_per_10000) if share is None else share,
        fixed_text=show_money(line.fee_fixed_minor, read_shop(desk).currency) if fixed is None else fixed,
    )


def _say_channels(desk: Desk, name: str | None, as_json: bool) -> None:
    from bench.commands.named import the_one
    from bench.domain.money import show_money
    from bench.domain.percent import show_percent
    from bench.views.shop import read_shop
    from bench.views.trade import read_channels

    lines = read_channels(desk)
    if name is not None:
        lines = (the_one(name, lines, lambda one: one.name, "channel"),)
    if as_json:
        say_json(desk, "channels", lines)
        return
    currency = read_shop(desk).currency
    for line in lines:
        fixed = show_money(line.fee_fixed_minor, currency)
        say(f"{line.name}: {show_percent(line.fee_per_10000)} of the price and {fixed} a sale")


def _say_settings(found: TradeSettings) -> None:
    from bench.domain.money import show_money
    from bench.domain.percent import show_percent

    tax = show_percent(found.margin_tax_per_10000)
    facts = {
        "Margin tax": f"on, {tax}" if found.margin_scheme else f"off ({tax} when on)",
        "Waiting period": f"{found.hold_days} days",
        "Risk reserve": show_percent(found.risk_reserve_per_10000),
        "Chance of loss": f"at most {show_percent(found.loss_chance_per_10000)} when buying",
        "Margin wanted": show_money(found.wanted_margin_minor, found.currency),
        "Warranty": f"{found.warranty_days} days",
        "Data kept": f"{found.keep_private_years} years after the last business",
    }
    for name, value in facts.items():
        say(f"{name:<16}{value}")
    say(NOT_ADVICE, style=CAUTION)
