"""What a form, and a choice of one, is made from: frozen descriptions, by subject in the files beside."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Generic, NamedTuple, TypeVar

from bench.dashboard.presenters.pieces import Part
from bench.dashboard.screens.dialogs.field import Field
from bench.dashboard.widgets.lines_panel import Lines
from bench.desk import Desk
from bench.errors import BenchError

Answer = TypeVar("Answer")
Choices = Sequence[tuple[str, str]]
Typed = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Filled:
    """A form as it is sent: what was read first, and by name what each field gives."""

    desk: Desk
    facts: Any
    typed: Typed


@dataclass(frozen=True, slots=True)
class Begun:
    """What a form shows once it has read: by field first values, choices, hints, and words behind it.

    `above`, `known`: the words over and under the fields; `panel`: the lines of the form's own panel. What is
    None stays as it is.
    """

    heading: str | None = None
    values: Mapping[str, str] = field(default_factory=dict)
    choices: Mapping[str, Choices] = field(default_factory=dict)
    hints: Mapping[str, str] = field(default_factory=dict)
    tails: Mapping[str, Part] = field(default_factory=dict)
    above: str | None = None
    known: str | None = None
    panel: Lines | None = None


def _nothing(_filled: Filled) -> Any:
    return None


def _done(_result: Any) -> Any:
    return True


@dataclass(frozen=True, slots=True, kw_only=True)
class FormOf(Generic[Answer]):
    """A form: its words, its fields, what it reads first, the use case and what is said and answered then.

    `draft`: the name under which what was typed is kept until it is sent or emptied. `reads` and `does` run
    in a thread. `above`, `known`: words over and under the fields; None where there are never any. `asks`:
    the refusals that are asked about over the form, which is sent again with the answer. `enter`: its button
    names Enter. `watches`: the fields whose change has it begin again, by `follows` from what was read, or
    by `looks_up` in a thread.
    """

    heading: str
    draft: str
    fields: Sequence[Field] = ()
    does: Callable[[Filled], Any] = _nothing
    send: str = "Save"
    enter: bool = False
    wide: bool = False
    above: str | None = None
    known: str | None = None
    reads: Callable[[Desk], Any] | None = None
    begins: Callable[[Any], Begun] | None = None
    watches: Sequence[str] = ()
    follows: Callable[[Any, Mapping[str, str]], Begun | None] | None = None
    looks_up: Callable[[Desk, Mapping[str, str]], Begun | None] | None = None
    asks: tuple[type[BenchError], ...] = ()
    says: Callable[[Any], str] | None = None
    answers: Callable[[Any], Answer] = _done


class Choosable(NamedTuple):
    """One line to choose: its number, its words, and whether it is the one that holds now."""

    number: int
    words: str
    now: bool = False


@dataclass(frozen=True, slots=True)
class PickOf:
    """A few lines to choose one from, read in a thread."""

    heading: str
    reads: Callable[[Desk], Sequence[Choosable]]
    send: str = "Choose"
