"""The register of second-hand goods, the people in it, and erasing their data."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from bench.commands.arguments import AsCsv, AsJson, one_form
from bench.commands.opening import desk_for
from bench.commands.printing import CAUTION, say, say_json, say_or_save, say_sheet
from bench.errors import BadInput

if TYPE_CHECKING:
    from bench.desk import Desk
    from bench.domain.party import Erased

DUE, AGAIN = "due", "again"


def register(
    ctx: typer.Context,
    span: Annotated[
        str | None,
        typer.Argument(metavar="[SPAN]", help="Only what happened in 2026, or in 2026-11; else all of it."),
    ] = None,
    to: Annotated[
        str, typer.Option(metavar="FILE", help="Write it: a name that ends in .txt, .csv, .html or .json.")
    ] = "",
    as_csv: AsCsv = False,
    as_json: AsJson = False,
) -> None:
    """Show the register of second-hand goods, or write it."""
    from bench.domain.spans import Span
    from bench.reports.forms import register_forms
    from bench.views.register import read_register

    one_form(as_csv, as_json)
    wanted = None if span is None else Span.parse(span)
    made = read_register(desk_for(ctx), None if wanted is None else (wanted.first, wanted.last))
    say_or_save(made, register_forms(), to, as_json=as_json, as_csv=as_csv)


def parties(
    ctx: typer.Context,
    due: Annotated[bool, typer.Option("--due", help="Only those whose data may be erased now.")] = False,
    as_json: AsJson = False,
) -> None:
    """Show who was traded with, and until when they are kept."""
    from bench.domain.weeks import local_day
    from bench.reports.register import parties_text
    from bench.views.parties import due_for_erasing, read_parties
    from bench.views.shop import read_shop

    desk = desk_for(ctx)
    lines = due_for_erasing(desk) if due else read_parties(desk)
    if as_json:
        say_json(desk, "parties", lines)
    else:
        say_sheet(parties_text(lines, local_day(desk.clock.now_us(), read_shop(desk).zone)))


def erase(
    ctx: typer.Context,
    who: Annotated[
        str,
        typer.Argument(metavar="NUMBER|due|again", help="Whose data; again: rewrite the file once more."),
    ],
    reason: Annotated[str, typer.Argument(metavar="REASON", help="Why; it stays, so it names nobody.")] = "",
    early: Annotated[
        bool, typer.Option("--early", help="Before the shop's time is over, where the law lets you.")
    ] = False,
    as_json: AsJson = False,
) -> None:
    """Erase people's data from the file; figures stay."""
    from bench.domain.typed import read_whole
    from bench.work.parties import erase_due, erase_party

    desk = desk_for(ctx, acts=True)
    if who.strip().casefold() == AGAIN:
        _again(desk)
        return
    if who.strip().casefold() == DUE:
        if early:
            raise BadInput("--early is for one party.", "Give its number.")
        erased = erase_due(desk, reason)
    else:
        number = read_whole(who, "The party's number", 1, 10**9)
        erased = erase_party(desk, number, reason, early=early)
    if as_json:
        say_json(desk, "erased", erased)
    else:
        _say_erased(erased)


def _again(desk: Desk) -> None:
    from bench.errors import Refused
    from bench.work.parties import rewrite_file

    left = rewrite_file(desk)
    if left:
        raise Refused(f"The file could not be rewritten ({left}).", "Close other programs on it and repeat.")
    say("The file was rewritten: of what was erased no bytes are left in it.")


def _say_erased(erased: Erased) -> None:
    numbers = ", ".join(str(number) for number in erased.party_ids)
    say(f"Erased the data of party {numbers}. It cannot be undone.")
    for place in erased.left_in:
        say(f"The same words still stand in: {place}. Look there.", style=CAUTION)
    if erased.not_rewritten:
        say(
            f"Old bytes may be left in the file ({erased.not_rewritten}). "
            "Close other programs on it, then run: bench erase again",
            style=CAUTION,
        )
    if erased.photographs:
        say(f"Erased {erased.photographs} photograph{'s'[: erased.photographs > 1]} of machines they own.")
    for one in erased.photographs_left:
        say(f"A photograph's file could not be deleted: {one}. Delete it by hand.", style=CAUTION)
    if erased.in_copies:
        say(f"They still stand in {erased.in_copies}; those of each day go within a year.")
    say("Copies elsewhere and exports keep what they hold: deal with those too.")
