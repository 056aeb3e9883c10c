"""Take in a table that was kept elsewhere: looked at first, then booked whole."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from bench.commands.arguments import AsJson
from bench.commands.opening import Start, desk_for
from bench.commands.printing import say, say_json, say_sheet
from bench.domain.text import quoted
from bench.errors import BadInput


def import_file(
    ctx: typer.Context,
    kind: Annotated[str, typer.Argument(metavar="KIND", help="It holds units, stock, parties or parts.")],
    file: Annotated[
        Path | None, typer.Argument(metavar="[FILE]", help="A CSV file; its first line names the columns.")
    ] = None,
    book: Annotated[bool, typer.Option("--book", help="Book it; without this it is only looked at.")] = False,
    template: Annotated[bool, typer.Option("--template", help="Print a file with the columns.")] = False,
    filled: Annotated[
        bool, typer.Option("--filled", help="With --template: and with what the data file holds.")
    ] = False,
    as_json: AsJson = False,
) -> None:
    """Take in units, stock, parties or parts from a CSV file."""
    from bench.domain.importing import KINDS

    if kind not in KINDS:
        raise BadInput(f"{quoted(kind)} cannot be imported.", f"Use one of: {', '.join(KINDS)}.")
    if template:
        _say_template(ctx, kind, filled=filled)
        return
    if file is None:
        raise BadInput("The file is not named.", f"`bench import {kind} --template` prints its columns.")
    from bench.work.importing import import_rows

    start: Start = ctx.obj
    if not book:
        start.require_no_key()
    desk = desk_for(ctx, acts=True)
    done = import_rows(desk, kind, _bytes_of(file.expanduser()), book=book)
    if as_json:
        say_json(desk, "imported", done)
        return
    for line in done.made:
        say(f"  {line}")
    many = f"{len(done.made)} row{'s' if len(done.made) > 1 else ''} of {kind}"
    say(f"Imported {many}." if book else f"{many} can be taken. Nothing was booked: give --book to do it.")


def _say_template(ctx: typer.Context, kind: str, *, filled: bool) -> None:
    from bench.domain.importing import template

    if not filled:
        say_sheet(template(kind))
        return
    from bench.views.importing import read_importable

    say_sheet(template(kind, read_importable(desk_for(ctx), kind)))


def _bytes_of(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError as error:
        raise BadInput(f"{path} cannot be read ({error.strerror}).", "Name the CSV file.") from error
