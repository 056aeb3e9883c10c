"""What a model fetched before, and the three ways on for a unit with a fault."""

from __future__ import annotations

from typing import Annotated

import typer

from bench.commands.arguments import AsJson, Tag
from bench.commands.opening import desk_for
from bench.commands.printing import say_sheet
from bench.errors import BadInput


def past_prices(
    ctx: typer.Context,
    tag: Annotated[str | None, typer.Argument(metavar="TAG", help="A unit of the model.")] = None,
    model: Annotated[str, typer.Option(metavar="MODEL", help="The model, where no unit is here.")] = "",
    maker: Annotated[str, typer.Option(metavar="MAKER", help="Its maker.")] = "",
    as_json: AsJson = False,
) -> None:
    """Show what units of a model fetched, and the cost of waiting."""
    from bench.reports.three_ways import own_prices_json, own_prices_text
    from bench.views.own_prices import read_model_prices, read_own_prices
    from bench.views.particulars import unit_by_tag

    if (tag is None) == (not model):
        raise BadInput("Which model is meant?", "Give a unit's tag, or --model with its name.")
    desk = desk_for(ctx)
    if tag is None:
        prices = read_model_prices(desk, maker, model)
    else:
        prices = read_own_prices(desk, unit_by_tag(desk, tag))
    say_sheet(own_prices_json(prices) if as_json else own_prices_text(prices))


def compare(
    ctx: typer.Context,
    tag: Tag,
    as_is: Annotated[str, typer.Option(metavar="AMOUNT", help="What it fetches as it is.")] = "",
    in_parts: Annotated[str, typer.Option(metavar="AMOUNT", help="What it fetches in parts.")] = "",
    takes: Annotated[str, typer.Option("--time", metavar="TIME", help="The hands-on time until then.")] = "",
    note: Annotated[str, typer.Option(metavar="TEXT", help="What that rests on.")] = "",
    as_json: AsJson = False,
) -> None:
    """Compare repairing a unit with selling it as is or in parts."""
    from bench.domain.three_ways import AS_IS, PART_OUT
    from bench.reports.three_ways import three_ways_json, three_ways_text
    from bench.views.particulars import unit_by_tag
    from bench.views.three_ways import read_three_ways

    if as_is and in_parts:
        raise BadInput("--as-is and --in-parts were both given.", "Give one of them at a time.")
    if (takes or note) and not (as_is or in_parts):
        raise BadInput("Which way is meant?", "Give --as-is or --in-parts with an amount.")
    desk = desk_for(ctx, acts=bool(as_is or in_parts))
    unit_id = unit_by_tag(desk, tag)
    if as_is or in_parts:
        from bench.work.way_estimates import set_way_estimate

        way = AS_IS if as_is else PART_OUT
        set_way_estimate(desk, unit_id, way, price_text=as_is or in_parts, minutes_text=takes, note=note)
    found = read_three_ways(desk, unit_id)
    say_sheet(three_ways_json(found) if as_json else three_ways_text(found))
