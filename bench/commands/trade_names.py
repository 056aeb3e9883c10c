"""What a person means by the name of a route or channel, and who is bought from."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from bench.commands.named import the_one
from bench.domain.party import PartyTyped
from bench.domain.text import quoted
from bench.errors import BadInput

if TYPE_CHECKING:
    from bench.desk import Desk

Seller = Annotated[str, typer.Option(metavar="NAME", help="Who sells it.")]
SellerAddress = Annotated[str, typer.Option("--address", metavar="TEXT", help="Where the seller lives.")]
SellerFirm = Annotated[
    bool, typer.Option("--firm", help="The seller is a firm: its data are never due for erasing.")
]
SellerPaper = Annotated[
    str, typer.Option("--paper", metavar="TEXT", help="Which paper of theirs was seen, where a code asks.")
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
