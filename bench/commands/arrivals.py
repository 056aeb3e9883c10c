"""What was ordered arrives, or is the wrong part or broken, is sent back and refunded."""

from __future__ import annotations

from typing import Annotated

import typer

from bench.commands.arguments import AsJson
from bench.commands.opening import desk_for
from bench.commands.orders import Note, Number, say_told


def arrived(
    ctx: typer.Context,
    number: Number,
    price: Annotated[str, typer.Option(metavar="AMOUNT", help="What it cost; else as ordered.")] = "",
    freight: Annotated[str, typer.Option(metavar="AMOUNT", help="What sending cost; else as ordered.")] = "",
    serial: Annotated[str, typer.Option(metavar="TEXT", help="Its serial number.")] = "",
    place: Annotated[str, typer.Option(metavar="TEXT", help="Where on the shelf it lies.")] = "",
    on: Annotated[str, typer.Option("--on", metavar="DAY", help="When it came; else today.")] = "",
    expires: Annotated[str, typer.Option(metavar="DAY", help="Use by, of a consumable.")] = "",
    found: Annotated[str, typer.Option(metavar="WORD", help="Wrong or broken, where it is that.")] = "",
    note: Note = "",
    as_json: AsJson = False,
) -> None:
    """Take in what was ordered, with its cost."""
    from bench.work.arrivals import take_in

    desk = desk_for(ctx, acts=True)
    told = take_in(
        desk,
        number,
        price_text=price,
        freight_text=freight,
        serial=serial,
        place=place,
        arrived_text=on,
        expires_text=expires,
        found=found,
        note=note,
    )
    say_told(desk, told, as_json)


def wrong_part(
    ctx: typer.Context,
    number: Number,
    found: Annotated[str, typer.Argument(metavar="WORD", help="Wrong or broken.")],
    note: Annotated[str, typer.Option(metavar="TEXT", help="What is the matter with it.")] = "",
    owed: Annotated[str, typer.Option(metavar="AMOUNT", help="What is owed; else price and freight.")] = "",
    as_json: AsJson = False,
) -> None:
    """Say that a part that came is the wrong one or broken."""
    from bench.work.arrivals import complain as say_faulty

    desk = desk_for(ctx, acts=True)
    say_told(desk, say_faulty(desk, number, found=found, note=note, owed_text=owed), as_json)


def send_back(
    ctx: typer.Context,
    number: Number,
    on: Annotated[str, typer.Option("--on", metavar="DAY", help="When it was sent; else today.")] = "",
    note: Note = "",
    as_json: AsJson = False,
) -> None:
    """Send a wrong or broken part back to its supplier."""
    from bench.work.arrivals import send_back as send

    desk = desk_for(ctx, acts=True)
    say_told(desk, send(desk, number, sent_text=on, note=note), as_json)


def refunded(
    ctx: typer.Context,
    number: Number,
    amount: Annotated[str, typer.Argument(metavar="AMOUNT", help="What came back; 0 for nothing.")],
    note: Note = "",
    as_json: AsJson = False,
) -> None:
    """Take in what a supplier gave back for a part."""
    from bench.work.arrivals import refund_order

    desk = desk_for(ctx, acts=True)
    say_told(desk, refund_order(desk, number, refund_text=amount, note=note), as_json)
