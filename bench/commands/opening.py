"""Open the person's own file for a command: which file, and who acts."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from bench.errors import BadInput
from bench.settings import Settings, local_zone, login_name, read_settings

if TYPE_CHECKING:
    from bench.work.desk import Desk


@dataclass(frozen=True)
class Start:
    """What stood before the command: `--data` and `--person`."""

    data: Path | None = None
    person: str | None = None

    def settings(self) -> Settings:
        """The settings in force for this start."""
        return read_settings(os.environ, data=self.data)


def desk_for(ctx: typer.Context, *, acts: bool = False) -> Desk:
    """The desk on the person's file; a new file is made at the first start. Closed when the command ends.

    Who it belongs to: `--person`, BENCH_PERSON or the settings, else whoever is logged in, else the only
    person. BadInput when several people work in the file, nothing says who this is, and the command `acts`.
    """
    start: Start = ctx.obj
    desk = desk_on(start.settings(), start.person, via="command", acts=acts)
    ctx.call_on_close(desk.store.close)
    return desk


def desk_on(settings: Settings, person: str | None, *, via: str, acts: bool) -> Desk:
    """The same with settings already read, for whoever closes it."""
    from bench.work.desk import Desk, SystemClock
    from bench.work.files import open_store

    named = person or settings.person
    store = open_store(
        settings.data_path, person=named or login_name(os.environ), zone=local_zone(os.environ)
    )
    desk = Desk(store, SystemClock(), 0, via)
    return desk.as_person(_who(desk, named, acts=acts))


def _who(desk: Desk, named: str | None, *, acts: bool) -> int:
    from bench.work.people import person_named, read_people

    if named:
        return person_named(desk.store, named)
    people = read_people(desk)
    login = login_name(os.environ).casefold()
    me = [one for one in people if one.name.casefold() == login] or list(people)
    if acts and len(me) > 1:
        names = ", ".join(one.name for one in me)
        raise BadInput(f"Several people work in this file: {names}.", "Say who with --person.")
    return me[0].person_id
