"""Open the workshop's data file: one that is there, or a new one where asked for; refuse any other."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import closing
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from sqlite3 import DatabaseError, OperationalError

from bench.domain.money import minor_digits
from bench.domain.text import clean_line
from bench.domain.weeks import zone_named
from bench.errors import BadInput, CopyThere, MissingFile, StoreError
from bench.store.engine import Store
from bench.store.files import connection_to, is_older, is_there, made_whole, require_own_file
from bench.store.known import KnownFiles, copies_of
from bench.store.refusals import unwritable
from bench.store.side_files import set_aside_all, set_aside_foreign

_COPIES_NAMED = 3


@dataclass(frozen=True, slots=True)
class Wanted:
    """Which file is meant. `named`: by a person, not the default; `new`: said to be made.

    `makes`: whether this start may make one at all; what only reads may not.
    """

    path: Path
    known_in: Path
    named: bool
    new: bool
    makes: bool


def open_wanted(wanted: Wanted, *, person: str, zone: str) -> Store:
    """The file that is meant, open. Only a first start at the default place, or `new`, makes one.

    Raises MissingFile, and makes neither file nor folder, for any other path where there is none.
    """
    known = KnownFiles(wanted.known_in)
    if wanted.new and not wanted.makes:
        raise BadInput("A command that only reads makes no new file.", "Leave out --new.")
    if is_there(wanted.path):
        if wanted.new:
            raise BadInput(
                f"{wanted.path} is there already and was left as it is.",
                "Leave out --new, or name another file.",
            )
        store = open_existing(wanted.path)
    elif wanted.new or (wanted.makes and not wanted.named and wanted.path not in known):
        store = open_or_new(wanted.path, person=person, zone=zone)
    else:
        raise _missing(wanted, known=wanted.path in known)
    known.remember(wanted.path)
    return store


def open_existing(path: Path) -> Store:
    """The open file at `path`, brought up to date if it is older. Never makes one: MissingFile instead.

    Raises StoreError for a file that is foreign, damaged or newer; it is left untouched.
    """
    require_own_file(path)
    notices = set_aside_foreign(path)
    if is_older(path):
        from bench.store.upgrade import upgrade

        kept = upgrade(path)
        if kept is not None:
            notices += (f"{path} was brought up to date; as it was before, it is kept as {kept}.",)
    return Store(path, notices)


def open_to_look(path: Path) -> Store | None:
    """The open file at `path` as it is, for a look in passing; None where it is not there or older.

    Raises StoreError for a file that is foreign or damaged.
    """
    if not is_there(path) or is_older(path):
        return None
    require_own_file(path)
    return Store(path)


def open_or_new(
    path: Path, *, person: str = "Me", shop: str = "My workshop", currency: str = "EUR", zone: str = "UTC"
) -> Store:
    """As `open_existing`, but where there is no file, one with these facts is made first."""
    if is_there(path):
        return open_existing(path)
    notices = set_aside_all(path)
    _make(path, person=person, shop=shop, currency=currency, zone=zone)
    store = open_existing(path)
    store.notices = notices + store.notices
    return store


def name_for_a_copy(path: Path) -> Path:
    """A name beside `path` that no file has yet."""
    number = 1
    while (name := path.with_name(f"{path.stem}-saved-{number}{path.suffix}")).exists():
        number += 1
    return name


def save_what_is_open(store: Store, path_text: str) -> Path:
    """Save what an open store still holds, whatever became of its file, as a new file; answers its path.

    BadInput where nothing is typed; StoreError, and no file, where it is there already, cannot be written
    or would not be whole.
    """
    if not path_text.strip():
        raise BadInput("No file was named.", "Type where to save the copy.", field="path")
    target = Path(path_text.strip()).expanduser()
    if is_there(target):
        raise StoreError(f"{target} is there already and was left as it is.", "Name a new file.")
    try:
        verdict = store.copy_open(target)
        if verdict == "ok" and not _agrees(target):
            target.unlink()
            verdict = "its journal and its tables do not agree"
    except (OSError, OperationalError) as error:
        raise unwritable(target, error) from error
    except DatabaseError as error:  # what was open is no database any more
        verdict = str(error)
    if verdict != "ok":
        copies = tuple(CopyThere(one, _time_of(one)) for one in copies_of(store.path))
        raise StoreError(f"What is open is not whole any more ({verdict}); no copy was kept.", _where(copies))
    return target


def _agrees(copy: Path) -> bool:
    """Whether a copy is what its own journal says: of two files mixed the pages may be whole all the same."""
    from bench.work.check import check_record

    with connection_to(copy) as connection:
        return check_record(connection).agrees


def _missing(wanted: Wanted, *, known: bool) -> MissingFile:
    copies = tuple(CopyThere(one, _time_of(one)) for one in copies_of(wanted.path))
    if known:
        return MissingFile(
            f"{wanted.path} was opened here before and is not there any more; nothing was made in its place.",
            f"{_where(copies)} Put it or a copy back, or say --new for a new, empty workshop.",
            known=True,
            copies=copies,
        )
    if wanted.named:
        near = f" {_where(copies)}" if copies else ""
        return MissingFile(
            f"{wanted.path} is not there, and nothing was made.",
            f"Check the path, or say --new to make a new data file.{near}",
        )
    return MissingFile(
        f"There is no data file yet: {wanted.path}.", "Start the dashboard with bench, or add a first unit."
    )


def _where(copies: Sequence[CopyThere]) -> str:
    if not copies:
        return "No copy lies beside it."
    named = ", ".join(f"{one.path} ({one.when})" for one in copies[:_COPIES_NAMED])
    return f"The newest copies: {named}."


def _time_of(path: Path) -> str:
    return datetime.fromtimestamp(path.stat().st_mtime).astimezone().strftime("%Y-%m-%d %H:%M")


def _make(path: Path, *, person: str, shop: str, currency: str, zone: str) -> None:
    from bench.store.tables import Person, Shop
    from bench.store.upgrade import make_tables
    from bench.work.starting_set import add_starting_set

    zone_named(zone)
    minor_digits(currency)
    try:
        with made_whole(path) as scratch:
            make_tables(scratch)
            with closing(Store(scratch)) as store, store.write() as session:
                session.add(Shop(name=clean_line(shop, "The shop's name"), currency=currency, zone=zone))
                session.add(Person(name=clean_line(person, "The person's name")))
                add_starting_set(session)
    except OSError as error:
        raise StoreError(
            f"{path} cannot be made ({error.strerror}).", "Name another file with --data, or free the folder."
        ) from error
