"""What a unit cost and brought, what was earned in a month or a year, what to do next and until when."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from bench.commands.arguments import AsCsv, AsJson, Tag, one_form
from bench.commands.channels import channel_named
from bench.commands.opening import Start, desk_for
from bench.commands.printing import say_or_save, say_sheet
from bench.errors import BadInput

if TYPE_CHECKING:
    from bench.views.months import MonthSheet

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
    """Show a unit's cost so far, its proceeds and its margin."""
    from bench.reports.unit_sheet import money_json, money_rows_json, money_rows_text, money_text
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

    lines = (*found.cost_so_far, *found.proceeds)
    typed = text.strip().casefold()
    if typed.isascii() and typed.isdigit() and 1 <= int(typed) <= len(lines):
        return lines[int(typed) - 1].opens
    if typed == TIME or any(line.opens == typed for line in lines):
        return typed

    def words(line: MoneyLine) -> str:
        return line.words

    return the_one(text, lines, words, f"line of unit {found.tag}'s money").opens


To = Annotated[str, typer.Option(metavar="FILE", help="Write it: a name that ends in .txt, .csv or .json.")]


def month(
    ctx: typer.Context,
    which: Annotated[
        str | None, typer.Argument(metavar="[MONTH]", help="Such as 2026-11; without it, this month.")
    ] = None,
    to: To = "",
    as_csv: AsCsv = False,
    as_json: AsJson = False,
) -> None:
    """Show what a month's hours earned and where money lies."""
    from bench.domain.spans import Span
    from bench.views.months import read_month

    one_form(as_csv, as_json)
    span = None if which is None else Span.parse(which)
    if span is not None and span.month is None:
        raise BadInput(f"{span} is a year.", "Give a month such as 2026-11, or use bench year.")
    desk = desk_for(ctx)
    sheet = read_month(desk) if span is None else read_month(desk, span.year, span.month)
    _show(sheet, to, as_csv=as_csv, as_json=as_json)


def year(
    ctx: typer.Context,
    which: Annotated[
        str | None, typer.Argument(metavar="[YEAR]", help="Such as 2026; without it, this year.")
    ] = None,
    to: To = "",
    as_csv: AsCsv = False,
    as_json: AsJson = False,
) -> None:
    """Show the same for a year, month by month."""
    from bench.domain.spans import Span
    from bench.views.months import read_year

    one_form(as_csv, as_json)
    span = None if which is None else Span.parse(which)
    if span is not None and span.month is not None:
        raise BadInput(f"{span} is a month.", "Give a year such as 2026, or use bench month.")
    sheet = read_year(desk_for(ctx), None if span is None else span.year)
    _show(sheet, to, as_csv=as_csv, as_json=as_json)


def postings(
    ctx: typer.Context,
    which: Annotated[
        str | None,
        typer.Argument(metavar="[SPAN]", help="A month or a year, 2026-11 or 2026; else this month."),
    ] = None,
    to: To = "",
    as_csv: AsCsv = False,
    as_json: AsJson = False,
) -> None:
    """Show a month's money as debits and credits for the books."""
    from bench.domain.spans import Span
    from bench.reports.forms import postings_forms
    from bench.views.postings import read_postings

    one_form(as_csv, as_json)
    start: Start = ctx.obj
    span = None if which is None else Span.parse(which)
    journal = read_postings(desk_for(ctx), span, start.settings().accounts)
    say_or_save(journal, postings_forms(), to, as_json=as_json, as_csv=as_csv)


def _show(sheet: MonthSheet, to: str, *, as_csv: bool, as_json: bool) -> None:
    from bench.reports.forms import month_forms

    say_or_save(sheet, month_forms(), to, as_json=as_json, as_csv=as_csv)


def what_next(ctx: typer.Context, as_json: AsJson = False) -> None:
    """Rank the queue by earnings for the time still to spend."""
    from bench.reports.next_up import next_json, next_text
    from bench.views.next_up import read_ranking

    view = read_ranking(desk_for(ctx))
    say_sheet(next_json(view) if as_json else next_text(view))


def forecast(ctx: typer.Context, as_json: AsJson = False) -> None:
    """Show when units will be done and where the bottleneck is."""
    from bench.reports.next_up import forecast_json, forecast_text
    from bench.views.forecast import read_forecast

    view = read_forecast(desk_for(ctx))
    say_sheet(forecast_json(view) if as_json else forecast_text(view))
