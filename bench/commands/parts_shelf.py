"""The shelf of parts: what lies there, where, and what leaves the shop from it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from bench.commands.arguments import AsJson
from bench.commands.opening import desk_for
from bench.commands.printing import say, say_json, say_sheet
from bench.errors import BadInput, NotFound

if TYPE_CHECKING:
    from bench.desk import Desk
    from bench.domain.orders import PartGone


def shelf(
    ctx: typer.Context,
    number: Annotated[
        int | None, typer.Argument(metavar="NUMBER", help="The part's number on the shelf.")
    ] = None,
    sell: Annotated[str, typer.Option(metavar="AMOUNT", help="Sell it for so much.")] = "",
    scrap: Annotated[str, typer.Option(metavar="REASON", help="Throw it away, and why.")] = "",
    place: Annotated[str | None, typer.Option(metavar="TEXT", help="Where it lies.")] = None,
    maker_number: Annotated[
        str | None, typer.Option("--number", metavar="TEXT", help="The maker's number of it.")
    ] = None,
    note: Annotated[str, typer.Option(metavar="TEXT", help="Anything else, with --sell.")] = "",
    gone: Annotated[bool, typer.Option("--gone", help="Show what has gone from it.")] = False,
    as_json: AsJson = False,
) -> None:
    """Show the shelf of parts, or sell or scrap one."""
    from bench.reports.lots import shelf_json, shelf_text
    from bench.views.parts import read_shelf

    placed = place is not None or maker_number is not None
    ways = [bool(sell), bool(scrap), placed]
    one = number is not None
    if sum(ways) != one or (gone and one):
        raise BadInput(
            "One part and one thing to do with it are needed.",
            "Give its number, and --sell, --scrap or --place.",
        )
    desk = desk_for(ctx, acts=number is not None)
    if gone:
        _say_all_gone(desk, as_json)
        return
    if number is None:
        found = read_shelf(desk)
        say_sheet(shelf_json(found) if as_json else shelf_text(found))
        return
    from bench.work import components

    line = next((one for one in read_shelf(desk).lines if one.part_id == number), None)
    if line is None:
        raise NotFound(f"No part on the shelf has the number {number}.", "Look at the list: bench shelf.")
    if sell:
        _say_gone(desk, components.sell_part(desk, line.component_id, price_text=sell, note=note), as_json)
    elif scrap:
        _say_gone(desk, components.scrap_part(desk, line.component_id, reason=scrap), as_json)
    else:
        where = line.place if place is None else place
        components.place_part(desk, line.component_id, place=where, maker_number=maker_number)
        say(f"{line.name} lies at {where}." if where else f"{line.name}: kept.")


def _say_all_gone(desk: Desk, as_json: bool) -> None:
    from bench.reports.lots import gone_json, gone_text
    from bench.views.gone_parts import read_gone_parts

    found = read_gone_parts(desk)
    say_sheet(gone_json(found) if as_json else gone_text(found))


def _say_gone(desk: Desk, part: PartGone, as_json: bool) -> None:
    from bench.reports.orders import gone_words

    if as_json:
        say_json(desk, "part_gone", part)
    else:
        say(gone_words(part))
