"""What can hurt, said by command: in a task of a unit or of a route, or with a consumable."""

from __future__ import annotations

from typing import Annotated

import typer

from bench.commands.named import task_named, the_one
from bench.commands.opening import desk_for
from bench.commands.printing import say
from bench.domain.safety import HAZARD_NAMES, HAZARDS, NO_HAZARD
from bench.errors import BadInput

_KINDS = ", ".join(("none", *HAZARDS))


def hazard(
    ctx: typer.Context,
    name: Annotated[str, typer.Argument(metavar="NAME", help="The task or consumable, or how it begins.")],
    what: Annotated[
        str,
        typer.Argument(
            metavar="HAZARD", help=f'Of a task: {_KINDS}. Of a consumable: a line in words, "" for none.'
        ),
    ],
    tag: Annotated[str, typer.Option("--unit", metavar="TAG", help="It is a task of this unit.")] = "",
    route: Annotated[str, typer.Option(metavar="ROUTE", help="It is a task of this route.")] = "",
) -> None:
    """Say what can hurt in a task, or with a consumable."""
    if tag and route:
        raise BadInput("--unit and --route were both given.", "Give one of them.")
    words = (
        _of_a_units_task(ctx, tag, name, what)
        if tag
        else _of_a_routes_task(ctx, route, name, what)
        if route
        else _of_a_consumable(ctx, name, what)
    )
    say(words)


def _of_a_units_task(ctx: typer.Context, tag: str, name: str, what: str) -> str:
    from bench.views.particulars import unit_by_tag
    from bench.views.unit import read_unit
    from bench.work.hazards import set_task_hazard

    desk = desk_for(ctx, acts=True)
    sheet = read_unit(desk, unit_by_tag(desk, tag))
    task, kind = task_named(sheet, name), _kind(what)
    set_task_hazard(desk, task.task_id, kind)
    return f"{task.name} on {sheet.tag}: {HAZARD_NAMES[kind]}."


def _of_a_routes_task(ctx: typer.Context, route: str, name: str, what: str) -> str:
    from bench.commands.trade_names import route_named
    from bench.views.routes import read_route
    from bench.work.hazards import set_route_task_hazard

    desk = desk_for(ctx, acts=True)
    route_id = route_named(desk, route)
    if route_id is None:
        raise BadInput("The route is empty.", "Name one, or leave --route out.")
    sheet = read_route(desk, route_id)
    task = the_one(name, sheet.tasks, lambda one: one.name, f"task of route {sheet.name}")
    kind = _kind(what)
    set_route_task_hazard(desk, task.route_task_id, kind)
    return f"{task.name} of route {sheet.name}: {HAZARD_NAMES[kind]}."


def _of_a_consumable(ctx: typer.Context, name: str, what: str) -> str:
    from bench.views.stock import read_stock
    from bench.work.hazards import set_consumable_hazard

    desk = desk_for(ctx, acts=True)
    line = the_one(name, read_stock(desk).lines, lambda one: one.name, "consumable")
    set_consumable_hazard(desk, line.consumable_id, what)
    return f"{line.name}: {what.strip() or 'no caution'}."


def _kind(typed: str) -> str:
    """The kind meant: its code, with a hyphen or space too, or none."""
    code = "_".join(typed.casefold().replace("-", " ").split())
    return NO_HAZARD if code == "none" else code
