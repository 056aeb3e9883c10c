"""Tests as they end, and how sure the rates are that follow from them and from returns."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from bench.commands.arguments import AsJson, Tag
from bench.commands.faults import fault_number
from bench.commands.opening import desk_for
from bench.commands.printing import CAUTION, say, say_json, say_sheet
from bench.errors import BadInput

if TYPE_CHECKING:
    from bench.desk import Desk
    from bench.work.outcomes import Ended


def end(
    ctx: typer.Context,
    tag: Tag,
    kind: Annotated[
        str | None,
        typer.Argument(metavar="TEST", help="Its kind, such as soak or memory; or the task's number."),
    ] = None,
    outcome: Annotated[
        str | None, typer.Argument(metavar="OUTCOME", help='How it ended: passed, failed or "broken off".')
    ] = None,
    figures: Annotated[
        list[str] | None,
        typer.Argument(metavar="FIGURE=VALUE", help='Figures, such as "hottest=91 °C".'),
    ] = None,
    ran: Annotated[str, typer.Option(metavar="LENGTH", help="How long it ran; else by its timers.")] = "",
    note: Annotated[str, typer.Option(metavar="TEXT", help="Anything else.")] = "",
    seen: Annotated[str, typer.Option("--fault", metavar="TEXT", help="What is seen, or a fault: f7.")] = "",
    cures: Annotated[
        list[str] | None, typer.Option(metavar="FAULT", help="A fault that it shows cured, as in f7.")
    ] = None,
    remove: Annotated[
        int | None, typer.Option(metavar="NUMBER", help="Take this attempt off, --note says why.")
    ] = None,
    as_json: AsJson = False,
) -> None:
    """Say how a test of a unit ended, or show its tests.

    A test that failed opens a fault, and is to do again with the tests that came later.
    """
    acts = kind is not None or remove is not None
    desk = desk_for(ctx, acts=acts)
    from bench.views.particulars import unit_by_tag

    unit_id = unit_by_tag(desk, tag)
    if remove is not None:
        from bench.work.outcomes import remove_test

        remove_test(desk, remove, note)
        say(f"Took test t{remove} off.")
    elif kind is None:
        _say_outcomes(desk, unit_id, as_json)
    else:
        if outcome is None:
            raise BadInput("How it ended is not said.", 'Say passed, failed or "broken off".')
        ended = _ended(desk, unit_id, kind, outcome, figures or [], ran, note, seen, cures or [])
        _say_ended(desk, ended, as_json)


def return_rates(
    ctx: typer.Context,
    claim: Annotated[
        str, typer.Option(metavar="PERCENT", help="How many sales would show that fewer come back.")
    ] = "",
    as_json: AsJson = False,
) -> None:
    """Show how many units come back, how many tests fail."""
    from bench.domain.percent import read_percent
    from bench.reports.rates import rates_json, rates_text
    from bench.views.rates import read_rates

    share = read_percent(claim, "The share") if claim.strip() else None
    sheet = read_rates(desk_for(ctx), share)
    say_sheet(rates_json(sheet) if as_json else rates_text(sheet))


def _ended(
    desk: Desk,
    unit_id: int,
    kind: str,
    outcome: str,
    figures: list[str],
    ran: str,
    note: str,
    seen: str,
    cures: list[str],
) -> Ended:
    from bench.commands.channels import parted
    from bench.commands.faults import FAULT_NUMBER
    from bench.commands.named import task_named
    from bench.views.unit import read_unit
    from bench.work.outcomes import end_test

    task_id = None
    if kind.strip().isdigit():
        task_id, kind = task_named(read_unit(desk, unit_id), kind.strip()).task_id, ""
    known = FAULT_NUMBER.fullmatch(seen.strip())
    return end_test(
        desk,
        unit_id,
        kind=kind,
        task_id=task_id,
        outcome=outcome,
        figures=dict(parted(one, "hottest=91") for one in figures),
        ran_text=ran,
        note=note,
        symptom="" if known else seen,
        fault_id=int(known[1]) if known else None,
        cures=tuple(fault_number(one) for one in cures),
    )


def _say_outcomes(desk: Desk, unit_id: int, as_json: bool) -> None:
    from bench.reports.faults import unit_faults_json, unit_faults_text
    from bench.views.faults import read_unit_faults

    view = read_unit_faults(desk, unit_id)
    say_sheet(unit_faults_json(view) if as_json else unit_faults_text(view))


def _say_ended(desk: Desk, ended: Ended, as_json: bool) -> None:
    if as_json:
        say_json(desk, "test_ended", ended)
        return
    from bench.domain.durations import hours_and_minutes
    from bench.domain.outcomes import KINDS

    ran = f" after {hours_and_minutes(ended.ran_us)}" if ended.ran_us is not None else ""
    say(f"{KINDS[ended.kind].label} of {ended.tag}: {ended.outcome}{ran}.")
    if ended.fault_id is not None:
        say(f"  fault f{ended.fault_id}: {ended.symptom}", style=CAUTION)
    if ended.again:
        say(f"  to do again: {', '.join(ended.again)}")
    for cured in ended.cured:
        say(f"  fault f{cured} is cured.")
    if ended.held:
        say(f"  {ended.tag} is offered for sale, and waits now.", style=CAUTION)
