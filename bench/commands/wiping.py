"""Drives, their wipes, and the certificate of sanitization."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Annotated

import typer

from bench.commands import completing
from bench.commands.arguments import AsJson
from bench.commands.opening import desk_for
from bench.commands.printing import say, say_json, say_or_save, say_sheet
from bench.errors import BadInput, NotFound

if TYPE_CHECKING:
    from bench.desk import Desk
    from bench.views.drives import DriveLine
    from bench.work.wipes import WipeKept

DRIVE_NUMBER = re.compile(r"d([0-9]{1,9})", re.IGNORECASE)

Which = Annotated[
    str,
    typer.Argument(
        metavar="UNIT|DRIVE",
        help="The unit's tag, or a drive's number as in d7.",
        autocompletion=completing.units_and_drives,
    ),
]


def drive(
    ctx: typer.Context,
    tag: Annotated[
        str | None, typer.Argument(metavar="[TAG]", help="The unit's tag; without it, the shelf.")
    ] = None,
    model: Annotated[str, typer.Option(metavar="TEXT", help="Record a drive: its model.")] = "",
    serial: Annotated[str, typer.Option(metavar="TEXT", help="Its serial number.")] = "",
    maker: Annotated[str, typer.Option(metavar="NAME", help="Who made it.")] = "",
    size: Annotated[str, typer.Option(metavar="SIZE", help='Such as "512 GB".')] = "",
    kind: Annotated[str, typer.Option("--type", metavar="TEXT", help="Media type, such as NVMe.")] = "",
    number: Annotated[str, typer.Option(metavar="TEXT", help="The shop's own number for it.")] = "",
    source: Annotated[str, typer.Option("--from", metavar="TEXT", help="Where it came from.")] = "",
    move: Annotated[
        str,
        typer.Option(
            metavar="DRIVE", help="Put this drive here, such as d7.", autocompletion=completing.drives
        ),
    ] = "",
    cost: Annotated[str, typer.Option(metavar="AMOUNT", help="The cost it carries; 0 for none.")] = "",
    remove: Annotated[
        str,
        typer.Option(
            metavar="DRIVE", help="Take this drive off the records.", autocompletion=completing.drives
        ),
    ] = "",
    reason: Annotated[str, typer.Option(metavar="TEXT", help="Why it is taken off.")] = "",
    none: Annotated[bool, typer.Option("--none", help="You looked: no drive is in the unit.")] = False,
    as_json: AsJson = False,
) -> None:
    """Show, record or move the drives in a unit or on the shelf."""
    from bench.reports.drive_sheet import drives_json, drives_text
    from bench.views.drives import read_drives
    from bench.views.particulars import unit_by_tag
    from bench.work.drive_moves import arrange_drives

    adds = bool(model or serial)
    if none and (adds or move or remove or tag is None):
        raise BadInput("What --none is said of is not clear.", "Give the unit's TAG with it, no more.")
    desk = desk_for(ctx, acts=bool(adds or move or remove or none))
    unit_id = unit_by_tag(desk, tag) if tag is not None else None
    if none and unit_id is not None:
        from bench.work.waivers import no_drive_in_it

        no_drive_in_it(desk, unit_id)
    if adds or move or remove:
        new = {
            "maker": maker,
            "model": model,
            "serial": serial,
            "media_type": kind,
            "media_number": number,
            "size_text": size,
            "came_from": source,
        }
        arrange_drives(
            desk,
            unit_id,
            remove_id=drive_number(remove) if remove else None,
            reason=reason,
            move_id=drive_number(move) if move else None,
            cost_text=cost,
            new=new if adds else None,
        )
    sheet = read_drives(desk, unit_id)
    say_sheet(drives_json(sheet) if as_json else drives_text(sheet))


def wipe(
    ctx: typer.Context,
    which: Which,
    method: Annotated[
        str | None, typer.Argument(metavar="METHOD", help="Record a wipe: clear, purge or destroy.")
    ] = None,
    technique: Annotated[
        str, typer.Argument(metavar="TECHNIQUE", help="How it was done, such as block erase.")
    ] = "",
    verify: Annotated[
        str, typer.Option(metavar="RESULT", help="Record a verification: passed or failed.")
    ] = "",
    how: Annotated[str, typer.Option(metavar="TEXT", help="How it was verified.")] = "",
    tool: Annotated[str, typer.Option(metavar="TEXT", help="The tool it was wiped with.")] = "",
    tool_version: Annotated[str, typer.Option(metavar="TEXT", help="That tool's version.")] = "",
    at: Annotated[str, typer.Option(metavar="TIME", help="When, if not now: 14:30.")] = "",
    title: Annotated[str, typer.Option(metavar="TEXT", help="Your title, for the certificate.")] = "",
    location: Annotated[str, typer.Option(metavar="TEXT", help="Where it was done.")] = "",
    contact: Annotated[str, typer.Option(metavar="TEXT", help="How to reach you.")] = "",
    before: Annotated[str, typer.Option(metavar="TEXT", help="Confidentiality before.")] = "",
    after: Annotated[str, typer.Option(metavar="TEXT", help="Confidentiality after.")] = "",
    destination: Annotated[str, typer.Option(metavar="TEXT", help="Where the drive goes.")] = "",
    note: Annotated[str, typer.Option(metavar="TEXT", help="Anything else.")] = "",
    without: Annotated[
        str, typer.Option(metavar="REASON", help="Let the unit be listed without what is wanting; kept.")
    ] = "",
    as_json: AsJson = False,
) -> None:
    """Record a drive's wipe and its verification."""
    from bench.work.wipes import record_wipe, verify_wipe

    if sum((method is not None, bool(verify), bool(without))) != 1:
        raise BadInput("What to record is not clear.", "Give a METHOD, --verify or --without, one of them.")
    desk = desk_for(ctx, acts=True)
    if without:
        _go_without(desk, which, without)
        return
    chosen = _drive_of(desk, which)
    if method is not None:
        kept = record_wipe(
            desk,
            chosen.drive_id,
            method=method,
            technique=technique,
            tool=tool,
            tool_version=tool_version,
            at_text=at,
            title=title,
            location=location,
            contact=contact,
            confidentiality_before=before,
            confidentiality_after=after,
            destination=destination,
            note=note,
        )
    else:
        kept = verify_wipe(
            desk,
            _to_verify(chosen),
            result=verify,
            verification=how,
            title=title,
            location=location,
            contact=contact,
            at_text=at,
        )
    _say_kept(desk, kept, as_json=as_json)


def certificate(
    ctx: typer.Context,
    which: Which,
    to: Annotated[
        str, typer.Option(metavar="FILE", help="Write it: a name that ends in .txt, .html, .json or .pdf.")
    ] = "",
    as_json: AsJson = False,
) -> None:
    """Print the certificate of sanitization of a drive."""
    from bench.reports.forms import certificate_forms
    from bench.views.certificate import read_certificate

    desk = desk_for(ctx)
    chosen = _drive_of(desk, which)
    if not chosen.wipes:
        raise NotFound(f"No wipe of {chosen.name} is recorded.", "Record the wipe and its verification.")
    made = read_certificate(desk, chosen.wipes[0].wipe_id)
    say_or_save(made, certificate_forms(), to, as_json=as_json)


def drive_number(text: str) -> int:
    """The number of a drive, written as in d7; BadInput for anything else."""
    found = DRIVE_NUMBER.fullmatch(text.strip())
    if found is None:
        from bench.domain.text import quoted

        raise BadInput(f"{quoted(text)} is not a drive's number.", "Write it as in d7; bench drive shows it.")
    return int(found[1])


def _drive_of(desk: Desk, which: str) -> DriveLine:
    """The drive of that number, or the only one in the unit of that tag."""
    from bench.views.drives import read_drive, read_drives
    from bench.views.particulars import unit_by_tag

    if DRIVE_NUMBER.fullmatch(which.strip()):
        return read_drive(desk, drive_number(which))
    sheet = read_drives(desk, unit_by_tag(desk, which))
    if not sheet.drives:
        raise NotFound(f"No drive is recorded in unit {sheet.tag}.", "Record it with bench drive first.")
    if len(sheet.drives) > 1:
        names = ", ".join(f"d{one.drive_id} {one.name}" for one in sheet.drives)
        raise BadInput(f"Unit {sheet.tag} has several drives: {names}.", "Name one by its number.")
    return sheet.drives[0]


def _to_verify(chosen: DriveLine) -> int:
    if not chosen.wipes:
        raise NotFound(f"No wipe of {chosen.name} is recorded.", "Record the wipe first.")
    return chosen.wipes[0].wipe_id


def _go_without(desk: Desk, which: str, reason: str) -> None:
    from bench.views.particulars import unit_by_tag
    from bench.work.waivers import list_without

    words = list_without(desk, unit_by_tag(desk, which), reason)
    without = "; ".join(words) or "what was wanting"
    say(f"Unit {which.strip()} may be listed without ({without}): {reason}")


def _say_kept(desk: Desk, kept: WipeKept, *, as_json: bool) -> None:
    if as_json:
        say_json(desk, "wipe", kept)
        return
    say(f"Wipe {kept.wipe_id} of d{kept.drive_id} {kept.drive}: {kept.method}, {kept.result}.")
    if not kept.counts:
        say("It counts once a verification of it passed.")
