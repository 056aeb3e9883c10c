"""What an act is: its key, its words, and the ways in which it is done. See `acting.py` for who does it.

A screen, a dialog, a use case or a function goes by a reference, `module:name`, that is loaded when it is
first used. What a way needs follows from what it gives: "unit.tag" asks the screen for its unit (`unit_here`)
and takes its tag; so do names in braces in a sentence. The first way that has all that it needs is taken.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from importlib import import_module
from operator import attrgetter
from string import Formatter
from typing import Any, NamedTuple


class Opens(NamedTuple):
    """Opens a screen or dialog. `then`: a function of (screen, answer, *given), for an answer but None."""

    target: str
    gives: tuple[str, ...]
    then: str
    also: Mapping[str, object]


class Runs(NamedTuple):
    """Runs a use case of (desk, *given). `says`: the sentence said after, which may name the answer."""

    target: str
    gives: tuple[str, ...]
    says: str
    also: Mapping[str, object]


class AsksWhy(NamedTuple):
    """Asks for a reason, then runs a use case of (desk, *given, reason)."""

    heading: str
    target: str
    gives: tuple[str, ...]
    draft: str
    says: str


class AsksName(NamedTuple):
    """Asks for a name, at first `name`, and hands it to a use case of (desk, *given, name)."""

    heading: str
    target: str
    gives: tuple[str, ...]
    draft: str
    name: str


class Calls(NamedTuple):
    """Calls a function of (screen, *given), for what fits nothing else."""

    target: str
    gives: tuple[str, ...]


Way = Opens | Runs | AsksWhy | AsksName | Calls | str  # a sentence is said


def opens(target: str, *gives: str, then: str = "", **also: object) -> Opens:
    """What opens a screen or dialog with what it is given, and `also` with these values."""
    return Opens(target, gives, then, also)


def runs(target: str, *gives: str, says: str = "", **also: object) -> Runs:
    """What runs a use case with what it is given, and `also` with these values."""
    return Runs(target, gives, says, also)


def asks_why(heading: str, target: str, *gives: str, draft: str, says: str = "") -> AsksWhy:
    """What asks for a reason first. `draft`: the name under which what is typed is kept."""
    return AsksWhy(heading, target, gives, draft, says)


def asks_name(heading: str, target: str, *gives: str, draft: str, name: str = "") -> AsksName:
    """What asks for a name first. `draft`: the name under which what is typed is kept."""
    return AsksName(heading, target, gives, draft, name)


def calls(target: str, *gives: str) -> Calls:
    """What calls a function with what it is given."""
    return Calls(target, gives)


def load(reference: str) -> Any:
    """What `module:name` stands for, loaded when it is first asked for."""
    module, _, name = reference.partition(":")
    return attrgetter(name)(import_module(module))


def call(reference: str, *given: object, **also: object) -> Any:
    """Load a function and call it."""
    return load(reference)(*given, **also)


def gives(way: Way) -> tuple[str, ...]:
    """What is handed over, as paths from what is on the screen: "unit.tag"."""
    return () if isinstance(way, str) else way.gives


def sentences(way: Way) -> tuple[str, ...]:
    """Its sentences, which may name what is on the screen in braces."""
    match way:
        case str():
            return (way,)
        case Runs():
            return (way.says,)
        case AsksWhy():
            return (way.heading, way.draft, way.says)
        case AsksName():
            return (way.heading, way.draft, way.name)
    return ()


def paths(way: Way) -> tuple[str, ...]:
    """All that it takes from what is on the screen: what it gives, and what its sentences name."""
    named = (name for one in sentences(way) for _, name, _, _ in Formatter().parse(one) if name)
    return (*gives(way), *(name for name in named if name.partition(".")[0] != ANSWER))


def needs(way: Way) -> tuple[str, ...]:
    """What must be there on the screen: "unit", "task"."""
    return tuple(dict.fromkeys(path.partition(".")[0] for path in paths(way)))


ANSWER = "answer"  # in what is said after a use case


@dataclass(frozen=True, slots=True)
class Act:
    """One thing that a person can do by key. `keys`: comma-separated; `group`: its heading in the help.

    `footer`: whether the key bar offers it. `anywhere`: over a dialog and in a field too. The order in a
    table is the order in the key bar. Without `ways` the screen or widget itself does it, by its method
    `action_...`.
    """

    name: str
    keys: str
    label: str
    tooltip: str
    group: str
    ways: tuple[Way, ...] = ()
    footer: bool = True
    screen: str = ""
    anywhere: bool = False

    def by(self, *ways: Way) -> Act:
        """The same, done in these ways: the first that has all that it needs."""
        return replace(self, ways=ways)

    @property
    def id(self) -> str:
        """Its name in the settings: people remap by it."""
        return f"{self.screen}.{self.name}"

    @property
    def action(self) -> str:
        """What the key, a click on its word or finding it runs on the screen."""
        return f"act('{self.name}')" if self.ways else self.name


def on(screen: str, *acts: Act) -> tuple[Act, ...]:
    """The acts of a screen, in the order of its key bar."""
    return tuple(replace(one, screen=screen) for one in acts)


UNIT = "Unit"
TIME = "Time"
SAFETY = "Safety"
STOCK = "Stock"
FIND = "Find"
SCREENS = "Screens"
THIS = "This screen"
