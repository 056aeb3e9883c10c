"""Copies of the data file: one a day, one when asked for, one before what is risky; and one put back."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from pathlib import Path

from bench.desk import Clock, Desk
from bench.domain.copies import BY_HAND, DAILY, Copies, FileCopy, name_of, of_day, to_drop
from bench.domain.localtime import day_and_time
from bench.domain.text import quoted
from bench.domain.weeks import day_bounds_us, local_day
from bench.errors import BadInput, NotFound, StoreError
from bench.store import copies as files
from bench.store.photographs import folder_there
from bench.store.restoring import Line
from bench.store.restoring import restore as put_back
from bench.views.shop import PersonLine, people, read_shop


@dataclass(frozen=True, slots=True)
class Restored:
    """What a restore put where, and what became of what was there.

    `kept`: the copy of it where it was `sound`, else where it was set aside; empty where nothing was there.
    `side_files`: where files of a database that was no longer there were set aside.
    """

    path: str
    source: str
    kept: str
    sound: bool
    side_files: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CopyMade:
    """A verified copy: where it lies and how large it is.

    `left_out`: the folder of photographs that it does not hold; empty where there is none.
    """

    path: str
    size_bytes: int
    left_out: str = ""


def back_up(desk: Desk, to: Path | None = None) -> CopyMade:
    """Copy the data file and verify the copy: into its folder of copies, or to a file or folder named.

    StoreError for a file that is there already, and for what the disk does not let through.
    """
    desk.store.require_same_file()
    path, now_us = desk.store.path, desk.clock.now_us()
    if to is None:
        made = files.make_copy(path, BY_HAND, now_us)
        return CopyMade(str(files.copies_folder(path) / made.name), made.size_bytes, folder_there(path))
    target = to / f"{path.stem} {name_of(now_us, BY_HAND)}" if to.is_dir() else to
    files.copy_to(path, target)
    return CopyMade(str(target.absolute()), target.stat().st_size, folder_there(path))


def copy_of_the_day(desk: Desk) -> FileCopy | None:
    """Make today's copy unless there is one, and delete those that need not be kept; None: it was there.

    StoreError when it cannot be made or an old one cannot be deleted.
    """
    path, now_us = desk.store.path, desk.clock.now_us()
    zone = read_shop(desk).zone
    today = local_day(now_us, zone)

    def there(copies: tuple[FileCopy, ...]) -> bool:
        return of_day(copies, today, zone)

    if there(files.copies_of(path)):  # most starts: no need to wait for another program's copy
        return None
    made = files.make_copy_unless(path, DAILY, now_us, there)
    if made is None:
        return None
    old = [one for one in to_drop(files.copies_of(path), zone) if one.name != made.name]
    files.drop(path, old)
    return made


def next_day_us(desk: Desk) -> int:
    """The instant at which the next day begins, and with it the need for a new copy."""
    zone = read_shop(desk).zone
    return day_bounds_us(local_day(desk.clock.now_us(), zone), zone)[1]


def read_copies(desk: Desk) -> Copies:
    """The copies of the open file, the newest first."""
    path = desk.store.path
    return copies_beside(path, read_shop(desk).zone)


def copies_beside(path: Path, zone: str) -> Copies:
    """The copies of a data file that may be missing or damaged itself, their days by that zone."""
    return Copies(str(files.copies_folder(path)), files.copies_of(path), zone, folder_there(path))


def restore(path: Path, chosen: str, clock: Clock, *, named: str = "", login: str = "") -> Restored:
    """Put a copy in the place of the data file: a path, or the name of one in its folder of copies.

    Its journal says who did it: `named`, else whoever bears the `login`, else the only person in the copy.
    BadInput for an empty name or where nothing says who, NotFound for a name not in the copy, Conflict while
    another program has the file open, StoreError for a copy that is foreign, damaged or newer than this
    program: nothing is replaced then.
    """
    if not chosen.strip():
        raise BadInput("The copy is not named.", "`bench restore` without a name lists the copies.")
    source = Path(chosen).expanduser()
    if not source.exists() and source.name == chosen:
        source = files.copies_folder(path) / chosen
    done = put_back(path, source, clock.now_us(), lambda copy: _line(copy, source.name, named, login))
    return Restored(
        path=str(path.absolute()),
        source=str(source.absolute()),
        kept=str(done.kept or ""),
        sound=done.sound,
        side_files=tuple(str(one) for one in done.side_files),
    )


def _line(copy: sqlite3.Connection, name: str, named: str, login: str) -> Line:
    person = _who(copy, named, login)
    newest = copy.execute("SELECT MAX(at_us) FROM journal").fetchone()[0]
    zone = copy.execute("SELECT zone FROM shop").fetchone()
    state = "nothing booked in it"
    if newest is not None and zone is not None:
        state = f"last booked in {day_and_time(newest, zone[0])}"
    return Line(person.person_id, f"Put back the copy {name}, {state}")


def _who(copy: sqlite3.Connection, named: str, login: str) -> PersonLine:
    there = people(copy)
    if not there:
        raise StoreError("That copy names nobody who works in it.", "Choose another; nothing was changed.")
    known = ", ".join(one.name for one in there)
    for name in (named, login):
        for one in there:
            if name and one.name.casefold() == name.strip().casefold():
                return one
        if named:
            raise NotFound(f"Nobody in that copy is named {quoted(named)}.", f"The people are: {known}.")
    if len(there) != 1:
        raise BadInput(f"Several people work in that copy: {known}.", "Say who with --person.")
    return there[0]


def leave_whole(desk: Desk) -> bool:
    """Bring all that was written into the one file, so that a plain copy of it is whole; whether it went.

    Another file that has taken its place is left as it is.
    """
    return not desk.store.lost() and files.checkpoint(desk.store.path)
