"""Offers: a unit looked at before paying, recorded, corrected, declined."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Annotated

import typer

from bench.commands.arguments import AsJson
from bench.commands.channels import (
    Seller,
    SellerAddress,
    SellerFirm,
    SellerPaper,
    channel_named,
    parted,
    route_named,
    seller_from,
)
from bench.commands.opening import desk_for
from bench.commands.printing import say_sheet
from bench.errors import BadInput

if TYPE_CHECKING:
    from bench.desk import Desk
    from bench.domain.offers import OfferTyped
    from bench.views.offers import Offer

Text = str | None


def offer(
    ctx: typer.Context,
    number: Annotated[
        int | None, typer.Argument(metavar="NUMBER", help="One offer; without it, those still open.")
    ] = None,
    new: Annotated[Text, typer.Option("--new", metavar="MODEL", help="Record a new one.")] = None,
    model: Annotated[Text, typer.Option(metavar="TEXT", help="What it is, corrected.")] = None,
    maker: Annotated[Text, typer.Option(metavar="NAME", help="Who made it.")] = None,
    serial: Annotated[Text, typer.Option(metavar="TEXT", help="Its serial number.")] = None,
    expected: Annotated[Text, typer.Option(metavar="AMOUNT", help="Its expected price.")] = None,
    asked: Annotated[Text, typer.Option(metavar="AMOUNT", help="What the seller asks.")] = None,
    parts: Annotated[Text, typer.Option(metavar="AMOUNT", help="What its parts will cost.")] = None,
    premium: Annotated[
        Text, typer.Option(metavar="PERCENT", help="A buyer's premium on the price, as at an auction.")
    ] = None,
    freight: Annotated[Text, typer.Option(metavar="AMOUNT", help="What bringing it here costs.")] = None,
    shipping: Annotated[
        Text, typer.Option(metavar="AMOUNT", help="What sending it to its buyer costs; 0 for nothing.")
    ] = None,
    route: Annotated[Text, typer.Option(metavar="NAME", help="The route it will need.")] = None,
    channel: Annotated[Text, typer.Option(metavar="NAME", help="Where it will be sold.")] = None,
    note: Annotated[Text, typer.Option(metavar="TEXT", help="Anything else.")] = None,
    saw: Annotated[
        list[str] | None,
        typer.Option(
            metavar="ITEM=WORDS", help='What was looked at, such as "battery=81 %"; words may be left out.'
        ),
    ] = None,
    seller: Seller = "",
    address: SellerAddress = "",
    paper: SellerPaper = "",
    firm: SellerFirm = False,
    leave: Annotated[bool, typer.Option("--decline", help="Decline it.")] = False,
    reason: Annotated[str, typer.Option(metavar="TEXT", help="Why you decline it.")] = "",
    everything: Annotated[bool, typer.Option("--all", help="List those bought and declined too.")] = False,
    as_json: AsJson = False,
) -> None:
    """Record, show or decline a unit looked at before paying."""
    from bench.domain.offers import OfferTyped

    if new is not None and number is not None:
        raise BadInput("A number and --new were both given.", "Give one of them.")
    name = model if new is None else new
    given = (name, maker, serial, expected, asked, parts, premium, freight, shipping, note, route, channel)
    who = seller_from(seller, address, paper, firm)
    edits = bool(saw or who) or any(text is not None for text in given)
    desk = desk_for(ctx, acts=leave or edits)
    if number is None and new is None:
        if edits or leave:
            raise BadInput("Which offer is meant?", "Give its number, or --new MODEL.")
        _say_offers(desk, everything, as_json)
        return
    start = OfferTyped("", "") if number is None else _as_typed(desk, number)
    if edits:
        typed = replace(
            start,
            model=_or(name, start.model),
            maker=_or(maker, start.maker),
            serial=_or(serial, start.serial),
            expected_text=_or(expected, start.expected_text),
            asking_text=_or(asked, start.asking_text),
            parts_text=_or(parts, start.parts_text),
            premium_text=_or(premium, start.premium_text),
            freight_text=_or(freight, start.freight_text),
            shipping_text=_or(shipping, start.shipping_text),
            note=_or(note, start.note),
            seller=who,
        )
        number = _keep(desk, number, _with_named(desk, typed, route, channel, saw or []), leave, reason)
    elif leave and number is not None:
        from bench.work.buying import leave_offer

        leave_offer(desk, number, reason)
    assert number is not None  # a new one has its number now
    _say_offer(desk, number, as_json)


def _or(text: Text, before: str) -> str:
    return before if text is None else text


def _with_named(desk: Desk, typed: OfferTyped, route: Text, channel: Text, saw: list[str]) -> OfferTyped:
    """The offer with its route, its channel and what was seen, each of which is named by its beginning."""
    if route is not None:
        typed = replace(typed, route_id=route_named(desk, route))
    if channel is not None:
        typed = replace(typed, channel_id=channel_named(desk, channel))
    return replace(typed, findings={**typed.findings, **dict(_finding(one) for one in saw)})


def _keep(desk: Desk, number: int | None, typed: OfferTyped, leave: bool, reason: str) -> int:
    from bench.work.buying import edit_offer, keep_and_leave, save_offer

    if leave:
        return keep_and_leave(desk, number, typed, reason)
    if number is None:
        return save_offer(desk, typed)
    edit_offer(desk, number, typed)
    return number


def _finding(text: str) -> tuple[str, str]:
    from bench.commands.named import the_one
    from bench.domain.offers import TABLE_ITEMS

    name, words = parted(text, "battery=81 %") if "=" in text else (text, "")
    code = name.strip().casefold().replace("-", "_")
    if code not in TABLE_ITEMS:
        code = the_one(name, list(TABLE_ITEMS), lambda item: TABLE_ITEMS[item], "line of the list")
    return code, words


def _as_typed(desk: Desk, number: int) -> OfferTyped:
    """An offer as it would have to be typed to stand as it does."""
    from bench.domain.money import money_or, show_money
    from bench.domain.offers import OfferTyped
    from bench.domain.percent import percent_or
    from bench.views.offers import read_offer

    kept: Offer = read_offer(desk, number)
    asking = money_or(kept.asking_minor, kept.currency)
    return OfferTyped(
        model=kept.model,
        expected_text=show_money(kept.expected_minor, kept.currency),
        maker=kept.maker,
        serial=kept.serial,
        note=kept.note,
        route_id=kept.route_id,
        channel_id=kept.channel_id,
        asking_text=asking,
        parts_text=show_money(kept.parts_minor, kept.currency),
        premium_text=percent_or(kept.premium_per_10000),
        freight_text=money_or(kept.freight_minor, kept.currency),
        shipping_text=money_or(kept.shipping_minor, kept.currency),
        findings={one.item: one.words for one in kept.findings if one.seen},
    )


def _say_offers(desk: Desk, everything: bool, as_json: bool) -> None:
    from bench.domain.offers import OPEN
    from bench.reports.offers import offers_json, offers_text
    from bench.views.offers import read_offers

    found = read_offers(desk, None if everything else OPEN)
    say_sheet(offers_json(found) if as_json else offers_text(found))


def _say_offer(desk: Desk, number: int, as_json: bool) -> None:
    from bench.reports.offers import offer_json, offer_text
    from bench.views.most_to_pay import read_offer_price
    from bench.views.offers import read_offer

    found, price = read_offer(desk, number), read_offer_price(desk, number)
    say_sheet(offer_json(found, price) if as_json else offer_text(found, price))
