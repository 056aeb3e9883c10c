"""The listing of a unit: printed, priced, in the shop's own words, with public tasks alone."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from bench.commands.arguments import AsJson
from bench.commands.opening import desk_for
from bench.commands.printing import say, say_or_save
from bench.errors import BadInput

if TYPE_CHECKING:
    from bench.desk import Desk


def listing(
    ctx: typer.Context,
    tag: Annotated[str | None, typer.Argument(metavar="TAG", help="The unit.")] = None,
    to: Annotated[
        str, typer.Option(metavar="FILE", help="Write it: a name ending in .txt, .html or .json.")
    ] = "",
    price: Annotated[
        str | None, typer.Option(metavar="AMOUNT", help='What the unit is to cost; "" for not said.')
    ] = None,
    shipping: Annotated[
        str | None, typer.Option(metavar="TEXT", help="Of sending it; without TAG, of every unit.")
    ] = None,
    template: Annotated[
        str, typer.Option(metavar="FILE", help="The shop's words from now on; an empty file: the built-in.")
    ] = "",
    words: Annotated[
        bool, typer.Option("--words", help="Print the template that is used, to be changed.")
    ] = False,
    as_json: AsJson = False,
) -> None:
    """Print a unit's listing from its records, faults included."""
    if tag is None and not (template or words or shipping is not None):
        raise BadInput("Which unit is meant?", "Give its tag, or --template, --words or --shipping.")
    if tag is not None and template:
        raise BadInput("The template is of every unit.", "Leave the tag out.")
    if tag is not None and words:
        raise BadInput("The words are of every unit.", "Leave the tag out.")
    if tag is None and (price is not None or as_json or (to and not words)):
        raise BadInput("A price or a paper is of one unit.", "Give its tag.")
    desk = desk_for(ctx, acts=bool(template) or price is not None or shipping is not None)
    if tag is None and (template or shipping is not None):
        _set_words(desk, template, shipping)
    if tag is not None:
        _listing_of(desk, tag, to, price, shipping, as_json=as_json)
    if words:
        _say_words(desk, to)


def public(
    ctx: typer.Context,
    name: Annotated[str, typer.Argument(metavar="TASK", help="The task: its name or how that begins.")],
    tag: Annotated[str, typer.Option("--unit", metavar="TAG", help="It is a task of this unit.")] = "",
    route: Annotated[str, typer.Option(metavar="ROUTE", help="It is a task of this route.")] = "",
    no: Annotated[bool, typer.Option("--no", help="No listing may name it any more.")] = False,
) -> None:
    """Say that a listing may name a task, or may not."""
    if bool(tag) == bool(route):
        raise BadInput("Whose task is meant?", "Give either --unit or --route.")
    desk = desk_for(ctx, acts=True)
    whose = _units_task(desk, tag, name, not no) if tag else _routes_task(desk, route, name, not no)
    say(f"{whose}: {'no listing names it' if no else 'a listing may name it'}.")


def _listing_of(
    desk: Desk, tag: str, to: str, price: str | None, shipping: str | None, *, as_json: bool
) -> None:
    from bench.reports.forms import listing_forms
    from bench.views.listing import read_listing
    from bench.views.particulars import unit_by_tag

    unit_id = unit_by_tag(desk, tag)
    if price is not None or shipping is not None:
        from bench.work.listing import set_listing

        set_listing(desk, unit_id, price_text=price, shipping=shipping)
    say_or_save(read_listing(desk, unit_id), listing_forms(), to, as_json=as_json)


def _set_words(desk: Desk, file: str, shipping: str | None) -> None:
    from bench.work.listing import set_listing_words

    text = _text_of(Path(file)) if file else None
    set_listing_words(desk, template=text, shipping=shipping)
    if file:
        say(
            "Listings are in the shop's own words now." if text else "Listings are in the built-in words now."
        )
    if shipping is not None:
        say("What listings say of sending is kept.")


def _text_of(path: Path) -> str:
    try:
        return path.read_text("utf-8-sig").strip()
    except OSError as error:
        raise BadInput(f"{path} cannot be read: {error.strerror}.", "Name a text file.") from None
    except UnicodeDecodeError:
        raise BadInput(f"{path} is not UTF-8 text.", "Save it as UTF-8.") from None


def _say_words(desk: Desk, to: str) -> None:
    from bench.domain.listing_template import BUILT_IN
    from bench.views.trade import read_trade

    text = f"{read_trade(desk).listing_template or BUILT_IN}\n"
    say_or_save(text, {".txt": str}, to)


def _units_task(desk: Desk, tag: str, name: str, shown: bool) -> str:
    from bench.commands.named import task_named
    from bench.views.particulars import unit_by_tag
    from bench.views.unit import read_unit
    from bench.work.listing import set_task_public

    sheet = read_unit(desk, unit_by_tag(desk, tag))
    task = task_named(sheet, name)
    set_task_public(desk, task.task_id, public=shown)
    return f"{task.name} on {sheet.tag}"


def _routes_task(desk: Desk, route: str, name: str, shown: bool) -> str:
    from bench.commands.channels import route_named
    from bench.commands.named import the_one
    from bench.views.routes import read_route
    from bench.work.listing import set_route_task_public

    route_id = route_named(desk, route)
    if route_id is None:
        raise BadInput("The route is empty.", "Name one, or give --unit.")
    sheet = read_route(desk, route_id)
    task = the_one(name, sheet.tasks, lambda one: one.name, f"task of route {sheet.name}")
    set_route_task_public(desk, task.route_task_id, public=shown)
    return f"{task.name} of route {sheet.name}"
