"""Whole documents, the journal and its undo: the week, the journal, export."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from bench.commands.arguments import AsCsv, AsJson, one_form
from bench.commands.opening import desk_for
from bench.commands.printing import say, say_json, say_or_save, say_sheet
from bench.errors import BadInput


def week(
    ctx: typer.Context,
    which: Annotated[
        str | None, typer.Argument(metavar="WEEK", help="Such as 2026-W48; without it, this week.")
    ] = None,
    as_csv: AsCsv = False,
    as_json: AsJson = False,
) -> None:
    """Show a week's hours, earnings, estimates and entries."""
    from bench.domain.weeks import IsoWeek
    from bench.reports.forms import week_forms
    from bench.views.week import read_week

    one_form(as_csv, as_json)
    chosen = None if which is None else IsoWeek.parse(which)
    sheet = read_week(desk_for(ctx), chosen)
    say_or_save(sheet, week_forms(), "", as_json=as_json, as_csv=as_csv)


def journal(
    ctx: typer.Context,
    tag: Annotated[str, typer.Option("--unit", metavar="TAG", help="Only what was done to this unit.")] = "",
    limit: Annotated[int, typer.Option(metavar="N", min=1, help="How many lines, the newest first.")] = 50,
    as_csv: AsCsv = False,
    as_json: AsJson = False,
) -> None:
    """Show who did what when, the newest first."""
    from bench.reports.journal_sheet import journal_csv, journal_json, journal_text
    from bench.views.journal import read_journal
    from bench.views.particulars import unit_by_tag

    one_form(as_csv, as_json)
    desk = desk_for(ctx)
    page = read_journal(desk, unit_id=unit_by_tag(desk, tag) if tag else None, limit=limit)
    say_sheet(journal_json(page) if as_json else journal_csv(page) if as_csv else journal_text(page))


def export(
    ctx: typer.Context,
    json_file: Annotated[Path | None, typer.Option("--json", metavar="FILE", help="One JSON file.")] = None,
    csv_folder: Annotated[
        Path | None, typer.Option("--csv", metavar="FOLDER", help="A CSV file for each kind of record.")
    ] = None,
    xlsx: Annotated[str, typer.Option(metavar="FILE", help="One workbook, a sheet a kind of record.")] = "",
) -> None:
    """Write everything in the file as JSON, CSV or a workbook."""
    if [json_file is None, csv_folder is None, not xlsx].count(False) != 1:
        what = "Give --json FILE, --csv FOLDER or --xlsx FILE."
        raise BadInput("One place to write to is needed.", what)
    from bench.reports.export import write_csv, write_json
    from bench.views.export import read_everything

    desk = desk_for(ctx)
    everything = read_everything(desk)
    if json_file is not None:
        write_json(everything, json_file)
        say(f"Wrote {json_file}.")
    elif csv_folder is not None:
        written = write_csv(everything, csv_folder)
        say(f"Wrote {len(written)} files to {csv_folder}.")
    else:
        from bench.reports.saving import new_path, save_new
        from bench.reports.workbook import export_workbook
        from bench.views.shop import read_shop

        path = new_path(xlsx, (".xlsx",))
        say(f"Wrote {save_new(export_workbook(everything, read_shop(desk).currency), path)}.")


def calendar(
    ctx: typer.Context,
    to: Annotated[str, typer.Option(metavar="FILE", help="Write it: a name that ends in .ics.")] = "",
    as_json: AsJson = False,
) -> None:
    """Show the days ahead, or write them as a calendar file."""
    from bench.views.due_dates import read_due_dates

    desk = desk_for(ctx)
    due = read_due_dates(desk)
    if to:
        from bench.reports.calendar_text import calendar_text
        from bench.reports.saving import new_path, save_new

        path = new_path(to, (".ics",))
        say(f"Wrote {save_new(calendar_text(due), path)}.")
    elif as_json:
        say_json(desk, "due_dates", due)
    else:
        for one in due.days:
            say(f"{one.day.isoformat()}  {one.words}")
        if not due.days:
            say("No day ahead is known.")


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
