"""What is wanted and ordered, the tasks that wait for it, and the suppliers."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from bench.commands.arguments import AsJson, Tag
from bench.commands.opening import desk_for
from bench.commands.printing import say, say_json, say_sheet
from bench.errors import BadInput

if TYPE_CHECKING:
    from bench.desk import Desk
    from bench.domain.orders import OrderTold

SHELF, STOCK = "shelf", "stock"
Number = Annotated[int, typer.Argument(metavar="NUMBER", help="The order's number, as bench order shows it.")]
Supplier = Annotated[str, typer.Option(metavar="NAME", help="Who it is bought from.")]
Price = Annotated[str, typer.Option(metavar="AMOUNT", help="What it costs.")]
Freight = Annotated[str, typer.Option(metavar="AMOUNT", help="What sending it here costs.")]
Ordered = Annotated[str, typer.Option("--on", metavar="DAY", help="When it was ordered; else today.")]
Due = Annotated[str, typer.Option(metavar="DAY", help="When it is due, such as 2026-12-01 or +3.")]
Note = Annotated[str, typer.Option(metavar="TEXT", help="Anything else.")]


def order(
    ctx: typer.Context,
    tag: Annotated[
        str | None,
        typer.Argument(metavar="TAG", help="The unit it is for; shelf for none, stock for a consumable."),
    ] = None,
    what: Annotated[str | None, typer.Argument(metavar="PART", help="The part, or the consumable.")] = None,
    supplier: Supplier = "",
    price: Price = "",
    freight: Freight = "",
    on: Ordered = "",
    due: Due = "",
    number: Annotated[str, typer.Option(metavar="TEXT", help="The maker's number of the part.")] = "",
    task: Annotated[
        list[str] | None, typer.Option(metavar="TASK", help="A task that waits for it; again for more.")
    ] = None,
    wanted: Annotated[bool, typer.Option("--wanted", help="It is wanted, and not ordered yet.")] = False,
    instead: Annotated[
        int | None, typer.Option(metavar="NUMBER", help="It comes in the place of this order.")
    ] = None,
    packs: Annotated[str, typer.Option(metavar="N", help="How many packs of a consumable.")] = "",
    quantity: Annotated[str, typer.Option(metavar="AMOUNT", help='Or how much of it, as "500 ml".')] = "",
    settled: Annotated[bool, typer.Option("--settled", help="Show those that are done with.")] = False,
    note: Note = "",
    as_json: AsJson = False,
) -> None:
    """Show what is on order, or order a part.

    Without a TAG, all that is under way; with it alone, the orders of the unit.
    """
    if tag is None or what is None:
        _say_orders(ctx, tag, settled, as_json)
        return
    desk = desk_for(ctx, acts=True)
    terms = {"supplier": supplier, "price_text": price, "freight_text": freight, "ordered_text": on}
    terms |= {"due_text": due, "note": note}
    if tag.strip().casefold() == STOCK:
        from bench.work.orders import order_consumable

        told = order_consumable(
            desk, _consumable(desk, what), packs_text=packs, quantity_text=quantity, wanted=wanted, **terms
        )
    else:
        if packs or quantity:
            raise BadInput("Packs and amounts are of a consumable.", "Order it as: bench order stock NAME.")
        from bench.work.orders import order_part

        unit_id = None if tag.strip().casefold() == SHELF else _unit(desk, tag)
        tasks = [_task(desk, unit_id, name) for name in task or ()]
        told = order_part(
            desk,
            unit_id,
            what=what,
            maker_number=number,
            wanted=wanted,
            task_ids=tasks,
            instead_of_id=instead,
            **terms,
        )
    say_told(desk, told, as_json)


def order_sent(
    ctx: typer.Context,
    number: Number,
    supplier: Annotated[str | None, typer.Option(metavar="NAME", help="Who it is bought from.")] = None,
    price: Annotated[str | None, typer.Option(metavar="AMOUNT", help="What it costs.")] = None,
    freight: Annotated[str | None, typer.Option(metavar="AMOUNT", help="What sending it costs.")] = None,
    on: Annotated[str | None, typer.Option("--on", metavar="DAY", help="When it was ordered.")] = None,
    due: Annotated[str | None, typer.Option(metavar="DAY", help="When it is due.")] = None,
    note: Annotated[str | None, typer.Option(metavar="TEXT", help="Anything else.")] = None,
    as_json: AsJson = False,
) -> None:
    """Order what was wanted, or change it.

    What is not given stays as it is.
    """
    from bench.domain.money import show_money
    from bench.views.orders import read_order
    from bench.views.shop import read_shop
    from bench.work.orders import edit_order

    desk = desk_for(ctx, acts=True)
    line, currency = read_order(desk, number), read_shop(desk).currency
    was = {
        "supplier": line.supplier,
        "price_text": "" if line.price_minor is None else show_money(line.price_minor, currency),
        "freight_text": show_money(line.freight_minor, currency),
        "ordered_text": line.ordered_on.isoformat() if line.ordered_on else "",
        "due_text": line.due_on.isoformat() if line.due_on else "",
        "note": line.note,
    }
    given = {"supplier": supplier, "price_text": price, "freight_text": freight, "ordered_text": on}
    given |= {"due_text": due, "note": note}
    typed = {name: was[name] if text is None else text for name, text in given.items()}
    say_told(desk, edit_order(desk, number, **typed), as_json)


def cancel(
    ctx: typer.Context,
    number: Number,
    reason: Annotated[str, typer.Argument(metavar="REASON", help="Why.")],
    as_json: AsJson = False,
) -> None:
    """Call an order off before it arrives, with the reason."""
    from bench.work.orders import cancel_order

    desk = desk_for(ctx, acts=True)
    say_told(desk, cancel_order(desk, number, reason=reason), as_json)


def wait(
    ctx: typer.Context,
    tag: Tag,
    task: Annotated[str, typer.Argument(metavar="TASK", help="The task that needs the part.")],
    number: Number,
    off: Annotated[bool, typer.Option("--off", help="It no longer waits.")] = False,
    as_json: AsJson = False,
) -> None:
    """Let a task wait for what an order brings, or no longer."""
    from bench.work.orders import wait_for

    desk = desk_for(ctx, acts=True)
    wait_for(desk, _task(desk, _unit(desk, tag), task), number, waits=not off)
    if as_json:
        _say_orders(ctx, tag, settled=False, as_json=True)
    else:
        say("It no longer waits." if off else "It waits; the unit's other tasks go on.")


def suppliers(ctx: typer.Context, as_json: AsJson = False) -> None:
    """Show how suppliers deliver, and what they owe."""
    from bench.reports.orders import suppliers_json, suppliers_text
    from bench.views.suppliers import read_suppliers

    book = read_suppliers(desk_for(ctx))
    say_sheet(suppliers_json(book) if as_json else suppliers_text(book))


def _say_orders(ctx: typer.Context, tag: str | None, settled: bool, as_json: bool) -> None:
    from bench.reports.orders import orders_json, orders_text
    from bench.views.orders import read_orders, read_orders_of

    desk = desk_for(ctx)
    book = read_orders(desk, settled=settled) if tag is None else read_orders_of(desk, _unit(desk, tag))
    say_sheet(orders_json(book) if as_json else orders_text(book))


def say_told(desk: Desk, told: OrderTold, as_json: bool) -> None:
    """An order after an act on it, as a sentence or as JSON."""
    from bench.reports.orders import order_words

    if as_json:
        say_json(desk, "order", told)
    else:
        say(order_words(told))


def _unit(desk: Desk, tag: str) -> int:
    from bench.views.particulars import unit_by_tag

    return unit_by_tag(desk, tag)


def _consumable(desk: Desk, name: str) -> int:
    from bench.commands.named import the_one
    from bench.views.stock import read_stock

    return the_one(name, read_stock(desk).lines, lambda line: line.name, "consumable").consumable_id


def _task(desk: Desk, unit_id: int | None, name: str) -> int:
    from bench.commands.named import task_named
    from bench.views.unit import read_unit

    if unit_id is None:
        raise BadInput("What is ordered for the shelf has no task.", "Name the unit whose task waits.")
    return task_named(read_unit(desk, unit_id), name).task_id
