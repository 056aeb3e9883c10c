"""Arguments and options that several commands share, each with its help text."""

from __future__ import annotations

from typing import Annotated

import typer

from bench.commands import completing
from bench.errors import BadInput

Tag = Annotated[
    str,
    typer.Argument(metavar="TAG", help="The unit's tag, as on its sticker.", autocompletion=completing.units),
]
TaskName = Annotated[
    str | None,
    typer.Argument(
        metavar="TASK",
        help="The task: its number on the unit's sheet, its name or how that begins.",
        autocompletion=completing.tasks,
    ),
]
Consumable = Annotated[
    str,
    typer.Argument(
        metavar="NAME",
        help="The consumable: its name or how that begins.",
        autocompletion=completing.consumables,
    ),
]
AsJson = Annotated[bool, typer.Option("--json", help="Print JSON, for a script.")]
AsCsv = Annotated[bool, typer.Option("--csv", help="Print CSV, for a spreadsheet.")]


def one_form(as_csv: bool, as_json: bool) -> None:
    """Pass unless both forms were asked for."""
    if as_csv and as_json:
        raise BadInput("--csv and --json were both given.", "Give one of them.")
