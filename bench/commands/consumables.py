"""Consumables: levels, what was delivered, what was counted, and what can hurt."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from bench.commands.arguments import AsCsv, AsJson, Consumable, one_form
from bench.commands.named import task_named, the_one
from bench.commands.opening import desk_for
from bench.commands.printing import say, say_json, say_sheet
from bench.domain.safety import HAZARD_NAMES, HAZARDS, NO_HAZARD
from bench.domain.text import task_on
from bench.errors import BadInput

if TYPE_CHECKING:
    from bench.desk import Desk
    from bench.domain.stock_levels import StockLine


def stock(
    ctx: typer.Context,
    name: Annotated[
        str | None, typer.Argument(metavar="NAME", help="One consumable, to see its movements.")
    ] = None,
    as_csv: AsCsv = False,
    as_json: AsJson = False,
) -> None:
    """Show levels and days of cover, or a consumable's movements."""
    from bench.reports import stock_book as sheet
    from bench.views.stock import read_history, read_stock

    one_form(as_csv, as_json)
    desk = desk_for(ctx)
    if name is None:
        book = read_stock(desk)
        make = sheet.stock_json if as_json else sheet.stock_csv if as_csv else sheet.stock_text
        say_sheet(make(book))
    else:
        history = read_history(desk, _line(desk, name).consumable_id)
        make_one = sheet.history_json if as_json else sheet.history_csv if as_csv else sheet.history_text
        say_sheet(make_one(history))


def restock(
    ctx: typer.Context,
    name: Consumable,
    packs: Annotated[str, typer.Option(metavar="N", help="How many packs came.")] = "",
    quantity: Annotated[str, typer.Option(metavar="AMOUNT", help='Or how much, such as "500 ml".')] = "",
    price: Annotated[str, typer.Option(metavar="AMOUNT", help="What was paid for all of it.")] = "",
    supplier: Annotated[str, typer.Option(metavar="NAME", help="Who it came from.")] = "",
    day: Annotated[str, typer.Option("--date", metavar="DAY", help="When it came; else today.")] = "",
    expires: Annotated[str, typer.Option(metavar="DAY", help="Use by; else from its shelf life.")] = "",
    as_json: AsJson = False,
) -> None:
    """Book what was delivered of a consumable."""
    from bench.domain.quantities import show_quantity
    from bench.work.stock import restock as book_in

    desk = desk_for(ctx, acts=True)
    line = _line(desk, name)
    booked = book_in(
        desk,
        line.consumable_id,
        packs_text=packs,
        quantity_text=quantity,
        price_text=price,
        supplier=supplier,
        date_text=day,
        expires_text=expires,
    )
    if as_json:
        say_json(desk, "restocked", booked)
        return
    from bench.domain.money import show_money

    until = f", use by {booked.expires_on}" if booked.expires_on else ""
    say(
        f"Booked in {show_quantity(booked.quantity, booked.base_unit)} {booked.name} "
        f"for {show_money(booked.cost_minor, booked.currency)}{until}; "
        f"{show_quantity(booked.left, booked.base_unit)} on hand."
    )


def count(
    ctx: typer.Context,
    name: Consumable,
    quantity: Annotated[str, typer.Argument(metavar="QUANTITY", help='What is on hand, such as "120 ml".')],
    reason: Annotated[str, typer.Option(metavar="TEXT", help="Why it differs from the book.")],
    as_json: AsJson = False,
) -> None:
    """Set a consumable's level to what was counted, with a reason."""
    from bench.domain.quantities import show_quantity
    from bench.work.stock import count_stock

    desk = desk_for(ctx, acts=True)
    line = _line(desk, name)
    counted = count_stock(desk, line.consumable_id, quantity_text=quantity, reason=reason)
    if as_json:
        say_json(desk, "counted", counted)
        return
    found = show_quantity(counted.counted, counted.base_unit)
    book = show_quantity(counted.counted - counted.difference, counted.base_unit)
    low = " LOW: restock it." if counted.low else ""
    say(f"Counted {found} {counted.name}; the book said {book}.{low}")


def code(
    ctx: typer.Context,
    name: Consumable,
    code: Annotated[
        str | None, typer.Argument(metavar="CODE", help='Its EAN-13 or own code; "" for none.')
    ] = None,
) -> None:
    """Show or set a consumable's code for a scanner."""
    if code is None:
        line = _line(desk_for(ctx), name)
        say(f"{line.name} has the code {line.code}." if line.code else f"{line.name} has no code.")
        return
    from bench.work.consumables import set_code

    desk = desk_for(ctx, acts=True)
    line = _line(desk, name)
    kept = set_code(desk, line.consumable_id, code)
    say(f"{line.name} has the code {kept} now." if kept else f"{line.name} has no code any more.")


def _line(desk: Desk, name: str) -> StockLine:
    from bench.commands.named import the_one
    from bench.views.stock import read_stock

    return the_one(name, read_stock(desk).lines, lambda line: line.name, "consumable")


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
    return f"{task_on(task.name, sheet.tag)}: {HAZARD_NAMES[kind]}."


def _of_a_routes_task(ctx: typer.Context, route: str, name: str, what: str) -> str:
    from bench.commands.channels import route_named
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
