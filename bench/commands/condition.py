"""A unit's condition: what was measured, taken down from the shell or from files made on the unit."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from bench.commands.arguments import AsJson, Tag
from bench.commands.opening import desk_for
from bench.commands.printing import CAUTION, say, say_json, say_sheet
from bench.errors import BadInput

if TYPE_CHECKING:
    from bench.desk import Desk
    from bench.work.readings import ReadingAdded

STANDARD_INPUT = "-"

After = Annotated[bool, typer.Option("--after", help="Taken after the work; without it, before.")]


def condition(
    ctx: typer.Context,
    tag: Tag,
    why: Annotated[bool, typer.Option("--why", help="With each verdict's definition and source.")] = False,
    pack: Annotated[
        str, typer.Option(metavar="AMOUNT", help="Weigh the battery: what a new pack costs.")
    ] = "",
    gain: Annotated[str, typer.Option(metavar="AMOUNT", help="What a new pack adds to the sale.")] = "",
    fitted: Annotated[
        str, typer.Option(metavar="HOW", help="How the pack is fitted, where no reading says.")
    ] = "",
    as_json: AsJson = False,
) -> None:
    """Show what was measured on a unit, with verdicts."""
    from bench.reports.condition_sheet import choice_text, condition_json, condition_text
    from bench.views.condition import read_condition, weigh_battery
    from bench.views.particulars import unit_by_tag

    desk = desk_for(ctx)
    unit_id = unit_by_tag(desk, tag)
    sheet = read_condition(desk, unit_id)
    if not (pack or gain or fitted):
        say_sheet(condition_json(sheet) if as_json else condition_text(sheet, why=why))
        return
    choices = weigh_battery(desk, unit_id, pack_text=pack, gain_text=gain, fitted=fitted)
    if as_json:
        say_json(desk, "batteries", choices)
        return
    for choice in choices:
        say_sheet(choice_text(choice, sheet.currency, why=why))


def reading(
    ctx: typer.Context,
    tag: Tag,
    subject: Annotated[
        str | None,
        typer.Argument(metavar="SUBJECT", help="What is measured, such as battery; a wrong word lists them."),
    ] = None,
    figures: Annotated[
        list[str] | None,
        typer.Argument(metavar="FIELD=VALUE", help='Such as full="51.3 Wh"; without any, its inputs.'),
    ] = None,
    file: Annotated[
        str,
        typer.Option(metavar="FILE", help="Read a file made on the unit: uevent, NVMe log, smartctl JSON."),
    ] = "",
    kind: Annotated[
        str,
        typer.Option(metavar="KIND", help="If it must be said: power_supply, nvme_log, smartctl."),
    ] = "",
    after: After = False,
    drive: Annotated[
        int | None, typer.Option(metavar="N", help="Which drive it is of, by its number.")
    ] = None,
    note: Annotated[str, typer.Option(metavar="TEXT", help="Anything else about it.")] = "",
    remove: Annotated[
        int | None, typer.Option(metavar="N", help="Take this reading off; --note says why.")
    ] = None,
    as_json: AsJson = False,
) -> None:
    """Take a reading of a unit, typed or from a file."""
    if sum((bool(file), subject is not None, remove is not None)) != 1:
        raise BadInput("What to read is not clear.", "Give a SUBJECT, --file or --remove, one of them.")
    if subject is not None and not figures:
        _say_fields(subject)
        return
    desk = desk_for(ctx, acts=True)
    if remove is not None:
        _remove(desk, remove, note)
        return
    moment = "after" if after else "before"
    added: tuple[ReadingAdded, ...]
    if subject is not None:
        added = (_typed(desk, tag, subject, figures or [], moment, note, drive),)
    else:
        added = _from_file(desk, tag, file, kind, moment, drive)
    if as_json:
        say_json(desk, "readings", added)
        return
    for one in added:
        _say_added(one)


def _typed(
    desk: Desk, tag: str, subject: str, figures: list[str], moment: str, note: str, drive: int | None
) -> ReadingAdded:
    from bench.views.particulars import unit_by_tag
    from bench.work.readings import add_reading

    fields = dict(_pair(figure) for figure in figures)
    return add_reading(
        desk,
        unit_by_tag(desk, tag),
        moment=moment,
        subject=subject,
        fields=fields,
        note=note,
        drive_id=drive,
    )


def _from_file(
    desk: Desk, tag: str, file: str, kind: str, moment: str, drive: int | None
) -> tuple[ReadingAdded, ...]:
    from bench.domain.condition.reading_files import MOST_BYTES
    from bench.views.particulars import unit_by_tag
    from bench.work.readings import read_reading_file

    unit_id = unit_by_tag(desk, tag)
    if file == STANDARD_INPUT:
        data = sys.stdin.buffer.read(MOST_BYTES + 1)
        return read_reading_file(desk, unit_id, moment=moment, data=data, kind=kind or None, drive_id=drive)
    return read_reading_file(desk, unit_id, moment=moment, path=Path(file), kind=kind or None, drive_id=drive)


def _remove(desk: Desk, reading_id: int, note: str) -> None:
    from bench.work.readings import remove_reading

    remove_reading(desk, reading_id, note)
    say(f"Took reading {reading_id} off.")


def _pair(figure: str) -> tuple[str, str]:
    name, equals, value = figure.partition("=")
    if not equals:
        from bench.domain.text import quoted

        raise BadInput(f"{quoted(figure)} has no = in it.", "Write each field as name=value.")
    return name.strip(), value


def _say_fields(subject: str) -> None:
    from bench.domain.condition.fields import subject_named

    chosen = subject_named(subject)
    say(f"{chosen.label}, its inputs:")
    for field in chosen.fields:
        say(f"  {field.given.name}=  {field.given.label}: {field.given.limits()}")
    for caution in chosen.cautions:
        say(caution, style=CAUTION)


def _say_added(added: ReadingAdded) -> None:
    from bench.reports.condition_sheet import verdict_lines

    say(f"Reading {added.reading_id} of {added.tag}, {added.subject} {added.moment} the work:")
    for line in verdict_lines(added.verdicts, start=2):
        say_sheet(line)
    for told in added.told:
        say(told, style=CAUTION if added.cell_finding else "")
