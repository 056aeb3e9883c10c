"""Before buying: the most to pay, offers looked at, buying one, where a unit came from."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from bench.commands.arguments import AsJson, Tag
from bench.commands.channels import (
    Seller,
    SellerAddress,
    SellerFirm,
    SellerPaper,
    channel_named,
    route_named,
    seller_from,
)
from bench.commands.opening import desk_for
from bench.commands.printing import say, say_json, say_sheet
from bench.errors import BadInput

if TYPE_CHECKING:
    from bench.views.purchase import UnitPurchase


def most_to_pay(
    ctx: typer.Context,
    expected: Annotated[str, typer.Argument(metavar="AMOUNT", help="The unit's expected price.")],
    route: Annotated[str, typer.Option(metavar="NAME", help="The route it will need.")] = "",
    channel: Annotated[str, typer.Option(metavar="NAME", help="Where it will be sold.")] = "",
    parts: Annotated[str, typer.Option(metavar="AMOUNT", help="What its parts will cost.")] = "",
    premium: Annotated[
        str, typer.Option(metavar="PERCENT", help="A buyer's premium on the price, as at an auction.")
    ] = "",
    freight: Annotated[str, typer.Option(metavar="AMOUNT", help="What bringing it here costs.")] = "",
    shipping: Annotated[
        str, typer.Option(metavar="AMOUNT", help="What sending it to its buyer costs; 0 for nothing.")
    ] = "",
    asked: Annotated[str, typer.Option(metavar="AMOUNT", help="What the seller asks.")] = "",
    margin: Annotated[
        str, typer.Option(metavar="AMOUNT", help="The margin wanted, if not as in the settings.")
    ] = "",
    reserve: Annotated[
        str, typer.Option(metavar="PERCENT", help="The risk reserve, if not as in the settings.")
    ] = "",
    rows: Annotated[
        str,
        typer.Option(metavar="LINE", help="Show the rows behind fees, consumables, time, reserve or margin."),
    ] = "",
    as_json: AsJson = False,
) -> None:
    """Calculate the most to pay for a unit."""
    from bench.reports.offers import price_json, price_rows_text, price_text
    from bench.views.most_to_pay import read_most_to_pay
    from bench.views.price_rows import read_price_rows

    desk = desk_for(ctx)
    route_id, channel_id = route_named(desk, route), channel_named(desk, channel)
    if rows:
        found = read_price_rows(desk, rows.strip().casefold(), route_id=route_id, channel_id=channel_id)
        if as_json:
            say_json(desk, "price_rows", found)
        else:
            say_sheet(price_rows_text(found))
        return
    sheet = read_most_to_pay(
        desk,
        expected_text=expected,
        route_id=route_id,
        channel_id=channel_id,
        parts_text=parts,
        premium_text=premium,
        freight_text=freight,
        shipping_text=shipping,
        reserve_text=reserve,
        wanted_text=margin,
        asking_text=asked,
    )
    say_sheet(price_json(sheet) if as_json else price_text(sheet))


def buy(
    ctx: typer.Context,
    number: Annotated[int, typer.Argument(metavar="OFFER", help="The offer's number.")],
    paid: Annotated[str, typer.Argument(metavar="PRICE", help="What was paid, without a premium.")],
    premium: Annotated[
        str | None, typer.Option(metavar="PERCENT", help="The buyer's premium, if not as in the offer.")
    ] = None,
    freight: Annotated[
        str | None, typer.Option(metavar="AMOUNT", help="What bringing it here cost, if not as in the offer.")
    ] = None,
    shipping: Annotated[
        str | None, typer.Option(metavar="AMOUNT", help="Sending it to its buyer, if not as in the offer.")
    ] = None,
    tag: Annotated[str, typer.Option(metavar="TAG", help="A tag of your own; else the next number.")] = "",
    due: Annotated[str, typer.Option(metavar="DAY", help="When it must be ready: 2026-11-30 or +14.")] = "",
    on: Annotated[str, typer.Option(metavar="DAY", help="When, if not today: 2026-11-20.")] = "",
    invoice: Annotated[str, typer.Option(metavar="TEXT", help="The invoice's number.")] = "",
    again: Annotated[str, typer.Option(metavar="REASON", help="Why, if it seems to be here already.")] = "",
    as_json: AsJson = False,
) -> None:
    """Buy what was offered: it goes into the queue as typed."""
    from bench.work.buying import buy_offer

    desk = desk_for(ctx, acts=True)
    added = buy_offer(
        desk,
        number,
        price_text=paid,
        premium_text=premium,
        freight_text=freight,
        shipping_text=shipping,
        tag_text=tag,
        due_text=due,
        bought_on_text=on,
        invoice=invoice,
        again=again,
    )
    if as_json:
        say_json(desk, "bought", added)
    else:
        say(f"Bought as {added.tag} with {added.tasks} task{'' if added.tasks == 1 else 's'}.")


def bought(
    ctx: typer.Context,
    tag: Tag,
    expected: Annotated[str | None, typer.Option(metavar="AMOUNT", help="Its expected price.")] = None,
    on: Annotated[str | None, typer.Option(metavar="DAY", help="When it was bought.")] = None,
    invoice: Annotated[str | None, typer.Option(metavar="TEXT", help="The invoice's number.")] = None,
    premium: Annotated[
        str | None, typer.Option(metavar="AMOUNT", help="A buyer's premium on the price, as at an auction.")
    ] = None,
    freight: Annotated[str | None, typer.Option(metavar="AMOUNT", help="What bringing it here cost.")] = None,
    shipping: Annotated[
        str | None, typer.Option(metavar="AMOUNT", help="What sending it to its buyer is expected to cost.")
    ] = None,
    seller: Seller = "",
    address: SellerAddress = "",
    paper: SellerPaper = "",
    firm: SellerFirm = False,
    as_json: AsJson = False,
) -> None:
    """Show where a unit came from and its expected price."""
    from bench.domain.money import show_money
    from bench.views.particulars import unit_by_tag
    from bench.views.purchase import read_purchase
    from bench.work.purchases import edit_purchase

    who = seller_from(seller, address, paper, firm)
    acts = who is not None or any(
        text is not None for text in (expected, on, invoice, premium, freight, shipping)
    )
    if firm and who is None:
        raise BadInput("--business was given without --seller.", "Say who it is.")
    desk = desk_for(ctx, acts=acts)
    unit_id = unit_by_tag(desk, tag)
    found = read_purchase(desk, unit_id)
    if acts:
        known = found.expected_minor
        edit_purchase(
            desk,
            unit_id,
            expected_text=(show_money(known, found.currency) if known is not None else "")
            if expected is None
            else expected,
            bought_on_text=(found.bought_on.isoformat() if found.bought_on else "") if on is None else on,
            invoice=found.invoice if invoice is None else invoice,
            seller=who,
            premium_text=premium,
            freight_text=freight,
            shipping_text=shipping,
        )
        found = read_purchase(desk, unit_id)
    if as_json:
        say_json(desk, "purchase", found)
    else:
        _say_purchase(found)


def _say_purchase(found: UnitPurchase) -> None:
    from bench.domain.money import money_or

    def money(minor: int | None) -> str:
        return money_or(minor, found.currency)

    facts = {
        "Unit": f"{found.tag}{', donor' if found.donor else ''}",
        "Bought for": money(found.price_minor),
        "Lot": f"{found.lot_id} {found.lot}" if found.lot_id is not None else "",
        "On": found.bought_on.isoformat() if found.bought_on else "",
        "From": found.seller,
        "Invoice": found.invoice,
        "Expected": money(found.expected_minor),
        "Premium": money(found.premium_minor or None),
        "Freight": money(found.freight_minor or None),
        "Shipping": f"{money(found.shipping_minor)} expected" if found.shipping_minor is not None else "",
        "Waiting period": f"until {found.free_from}; local code first" if found.free_from else "",
    }
    for name, value in facts.items():
        if value:
            say(f"{name:<16}{value}")
    for one in found.findings:
        if one.seen:
            say(f"Seen: {one.label}{f': {one.words}' if one.words else ''}")
