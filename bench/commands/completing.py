"""What a shell offers at the Tab key: tags, drives, tasks, consumables, people and stages of one's own file.

Read only and never in the way: no file, a busy, an older or a damaged one offers nothing, and soon.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from threading import Thread
from typing import TYPE_CHECKING

import typer

from bench.errors import BenchError
from bench.settings import read_settings

if TYPE_CHECKING:
    from bench.desk import Desk

PATIENCE_SECONDS = 1.5  # a person waits at the key
ASKED_BY = "_BENCH_COMPLETE"
# Some shells run what they are offered through their own grammar: whatever could be a command is left out.
PLAIN = re.compile(r"[\w .,/+%-]+")
Offered = list[tuple[str, str]]


def units(context: typer.Context, begun: str) -> Offered:
    """The tags of the units that are here, each with its model."""
    return _offered(context, begun, _units)


def drives(context: typer.Context, begun: str) -> Offered:
    """The drives in the units that are here and on the shelf, by number as in d7, each with its name."""
    return _offered(context, begun, _drives)


def units_and_drives(context: typer.Context, begun: str) -> Offered:
    """Tags, and drives by number."""
    return _offered(context, begun, lambda desk: (*_units(desk), *_drives(desk)))


def tasks(context: typer.Context, begun: str) -> Offered:
    """The tasks of the unit that was named, by name."""
    tag = str(context.params.get("tag") or "")
    return _offered(context, begun, lambda desk: _tasks(desk, tag)) if tag else []


def consumables(context: typer.Context, begun: str) -> Offered:
    """The consumables, each with what is on hand."""
    return _offered(context, begun, _consumables)


def people(context: typer.Context, begun: str) -> Offered:
    """Those who work here."""
    return _offered(context, begun, _people)


def stages(context: typer.Context, begun: str) -> Offered:
    """The stages, in their order."""
    return _offered(context, begun, _stages)


def _units(desk: Desk) -> Iterator[tuple[str, str]]:
    from bench.views.queue import read_queue

    for stage in read_queue(desk).stages:
        for row in stage.rows:
            yield row.tag, f"{row.model}, {stage.name}"


def _drives(desk: Desk) -> Iterator[tuple[str, str]]:
    from bench.views.finding import all_present
    from bench.views.finding_texts import DRIVE

    for one in all_present(desk, DRIVE):
        yield f"d{one.number}", ", ".join(filter(None, (one.name, one.tag or one.place)))


def _tasks(desk: Desk, tag: str) -> Iterator[tuple[str, str]]:
    from bench.views.particulars import unit_by_tag
    from bench.views.unit import read_unit

    for task in read_unit(desk, unit_by_tag(desk, tag)).tasks:
        yield task.name, task.state


def _consumables(desk: Desk) -> Iterator[tuple[str, str]]:
    from bench.domain.quantities import show_quantity
    from bench.views.stock import read_stock

    for line in read_stock(desk).lines:
        yield line.name, f"{show_quantity(line.on_hand, line.base_unit)} on hand"


def _people(desk: Desk) -> Iterator[tuple[str, str]]:
    from bench.views.shop import read_people

    return ((one.name, "") for one in read_people(desk))


def _stages(desk: Desk) -> Iterator[tuple[str, str]]:
    from bench.views.shop import read_stages

    return ((one.name, f"{one.units} there") for one in read_stages(desk))


def _offered(
    context: typer.Context, begun: str, read: Callable[[Desk], Iterable[tuple[str, str]]]
) -> Offered:
    try:
        named = context.find_root().params.get("data")  # as typed: nothing is converted yet
        path = read_settings(os.environ, data=Path(named) if named else None).data_path
    except (BenchError, OSError):
        return []
    found = _soon(path, read)
    asked_by = os.environ.get(ASKED_BY, "")
    told = [(name, words if PLAIN.fullmatch(words) else "") for name, words in found]
    fitting = [one for one in told if one[0].startswith(begun) and PLAIN.fullmatch(one[0])]
    # bash puts what it is offered onto the line as it is.
    return [(name.replace(" ", "\\ "), words) for name, words in fitting] if "bash" in asked_by else fitting


def _soon(path: Path, read: Callable[[Desk], Iterable[tuple[str, str]]]) -> list[tuple[str, str]]:
    """What is read while there is patience; nothing where it takes longer, as with a file that is held."""
    found: list[tuple[str, str]] = []

    def look() -> None:
        with suppress(BenchError, OSError), _desk_on(path) as desk:
            found.extend(read(desk) if desk is not None else ())

    looking = Thread(target=look, daemon=True)
    looking.start()
    looking.join(PATIENCE_SECONDS)
    return [] if looking.is_alive() else found


@contextmanager
def _desk_on(path: Path) -> Iterator[Desk | None]:
    """A desk to read at; None where there is no file of today's shape."""
    from bench.desk import Desk, SystemClock
    from bench.work.files import open_to_look

    store = open_to_look(path)
    if store is None:
        yield None
        return
    try:
        yield Desk(store, SystemClock(), 0, "command")
    finally:
        store.close()
