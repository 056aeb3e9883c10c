"""Owners: whose a unit is that was brought in for repair."""

from __future__ import annotations

from typing import Annotated

import typer

from bench.commands.arguments import Tag
from bench.commands.opening import desk_for
from bench.commands.printing import say
from bench.errors import BadInput


def owner(
    ctx: typer.Context,
    tag: Tag,
    name: Annotated[str, typer.Argument(metavar="NAME", help="Whose it is; without it, shown.")] = "",
    contact: Annotated[str, typer.Option(metavar="TEXT", help="How to reach its owner.")] = "",
    shops: Annotated[bool, typer.Option("--shops", help="It is the shop's own, and nobody else's.")] = False,
) -> None:
    """Show or set right whose a unit is that was brought in."""
    from bench.domain.party import PartyTyped
    from bench.views.particulars import unit_by_tag
    from bench.views.unit import read_unit
    from bench.work.owners import set_owner

    if shops and (name or contact):
        raise BadInput("An owner and --shops were both given.", "Give one of them.")
    acts = bool(shops or name or contact)
    desk = desk_for(ctx, acts=acts)
    unit_id = unit_by_tag(desk, tag)
    if acts:
        set_owner(desk, unit_id, PartyTyped(name, "", contact))
    sheet = read_unit(desk, unit_id)
    known = ", ".join(word for word in (sheet.owner, sheet.owner_contact) if word)
    whose = known or "the shop's own"
    say(f"{sheet.tag}: {whose}")
