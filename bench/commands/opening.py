"""Open the person's own file for a command: which file, and who acts."""

from __future__ import annotations

import os
from contextlib import ExitStack
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from bench.commands.printing import complain, say, say_sheet
from bench.domain.localtime import day_and_time
from bench.errors import BadInput, BenchError
from bench.settings import Settings, local_zone, login_name, read_settings

if TYPE_CHECKING:
    from bench.desk import Desk


@dataclass
class Start:
    """What was asked of the program: `--data`, `--person`, `--once`, `--new`, `--debug`; what is booked.

    `asked`: the command and its arguments as typed. `closing`: what is closed once all is said and copied.
    """

    data: Path | None = None
    person: str | None = None
    once: str | None = None
    new: bool = False
    debug: bool = False
    asked: tuple[str, ...] = ()
    booked: list[str] = field(default_factory=list)
    desk: Desk | None = None
    closing: ExitStack = field(default_factory=ExitStack)

    def settings(self) -> Settings:
        """The settings in force for this start."""
        return read_settings(os.environ, data=self.data)

    def require_no_key(self) -> None:
        """Pass unless a key was given with a command that cannot use it."""
        if self.once is not None:
            raise BadInput("--once was given, and the command books nothing.", "Leave it out.")


def desk_for(ctx: typer.Context, *, acts: bool = False) -> Desk:
    """The desk on the person's file, closed when the command ends. What only reads never makes a file.

    Who it belongs to: `--person`, BENCH_PERSON or the settings, else whoever is logged in, else the only
    person. BadInput when several people work in the file, nothing says who this is, and the command `acts`.
    """
    from bench.work.booking import booking_of, require_not_booked

    start: Start = ctx.obj
    if not acts:
        start.require_no_key()
    booking = booking_of(start.once, start.asked)
    desk = desk_on(start.settings(), start.person, via="command", acts=acts, new=start.new)
    start.closing.callback(desk.store.close)
    start.booked, start.desk = booking.summaries, replace(desk, booking=booking)
    require_not_booked(start.desk)
    return start.desk


def say_booked_already(start: Start, error: BenchError) -> bool:
    """Where the script's key shows that the command was booked before, say so; answers whether it was.

    Asked again after any error: another program may have booked it with this key while the command ran.
    """
    from bench.work.booking import BookedAlready, require_not_booked

    try:
        if not isinstance(error, BookedAlready) and start.desk is not None:
            require_not_booked(start.desk)
    except BookedAlready as found:
        error = found
    except BenchError:
        return False
    if not isinstance(error, BookedAlready):
        return False
    start.booked.append(error.line.summary)
    if "--json" in start.asked:
        from bench.reports.plain_values import facts_of, json_text

        say_sheet(json_text("booked_already", facts_of(error.line, error.zone)))
    else:
        when = day_and_time(error.line.at_us, error.zone)
        undone = " It was undone since." if error.line.undone else ""
        say(f"Booked already, {when} by {error.line.person}: {error.line.summary}.{undone}")
    return True


def desk_on(settings: Settings, person: str | None, *, via: str, acts: bool, new: bool = False) -> Desk:
    """The same with settings already read, for whoever closes it; the dashboard may make a first file."""
    from bench.desk import Desk, SystemClock
    from bench.work.files import Wanted, open_wanted

    named = person or settings.person
    wanted = Wanted(
        settings.data_path,
        settings.known_files,
        named=settings.data_named,
        new=new,
        makes=acts or via == "dashboard",
    )
    with ExitStack() as closing:
        store = open_wanted(wanted, person=named or login_name(os.environ), zone=local_zone(os.environ))
        closing.callback(store.close)
        for notice in store.notices:
            complain(notice)
        desk = Desk(store, SystemClock(), 0, via)
        desk = desk.as_person(_who(desk, named, acts=acts))
        closing.pop_all()
    return desk


def _who(desk: Desk, named: str | None, *, acts: bool) -> int:
    from bench.views.shop import person_named, read_people

    if named:
        return person_named(desk.store, named)
    people = read_people(desk)
    login = login_name(os.environ).casefold()
    me = [one for one in people if one.name.casefold() == login] or list(people)
    if acts and len(me) > 1:
        names = ", ".join(one.name for one in me)
        raise BadInput(f"Several people work in this file: {names}.", "Say who with --person.")
    return me[0].person_id
