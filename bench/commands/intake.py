"""What a machine says of itself: the collector for a boot stick, and its file taken in."""

from __future__ import annotations

import sys
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from bench.commands.arguments import AsJson
from bench.commands.opening import desk_for
from bench.commands.printing import CAUTION, say, say_json, say_sheet
from bench.errors import BadInput

if TYPE_CHECKING:
    from bench.work.intake import TakenIn

STANDARD_INPUT = "-"
SCRIPT = "collect.sh"


def collector(
    to: Annotated[str, typer.Option("--to", metavar="PATH", help="Write it there instead.")] = "",
) -> None:
    """Print the script that reads out a machine."""
    script = files("bench").joinpath("collector", SCRIPT).read_text(encoding="utf-8")
    if not to:
        say_sheet(script)
        return
    path = Path(to).expanduser()
    try:
        with path.open("x", encoding="utf-8", newline="\n") as file:
            file.write(script)
    except FileExistsError:
        raise BadInput(f"{path} is there already and was left as it is.", "Name a new file.") from None
    except OSError as error:
        raise BadInput(f"{path} cannot be written ({error.strerror}).", "Name another place.") from error
    say(f"Wrote {path}. Run it on the machine, as root: sh {path.name}")


def intake(
    ctx: typer.Context,
    file: Annotated[str, typer.Argument(metavar="FILE", help="What the collector left; - to read it here.")],
    tag: Annotated[
        str, typer.Argument(metavar="[TAG]", help="Which unit; else by serial number, else a new one.")
    ] = "",
    route: Annotated[str, typer.Option(metavar="NAME", help="The route whose tasks a new unit gets.")] = "",
    after: Annotated[
        bool, typer.Option("--after", help="Its readings are after the work; without it, before.")
    ] = False,
    again: Annotated[str, typer.Option(metavar="REASON", help="Why, if it seems to have left already.")] = "",
    as_json: AsJson = False,
) -> None:
    """Take in a collector's file: it makes a unit or fills one."""
    from bench.domain.machine.sections import MOST_BYTES
    from bench.work.intake import take_in

    desk = desk_for(ctx, acts=True)
    here = file == STANDARD_INPUT
    taken = take_in(
        desk,
        path=None if here else Path(file).expanduser(),
        data=sys.stdin.buffer.read(MOST_BYTES + 1) if here else b"",
        tag_text=tag,
        route_id=_route(ctx, route),
        moment="after" if after else "before",
        again=again,
    )
    if as_json:
        say_json(desk, "taken_in", taken)
    else:
        _say_taken(taken)


def _route(ctx: typer.Context, route: str) -> int | None:
    if not route:
        return None
    from bench.commands.named import the_one
    from bench.views.routes import read_routes

    return the_one(route, read_routes(desk_for(ctx)), lambda line: line.name, "route").route_id


def _say_taken(taken: TakenIn) -> None:
    from bench.reports.condition_sheet import verdict_lines
    from bench.reports.specification import change_lines, machine_lines

    say(f"{'Added' if taken.new_unit else 'Filled'} unit {taken.tag}.")
    lines = machine_lines(taken.machine) if taken.first else change_lines(taken.changes)
    for line in lines:
        say_sheet(line)
    for reading in taken.readings:
        say(f"Reading {reading.reading_id}, {reading.subject} {reading.moment} the work:")
        for line in verdict_lines(reading.verdicts, start=2):
            say_sheet(line)
    for told in taken.told:
        say(told, style=CAUTION if taken.cell_finding else "")
