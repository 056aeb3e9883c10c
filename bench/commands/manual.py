"""The manual's pages that are made from the program itself."""

from __future__ import annotations

from typing import Annotated

import typer

from bench.commands.printing import say_sheet
from bench.domain.text import quoted
from bench.errors import BadInput

PAGES = ("json",)


def manual(page: Annotated[str, typer.Argument(metavar="PAGE", help=f"One of: {', '.join(PAGES)}.")]) -> None:
    """Show a page of the manual. json: every JSON document with its keys and its shape number."""
    if page not in PAGES:
        raise BadInput(f"{quoted(page)} is no page of the manual.", f"Name one of: {', '.join(PAGES)}.")
    from bench.commands.documents import keys_text

    say_sheet(keys_text())
