"""What a person means by a name, its beginning or a number: a task, a consumable, a stage, a list's item."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, TypeVar

from bench.domain.safety import CLOSING, LIST_NAMES, LISTS, OPENING
from bench.domain.text import quoted
from bench.errors import BadInput, NotFound

if TYPE_CHECKING:
    from bench.views.tasks import TaskLine
    from bench.views.unit import UnitSheet

Thing = TypeVar("Thing")

_WHICH = {"opening": OPENING, "closing": CLOSING, "close-up": CLOSING, "close_up": CLOSING}


def the_one(text: str, things: Sequence[Thing], name: Callable[[Thing], str], what: str) -> Thing:
    """The thing of exactly that name, else the only one whose name begins so; case does not count.

    NotFound when there is none, BadInput when several begin so.
    """
    typed = " ".join(text.split()).casefold()
    exact = [thing for thing in things if name(thing).casefold() == typed]
    begins = exact or [thing for thing in things if typed and name(thing).casefold().startswith(typed)]
    if not begins:
        raise NotFound(f"There is no {what} {quoted(text)}.", _offer([name(thing) for thing in things]))
    if len(begins) > 1:
        names = ", ".join(name(thing) for thing in begins)
        raise BadInput(f"{quoted(text)} may be any of: {names}.", "Type more of it.")
    return begins[0]


def task_named(sheet: UnitSheet, text: str) -> TaskLine:
    """The unit's task by its number on the sheet or its name; of several so named, the first still to do."""
    if text.isascii() and text.isdigit():
        if not 1 <= int(text) <= len(sheet.tasks):
            raise NotFound(
                f"Unit {sheet.tag} has no task {int(text)}.",
                f"Its tasks are numbered 1 to {len(sheet.tasks)}.",
            )
        return sheet.tasks[int(text) - 1]
    by_name: dict[str, TaskLine] = {}
    for task in sorted(sheet.tasks, key=lambda task: task.state != "todo"):
        by_name.setdefault(task.name.casefold(), task)
    return the_one(text, list(by_name.values()), lambda task: task.name, f"task on unit {sheet.tag}")


def which_list(text: str) -> str:
    """The opening or the closing checklist."""
    which = _WHICH.get(text.strip().casefold())
    if which is None:
        raise BadInput(f"{quoted(text)} is not a list.", "Name opening or closing.")
    return which


def item_of(which: str, text: str) -> str:
    """The item of a list by its code (battery_out or battery-out) or how its words begin."""
    items = LISTS[which]
    code = text.strip().casefold().replace("-", "_")
    if code in items:
        return code
    return the_one(text, list(items), lambda item: items[item], f"item of the {LIST_NAMES[which]}")


def _offer(names: Sequence[str]) -> str:
    if not names:
        return "There are none yet."
    shown = ", ".join(names[:12])
    return f"There are: {shown}{' …' if len(names) > 12 else ''}."
