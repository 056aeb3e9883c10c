"""Faults: recorded in a line, described, cured or left as they are; listed, with what they cost."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Annotated

import typer

from bench.commands.arguments import AsJson
from bench.commands.opening import desk_for
from bench.commands.printing import say, say_json, say_sheet
from bench.errors import BadInput

if TYPE_CHECKING:
    from bench.desk import Desk
    from bench.work.faults import FaultKept

FAULT_NUMBER = re.compile(r"f([0-9]{1,12})", re.IGNORECASE)


def fault(
    ctx: typer.Context,
    which: Annotated[
        str | None,
        typer.Argument(metavar="TAG|FAULT", help="A unit, or a fault: f7. Without: all that are open."),
    ] = None,
    symptom: Annotated[str | None, typer.Argument(metavar="TEXT", help="What is seen, in a line.")] = None,
    place: Annotated[
        str | None, typer.Option(metavar="PART", help="Where: display, hinge, fan; none is not said.")
    ] = None,
    origin: Annotated[
        str | None, typer.Option(metavar="WHOSE", help="Of whom: before, ours (our own slip), part, unknown.")
    ] = None,
    suspected: Annotated[str | None, typer.Option(metavar="TEXT", help="What may be the cause.")] = None,
    cause: Annotated[str | None, typer.Option(metavar="TEXT", help="The cause that was found.")] = None,
    cured: Annotated[
        str | None, typer.Option(metavar="TEXT", help="It is cured: what was done, or a test as in t12.")
    ] = None,
    stays: Annotated[
        str | None, typer.Option(metavar="TEXT", help="It stays: why. The buyer is told.")
    ] = None,
    reopen: Annotated[bool, typer.Option("--open", help="It is open again.")] = False,
    task: Annotated[
        str | None, typer.Option(metavar="TASK", help="The unit's task that is for it: number or name.")
    ] = None,
    entry: Annotated[int | None, typer.Option(metavar="NUMBER", help="A time spent on it.")] = None,
    part: Annotated[int | None, typer.Option(metavar="NUMBER", help="A part fitted for it.")] = None,
    back: Annotated[bool, typer.Option("--return", help="The unit's last return was for it.")] = False,
    off: Annotated[bool, typer.Option("--off", help="That does not belong to it after all.")] = False,
    remove: Annotated[str | None, typer.Option(metavar="REASON", help="It was none: why.")] = None,
    closed: Annotated[bool, typer.Option("--all", help="List those that are closed too.")] = False,
    by: Annotated[
        str, typer.Option(metavar="WHAT", help="What they cost, by place, model, origin or fault.")
    ] = "",
    as_json: AsJson = False,
) -> None:
    """List faults, record one, say more of it, or show it.

    `bench fault 10014 "fan rattles"` records one, `bench fault f7` shows it, `bench fault
    10014` lists those of a unit with its tests. With a fault, a TEXT corrects what is
    seen; --task, --entry, --part, --return belong to it.
    """
    if which is None or by or closed:
        _say_faults(ctx, which, closed, by, as_json)
        return
    number = FAULT_NUMBER.fullmatch(which.strip())
    ends = [cured is not None, stays is not None, reopen]
    if sum(ends) > 1:
        raise BadInput("What became of it was said twice.", "Give one of --cured, --stays, --open.")
    said = (symptom, place, origin, suspected, cause)
    belongs = (task, entry, part, back or None)
    if number is None:
        if symptom is None and place is None and not any(ends):
            _say_faults(ctx, which, closed, by, as_json)
            return
        desk = desk_for(ctx, acts=True)
        if symptom is None:
            raise BadInput("What is seen is not said.", 'Write it as in: bench fault 10014 "fan rattles".')
        if (
            any(ends)
            or cause is not None
            or remove is not None
            or any(one is not None for one in belongs[1:])
        ):
            raise BadInput("That is said of a fault that is recorded.", "Record it first: then f7.")
        _say_kept(desk, _add(desk, which, symptom, place, origin, suspected, task), as_json)
        return
    fault_id = int(number[1])
    acts = any(one is not None for one in (*said, *belongs, remove)) or any(ends)
    desk = desk_for(ctx, acts=acts)
    if not acts:
        _say_fault(desk, fault_id, as_json)
    elif remove is not None:
        from bench.work.faults import remove_fault

        remove_fault(desk, fault_id, remove)
        say(f"Took fault f{fault_id} off.")
    else:
        _say_kept(
            desk,
            _changed(desk, fault_id, said, (cured, stays, reopen), belongs, off=off),
            as_json,
        )


def _say_faults(ctx: typer.Context, tag: str | None, closed: bool, by: str, as_json: bool) -> None:
    """Those of a unit, those of the shop, or what they cost."""
    from bench.reports import faults as papers

    desk = desk_for(ctx)
    if by:
        from bench.views.fault_costs import read_fault_report

        report = read_fault_report(desk, by.strip().casefold())
        say_sheet(papers.fault_report_json(report) if as_json else papers.fault_report_text(report))
    elif tag is not None:
        from bench.views.faults import read_unit_faults
        from bench.views.particulars import unit_by_tag

        view = read_unit_faults(desk, unit_by_tag(desk, tag))
        say_sheet(papers.unit_faults_json(view) if as_json else papers.unit_faults_text(view))
    else:
        from bench.views.faults import read_faults

        listed = read_faults(desk, closed=closed)
        say_sheet(papers.faults_json(listed) if as_json else papers.faults_text(listed))


def fault_number(text: str) -> int:
    """The number of a fault, written as in f7; BadInput for anything else."""
    found = FAULT_NUMBER.fullmatch(text.strip())
    if found is None:
        from bench.domain.text import quoted

        raise BadInput(f"{quoted(text)} is not a fault's number.", "Write it as in f7; bench fault shows it.")
    return int(found[1])


def _add(
    desk: Desk,
    tag: str,
    symptom: str,
    place: str | None,
    origin: str | None,
    suspected: str | None,
    task: str | None,
) -> FaultKept:
    from bench.views.particulars import unit_by_tag
    from bench.work.faults import add_fault

    unit_id = unit_by_tag(desk, tag)
    task_id = None if task is None else _task(desk, unit_id, task)
    return add_fault(
        desk,
        unit_id,
        symptom=symptom,
        place=place or "",
        origin=origin or "",
        suspected=suspected or "",
        task_id=task_id,
    )


def _changed(
    desk: Desk,
    fault_id: int,
    said: tuple[str | None, ...],
    ends: tuple[str | None, str | None, bool],
    belongs: tuple[str | None, int | None, int | None, bool | None],
    *,
    off: bool,
) -> FaultKept:
    """Say more of a fault, and what belongs to it, in one transaction."""
    from bench.views.fault_costs import read_fault
    from bench.work.change import together
    from bench.work.faults import edit_fault, point_to_fault

    unit_id = read_fault(desk, fault_id).fault.unit_id
    symptom, place, origin, suspected, cause = said
    cured, stays, reopen = ends
    task, entry, part, back = belongs
    test = re.fullmatch(r"t([0-9]{1,12})", (cured or "").strip(), re.IGNORECASE)
    state = "cured" if cured is not None else "stays" if stays is not None else "open" if reopen else None
    task_id = None if task is None else _task(desk, unit_id, task)
    comeback_id = _last_return(desk, unit_id) if back else None
    kept = None
    with together(desk) as joint:
        if state is not None or any(one is not None for one in said):
            kept = edit_fault(
                joint,
                fault_id,
                symptom=symptom,
                place=None if place is None else place.replace("none", ""),
                origin=origin,
                suspected=suspected,
                cause=cause,
                state=state,
                done=stays if test is not None or cured is None else cured,
                closed_by_test_id=int(test[1]) if test is not None else None,
            )
        if any(one is not None for one in (task_id, entry, part, comeback_id)):
            kept = point_to_fault(
                joint,
                fault_id,
                task_id=task_id,
                entry_id=entry,
                part_id=part,
                comeback_id=comeback_id,
                off=off,
            )
    assert kept is not None
    return kept


def _task(desk: Desk, unit_id: int, text: str) -> int:
    from bench.commands.named import task_named
    from bench.views.unit import read_unit

    return task_named(read_unit(desk, unit_id), text).task_id


def _last_return(desk: Desk, unit_id: int) -> int:
    from bench.views.sales import read_sales

    back = read_sales(desk, unit_id).back
    if back is None:
        raise BadInput("That unit has not come back from its last sale.", "Record the return first.")
    return back.comeback_id


def _say_fault(desk: Desk, fault_id: int, as_json: bool) -> None:
    from bench.reports.faults import fault_json, fault_text
    from bench.views.fault_costs import read_fault

    sheet = read_fault(desk, fault_id)
    say_sheet(fault_json(sheet) if as_json else fault_text(sheet))


def _say_kept(desk: Desk, kept: FaultKept, as_json: bool) -> None:
    if as_json:
        say_json(desk, "fault_kept", kept)
        return
    from bench.domain.faults import STATES

    where = f", {kept.place}" if kept.place else ""
    say(f"Fault f{kept.fault_id} of {kept.tag}{where}: {kept.symptom} ({STATES[kept.state]}).")
