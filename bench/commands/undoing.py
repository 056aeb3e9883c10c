"""Undo and redo: the newest change of one's own, or the line of the journal that is named."""

from __future__ import annotations

from typing import Annotated

import typer

from bench.commands.arguments import AsJson
from bench.commands.opening import desk_for
from bench.commands.printing import say, say_json

Line = Annotated[
    int | None, typer.Argument(metavar="LINE", help="The line's number in the journal; the newest of yours.")
]
Why = Annotated[str, typer.Option("--reason", metavar="TEXT", help="Why, where undoing asks for it.")]


def undo(ctx: typer.Context, line: Line = None, reason: Why = "", as_json: AsJson = False) -> None:
    """Undo a change of yours, if nothing later stands on it."""
    from bench.work.undo import undo as undo_it

    desk = desk_for(ctx, acts=True)
    undone = undo_it(desk, line, reason=reason)
    if as_json:
        say_json(desk, "undone", undone)
    else:
        say(f"Undone: {undone.summary}.")


def redo(ctx: typer.Context, line: Line = None, reason: Why = "", as_json: AsJson = False) -> None:
    """Do again what you undid, if nothing later stands in its way."""
    from bench.work.undo import redo as redo_it

    desk = desk_for(ctx, acts=True)
    redone = redo_it(desk, line, reason=reason)
    if as_json:
        say_json(desk, "redone", redone)
    else:
        say(f"Redone: {redone.summary}.")
