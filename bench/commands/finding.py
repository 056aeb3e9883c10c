"""Finding anything by a word of its name."""

from __future__ import annotations

from typing import Annotated

import typer

from bench.commands.arguments import AsJson
from bench.commands.opening import desk_for
from bench.commands.printing import say_json, say_sheet
from bench.errors import BadInput


def find(
    ctx: typer.Context,
    text: Annotated[
        list[str], typer.Argument(metavar="TEXT", help="Words that must all be there, or nearly.")
    ],
    as_json: AsJson = False,
) -> None:
    """Find anything by tag, serial number, model, name or note.

    Units, parts, drives, consumables, offers, buyers and sellers, faults, models, orders,
    repairs, lots: the likeliest first, what is in the queue before what has left. A tag or
    serial number may be a part of it; a word may be mistyped, or have letters left out.
    """
    from bench.domain.finding import terms_of
    from bench.reports.plain_tables import told
    from bench.views.finding import find_all
    from bench.views.tables.finding import FOUND

    typed = " ".join(text)
    if not terms_of(typed):
        raise BadInput("There is no letter or digit to look for.", "Give a tag, a serial number or a name.")
    desk = desk_for(ctx)
    lines = find_all(desk, typed)
    if as_json:
        say_json(desk, "found", lines)
    else:
        say_sheet(told(FOUND, lines))
