"""Open the workshop's data file: make it on first start, bring an older one up to date, refuse any other."""

from __future__ import annotations

from pathlib import Path

from bench.domain.money import minor_digits
from bench.domain.text import clean_line
from bench.domain.weeks import zone_named
from bench.errors import StoreError
from bench.store.engine import Store
from bench.store.files import is_older, made_whole, require_own_file


def open_store(
    path: Path, *, person: str = "Me", shop: str = "My workshop", currency: str = "EUR", zone: str = "UTC"
) -> Store:
    """The open file at `path`. The other arguments are used for a new file only.

    Raises StoreError for a file that is foreign, damaged or newer; it is left untouched.
    """
    if path.is_dir():
        raise StoreError(f"{path} is a folder, not a data file.", "Name a file with --data.")
    if not path.exists():
        _make(path, person=person, shop=shop, currency=currency, zone=zone)
    require_own_file(path)
    if is_older(path):
        from bench.store.upgrade import upgrade

        upgrade(path)
    return Store(path)


def _make(path: Path, *, person: str, shop: str, currency: str, zone: str) -> None:
    from bench.store.tables import Person, Shop
    from bench.store.upgrade import make_tables
    from bench.work.starting_set import add_starting_set

    zone_named(zone)
    minor_digits(currency)
    try:
        with made_whole(path) as scratch:
            make_tables(scratch)
            store = Store(scratch)
            try:
                with store.write() as session:
                    session.add(Shop(name=clean_line(shop, "The shop's name"), currency=currency, zone=zone))
                    session.add(Person(name=clean_line(person, "The person's name")))
                    add_starting_set(session)
            finally:
                store.close()
    except OSError as error:
        raise StoreError(
            f"{path} cannot be made ({error.strerror}).", "Name another file with --data, or free the folder."
        ) from error
