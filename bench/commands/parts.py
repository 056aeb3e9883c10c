"""Parts: bought, taken out of a unit, fitted from the shelf, swapped."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from bench.commands import completing
from bench.commands.arguments import AsJson
from bench.commands.opening import desk_for
from bench.commands.printing import say, say_json, say_sheet
from bench.errors import BadInput

if TYPE_CHECKING:
    from bench.desk import Desk
    from bench.domain.parts import PartMoved


def part(
    ctx: typer.Context,
    tag: Annotated[
        str | None, typer.Argument(metavar="TAG", help="The unit it goes into; alone, its parts.")
    ] = None,
    name: Annotated[str | None, typer.Argument(metavar="PART", help="What it is, such as battery.")] = None,
    cost: Annotated[str, typer.Option(metavar="AMOUNT", help="The cost it carries; 0 for none.")] = "",
    giver: Annotated[
        str, typer.Option("--from", metavar="TAG", help="The unit it comes out of; else it was bought.")
    ] = "",
    out: Annotated[bool, typer.Option("--out", help="It comes out of the unit, to the shelf.")] = False,
    shelf: Annotated[
        int | None, typer.Option("--shelf", metavar="NUMBER", help="Fit the part of this number off it.")
    ] = None,
    swap: Annotated[str, typer.Option(metavar="TAG", help="Swap it for the like part of this unit.")] = "",
    back: Annotated[str, typer.Option(metavar="AMOUNT", help="The cost of the part swapped in.")] = "",
    worth: Annotated[
        str, typer.Option(metavar="AMOUNT", help="Suggest a cost for a part of the unit worth so much.")
    ] = "",
    serial: Annotated[str, typer.Option(metavar="TEXT", help="Its serial number.")] = "",
    supplier: Annotated[str, typer.Option(metavar="NAME", help="Who it was bought from.")] = "",
    note: Annotated[str, typer.Option(metavar="TEXT", help="Anything else.")] = "",
    again: Annotated[str, typer.Option(metavar="REASON", help="Why, if it seems in or out already.")] = "",
    drive: Annotated[
        str,
        typer.Option(
            metavar="DRIVE",
            help="Which drive it is, such as d7; none for none of them.",
            autocompletion=completing.drives,
        ),
    ] = "",
    back_drive: Annotated[str, typer.Option(metavar="DRIVE", help="The same of the part swapped in.")] = "",
    as_json: AsJson = False,
) -> None:
    """Show parts or the shelf, or move a part with its cost.

    Without a TAG, the shelf. A part is bought for the unit unless --from, --out,
    --shelf or --swap says otherwise.
    """
    ways = [bool(giver), out, shelf is not None, bool(swap), bool(worth)]
    if sum(ways) > 1:
        raise BadInput("Only one way of a part can be given.", "Choose --from, --out, --shelf or --swap.")
    if tag is None:
        _say_shelf(ctx, as_json)
        return
    drives = (_drive(drive), _drive(back_drive))
    moves = name is not None or shelf is not None
    desk = desk_for(ctx, acts=moves)
    unit_id = _unit(desk, tag)
    if worth:
        _say_suggestion(desk, unit_id, worth, as_json)
    elif not moves:
        if any(ways) or cost:
            raise BadInput("What part is meant?", "Name it, such as battery.")
        _say_parts(desk, unit_id, as_json)
    elif swap:
        _swap(desk, unit_id, _unit(desk, swap), name or "", cost, back, serial, note, as_json, drives)
    else:
        from bench.work.parts import fit_from_shelf, fit_part, take_part

        which = drives[0]
        typed = {"name": name or "", "cost_text": cost, "serial": serial, "note": note}
        if shelf is not None:
            moved = fit_from_shelf(desk, shelf, unit_id, drive_id=which)
        elif out:
            moved = take_part(desk, unit_id, **typed, to_unit_id=None, drive_id=which, again=again)
        elif giver:
            giver_id = _unit(desk, giver)
            moved = take_part(desk, giver_id, **typed, to_unit_id=unit_id, drive_id=which, again=again)
        else:
            moved = fit_part(desk, unit_id, **typed, supplier=supplier, drive_id=which, again=again)
        _say_moved(desk, moved, as_json)


def _drive(text: str) -> int | None:
    """The drive named as in d7, 0 where it is said that it is none of them, None where nothing is said."""
    from bench.commands.wiping import drive_number

    if not text.strip():
        return None
    return 0 if text.strip().casefold() == "none" else drive_number(text)


def _unit(desk: Desk, tag: str) -> int:
    from bench.views.particulars import unit_by_tag

    return unit_by_tag(desk, tag)


def _say_shelf(ctx: typer.Context, as_json: bool) -> None:
    from bench.reports.lots import shelf_json, shelf_text
    from bench.views.parts import read_shelf

    found = read_shelf(desk_for(ctx))
    say_sheet(shelf_json(found) if as_json else shelf_text(found))


def _say_parts(desk: Desk, unit_id: int, as_json: bool) -> None:
    from bench.reports.lots import parts_json, parts_text
    from bench.views.parts import read_parts

    found = read_parts(desk, unit_id)
    say_sheet(parts_json(found) if as_json else parts_text(found))


def _say_suggestion(desk: Desk, unit_id: int, worth: str, as_json: bool) -> None:
    from bench.domain.money import show_money
    from bench.reports.plain_values import json_text
    from bench.views.parts import read_part_cost, read_parts

    cost, unit = read_part_cost(desk, unit_id, worth), read_parts(desk, unit_id)
    if as_json:
        say_sheet(json_text("part_cost", {"cost_minor": cost, "currency": unit.currency}))
    else:
        left = show_money(unit.left_minor, unit.currency)
        say(f"Its share of the {left} left on {unit.tag} is {show_money(cost, unit.currency)}.")


def _swap(
    desk: Desk,
    unit_id: int,
    other_id: int,
    name: str,
    cost: str,
    back: str,
    serial: str,
    note: str,
    as_json: bool,
    drives: tuple[int | None, int | None],
) -> None:
    from bench.domain.money import show_money
    from bench.work.parts import swap_parts

    swapped = swap_parts(
        desk,
        unit_id,
        other_id,
        name=name,
        cost_a_text=cost,
        cost_b_text=back,
        serial_a=serial,
        note=note,
        drive_a_id=drives[0],
        drive_b_id=drives[1],
    )
    if as_json:
        say_json(desk, "swapped", swapped)
        return
    for tag, left in ((swapped.tag_a, swapped.left_a_minor), (swapped.tag_b, swapped.left_b_minor)):
        say(f"Swapped {swapped.name}; {show_money(left, swapped.currency)} of cost left on {tag}.")


def _say_moved(desk: Desk, moved: PartMoved, as_json: bool) -> None:
    from bench.domain.money import show_money

    if as_json:
        say_json(desk, "part_moved", moved)
        return
    out = f" out of {moved.from_tag}" if moved.from_tag else ""
    into = f" into {moved.to_tag}" if moved.to_tag else " to the shelf"
    say(f"{moved.name}{out}{into}, carrying {show_money(moved.cost_minor, moved.currency)}.")
    if moved.from_left_minor is not None:
        say(f"{show_money(moved.from_left_minor, moved.currency)} of cost left on {moved.from_tag}.")
