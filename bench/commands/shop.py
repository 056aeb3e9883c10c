"""The shop and its file: people, forgotten timers, checking."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from bench.commands.arguments import AsJson
from bench.commands.opening import Start, desk_for
from bench.commands.printing import CAUTION, say, say_json
from bench.errors import StoreError

if TYPE_CHECKING:
    from bench.work.check import RecordCheck
    from bench.work.photographs_on_disk import PhotographCheck


def people(
    ctx: typer.Context,
    add: Annotated[str, typer.Option(metavar="NAME", help="Someone who joins.")] = "",
    as_json: AsJson = False,
) -> None:
    """Show who works here, or add someone."""
    from bench.views.shop import read_people

    desk = desk_for(ctx, acts=bool(add))
    if add:
        from bench.work.shop import add_person

        add_person(desk, add)
    lines = read_people(desk)
    if as_json:
        say_json(desk, "people", lines)
        return
    for line in lines:
        say(line.name)


def forgotten(ctx: typer.Context, as_json: AsJson = False) -> None:
    """Show timers that run far longer than their task should take."""
    from bench.domain.durations import hours_and_minutes
    from bench.domain.localtime import day_and_time
    from bench.domain.timers import elapsed_us
    from bench.views.shop import read_shop
    from bench.views.timers import read_forgotten

    desk = desk_for(ctx)
    found = read_forgotten(desk)
    if as_json:
        say_json(desk, "forgotten", found)
        return
    if not found:
        say("No timer looks forgotten.")
    zone = read_shop(desk).zone
    for one in found:
        ran = hours_and_minutes(elapsed_us(one.started_us, desk.clock.now_us()))
        say(
            f"{one.tag} {one.task}: {one.person} since {day_and_time(one.started_us, zone)}, {ran}, "
            f"estimated {one.estimate_minutes} min."
        )


def record_lines(record: RecordCheck) -> list[str]:
    """What the replay of the journal found, in lines."""
    found = [*(one.sentence() for one in record.differences), *record.sums, *record.rules]
    agrees = "the tables are what they say, the totals add up" if record.agrees else "they do not agree"
    return [f"{'journal':<12} {record.lines} lines replayed: {agrees}", *(f"  {line}" for line in found)]


def photograph_lines(found: PhotographCheck | None) -> list[str]:
    """Whether photographs and their files agree, in lines."""
    if found is None or not (found.files or found.missing):
        return []
    lines = [
        *(f"  on record, but its file is missing: {one}" for one in found.missing),
        *(f"  nothing on record names this file: {one}" for one in found.unknown),
        *(f"  not as it was kept: {one}" for one in found.changed),
    ]
    agrees = "all as kept" if found.agrees else "they do not agree"
    return [f"{'photographs':<12} {found.files} files in {found.folder}: {agrees}", *lines]


def check(ctx: typer.Context, as_json: AsJson = False) -> None:
    """Check the file, and show versions and where things are."""
    from bench.work.check import check_file

    desk = desk_for(ctx)
    found = check_file(desk.store)
    if as_json:
        say_json(desk, "check", found)
    else:
        for name, version in found.versions.items():
            say(f"{name:<12} {version}")
        say(f"{'file':<12} {found.path} ({found.size_bytes} bytes, revision {found.revision})")
        say(f"{'integrity':<12} {found.integrity}")
        say(f"{'references':<12} {found.references}")
        last = "none yet; `bench backup` makes one" if found.last_copy is None else found.last_copy.name
        kept = f" ({found.copies} kept in {found.copies_folder})" if found.copies else ""
        say(f"{'last copy':<12} {last}{kept}")
        for line in record_lines(found.record):
            say(line)
        for line in photograph_lines(found.photographs):
            say(line)
        if found.note:
            say(found.note, style=CAUTION)
    if not found.sound:
        raise StoreError(
            f"{found.path} is damaged or was changed behind the program.",
            "Stop writing to it and restore a backup.",
        )


def log(
    ctx: typer.Context,
    most: Annotated[int, typer.Option("--last", min=1, metavar="NUMBER", help="So many lines.")] = 20,
) -> None:
    """Show what lately went wrong on this machine."""
    from bench.went_wrong import last_lines, log_path

    start: Start = ctx.obj
    start.require_no_key()
    lines = last_lines(most)
    for line in lines:
        say(line)
    say(f"{log_path()}" if lines else f"Nothing went wrong yet: there is no {log_path()}.")
