"""The manual in a terminal: its topics, a page, or all of it for `man`."""

from __future__ import annotations

import shutil
from datetime import date, datetime
from typing import Annotated

import typer

from bench.commands.printing import say_sheet

JSON = "json"
WIDEST = 100  # cells: a longer line is hard to follow
ON_JSON = "every JSON document with its keys and its shape number"
ON_TOPICS = "bench manual TOPIC shows a page; in the dashboard F1 opens the one for where you stand."


def manual(
    ctx: typer.Context,
    topic: Annotated[
        str, typer.Argument(metavar="[TOPIC]", help="One of the topics; without it they are listed.")
    ] = "",
    man: Annotated[
        bool, typer.Option("--man", help="Print a page for `man`: bench manual --man > bench.1")
    ] = False,
) -> None:
    """Show the topics of the manual, or the page of one. json: every JSON document with its keys."""
    if man:
        from bench.commands.roff_manual import man_page

        say_sheet(man_page(ctx.find_root().command, _today()))
    elif topic.casefold() == JSON:
        from bench.commands.documents import keys_text

        say_sheet(keys_text())
    else:
        say_sheet(_page(topic) if topic else _topics())


def _page(topic: str) -> str:
    from bench.manual.pages import read_page
    from bench.manual.plain import page_as_text

    width = min(shutil.get_terminal_size().columns, WIDEST)
    return page_as_text(read_page(topic.casefold().removesuffix(".md")).blocks, width)


def _topics() -> str:
    from bench.manual.pages import TOPICS, read_page

    titles = {topic: read_page(topic).title for topic in TOPICS} | {JSON: ON_JSON}
    width = max(map(len, titles))
    listed = "\n".join(f"  {topic:<{width}}  {title}" for topic, title in titles.items())
    return f"{ON_TOPICS}\n\n{listed}"


def _today() -> date:
    return datetime.now().astimezone().date()
