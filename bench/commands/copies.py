"""Copies of the data file: made, listed, put back."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from bench.commands.arguments import AsJson
from bench.commands.opening import Start, desk_for
from bench.commands.printing import CAUTION, complain, say, say_json, say_sheet
from bench.errors import BenchError

if TYPE_CHECKING:
    from bench.domain.copies import Copies, FileCopy
    from bench.work.copies import Restored


def backup(
    ctx: typer.Context,
    to: Annotated[
        Path | None,
        typer.Argument(metavar="[TO]", help="A new file, or a folder; else the folder beside the data file."),
    ] = None,
    as_json: AsJson = False,
) -> None:
    """Copy the data file, and verify the copy."""
    from bench.work.copies import back_up

    desk = desk_for(ctx)
    made = back_up(desk, to.expanduser() if to is not None else None)
    if as_json:
        say_json(desk, "copy_made", made)
    else:
        say(f"Copied to {made.path} ({made.size_bytes} bytes, verified).")
        if made.left_out:
            say(f"It does not hold the photographs: copy {made.left_out} too.", style=CAUTION)


def restore(
    ctx: typer.Context,
    source: Annotated[
        str | None,
        typer.Argument(metavar="[FROM]", help="A copy: its path, or its name; without it, a list of them."),
    ] = None,
    as_json: AsJson = False,
) -> None:
    """Put a copy in place of the data file, or list the copies."""
    from bench.desk import SystemClock
    from bench.settings import local_zone, login_name
    from bench.work.copies import copies_beside
    from bench.work.copies import restore as put_back

    start: Start = ctx.obj
    start.require_no_key()
    settings = start.settings()
    path, named = settings.data_path, start.person or settings.person or ""
    if source is None:
        _say_copies(path, copies_beside(path, local_zone(os.environ)), as_json=as_json)
        return
    restored = put_back(path, source, SystemClock(), named=named, login=login_name(os.environ))
    if as_json:
        from bench.reports.plain_values import facts_of, json_text

        say_sheet(json_text("restored", facts_of(restored, "UTC")))
        return
    say_restored(restored)


def say_restored(restored: Restored) -> None:
    """What was put where, and what became of what was there."""
    say(f"{restored.source} is now in the place of {restored.path}.")
    if restored.kept and restored.sound:
        say(f"What was there is copied: {restored.kept}")
    elif restored.kept:
        say(f"What was there is damaged, and was set aside: {restored.kept}", style=CAUTION)
    for one in restored.side_files:
        say(f"Left behind without its file, and set aside: {one}", style=CAUTION)


def copy_after(start: Start) -> None:
    """After a command that booked something: the copy of the day, where there is none yet."""
    from bench.work.copies import copy_of_the_day

    try:
        if start.desk is not None:
            copy_of_the_day(start.desk)
    except BenchError as error:
        complain(f"Booked all right, but the copy of the day failed: {error}")


def _say_copies(path: Path, found: Copies, *, as_json: bool) -> None:
    if as_json:
        from bench.reports.plain_values import facts_of, json_text

        say_sheet(json_text("copies", facts_of(found, found.zone)))
        return
    if not found.copies:
        say(f"There is no copy of {path} yet. `bench backup` makes one.")
        return
    say(f"Copies of {path}, in {found.folder}:")
    for one in found.copies:
        say(f"  {one.name}  {_facts(one, found.zone)}")
    if found.left_out:
        say(
            f"They do not hold the photographs in {found.left_out}; after a restore bench check tells which "
            "are missing.",
            style=CAUTION,
        )


def _facts(one: FileCopy, zone: str) -> str:
    from bench.domain.copies import WHY
    from bench.domain.localtime import local_datetime

    taken = local_datetime(one.at_us, zone)
    return f"{taken:%Y-%m-%d %H:%M}  {one.size_bytes} bytes  {WHY[one.why]}"
