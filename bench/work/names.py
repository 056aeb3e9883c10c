"""Names that may be given: each stage, route, person, consumable and channel has one of its own."""

from __future__ import annotations

from typing import TypeVar

from sqlmodel import select

from bench.domain.text import clean_line, quoted
from bench.domain.typed import read_field
from bench.errors import BadInput
from bench.store.tables import Channel, Consumable, Person, Route, Stage
from bench.work.change import Change

LONGEST = 80

Named = TypeVar("Named", Channel, Consumable, Person, Route, Stage)


def free_name(
    made: Change,
    table: type[Named],
    text: str,
    what: str,
    besides_id: int | None = None,
) -> str:
    """The name typed, fit to keep. BadInput when another one has it already, in whatever capitals.

    `what`: the word for such a thing, such as stage. `besides_id`: the row that is being renamed.
    """
    name = read_field("name", clean_line, text, f"The {what}'s name", longest=LONGEST)
    kept = made.session.exec(select(table).where(table.removed == 0))
    if any(row.name.casefold() == name.casefold() and row.id != besides_id for row in kept):
        raise BadInput(
            f"There is already a {what} named {quoted(name)}.", "Give it another name.", field="name"
        )
    return name


def tells_if_changed(made: Change, summary: str, unit_id: int | None = None) -> None:
    """Journal an edit, unless what was typed is what stood there before."""
    made.session.flush()
    if made.recorder:
        made.tells(summary, unit_id=unit_id)
