"""Arguments and options that several commands share, each with its help text."""

from __future__ import annotations

from typing import Annotated

import typer

Tag = Annotated[str, typer.Argument(metavar="TAG", help="The unit's tag, as on its sticker.")]
TaskName = Annotated[
    str | None,
    typer.Argument(
        metavar="TASK", help="The task: its number on the unit's sheet, its name or how that begins."
    ),
]
Consumable = Annotated[
    str, typer.Argument(metavar="NAME", help="The consumable: its name or how that begins.")
]
AsJson = Annotated[bool, typer.Option("--json", help="Print JSON, for a script.")]
AsCsv = Annotated[bool, typer.Option("--csv", help="Print CSV, for a spreadsheet.")]
