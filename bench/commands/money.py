"""A unit's money, and the rows behind any of its figures."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from bench.commands.arguments import AsJson, Tag
from bench.commands.opening import desk_for
from bench.commands.printing import say_sheet
from bench.commands.trade_names import channel_named

if TYPE_CHECKING:
    from bench.domain.unit_money import UnitMoney


def money(
    ctx: typer.Context,
    tag: Tag,
    rows: Annotated[
        str,
        typer.Option(metavar="LINE", help="Show the rows behind a line: its number, its words, or time."),
    ] = "",
    channel: Annotated[
        str, typer.Option(metavar="NAME", help="Break even through this channel, if another is meant.")
    ] = "",
    as_json: AsJson = False,
) -> None:
    """Show what a unit cost, what it brought, and its margin."""
    from bench.reports.unit_money import money_json, money_rows_json, money_rows_text, money_text
    from bench.views.money_rows import read_money_rows
    from bench.views.particulars import unit_by_tag
    from bench.views.unit_money import read_unit_money

    desk = desk_for(ctx)
    found = read_unit_money(desk, unit_by_tag(desk, tag), channel_id=channel_named(desk, channel))
    if not rows:
        say_sheet(money_json(found) if as_json else money_text(found))
        return
    opened = read_money_rows(desk, found.unit_id, _opens(found, rows))
    say_sheet(money_rows_json(opened) if as_json else money_rows_text(opened))


def _opens(found: UnitMoney, text: str) -> str:
    """What a line opens, by its number from the top, what it opens itself, or how its words begin."""
    from bench.commands.named import the_one
    from bench.domain.unit_money import TIME, MoneyLine

    lines = (*found.landed, *found.brought)
    typed = text.strip().casefold()
    if typed.isascii() and typed.isdigit() and 1 <= int(typed) <= len(lines):
        return lines[int(typed) - 1].opens
    if typed == TIME or any(line.opens == typed for line in lines):
        return typed

    def words(line: MoneyLine) -> str:
        return line.words

    return the_one(text, lines, words, f"line of unit {found.tag}'s money").opens
