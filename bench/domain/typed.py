"""What was typed into the fields of one form or command, read so that all that is wrong is told at once."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import ParamSpec, TypeVar, cast

from bench.domain.text import quoted
from bench.errors import BadInput, SeveralBadInputs

P = ParamSpec("P")
T = TypeVar("T")


class TypedFields:
    """Reads fields one after the other and keeps what is wrong with each.

    Until `check` has passed, what `read` answered may be missing: nothing may be done with it before.
    """

    def __init__(self) -> None:
        self._faults: list[BadInput] = []

    def read(self, field: str, reader: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
        """What the reader makes of a field; its BadInput is kept until `check`, as that field's."""
        try:
            return reader(*args, **kwargs)
        except BadInput as error:
            self._faults += [fault.of_field(fault.field or field) for fault in error.faults]
            return cast("T", None)

    def wrong(self, fault: BadInput) -> None:
        """Keep a fault that was found between fields."""
        self._faults.append(fault)

    @contextmanager
    def line(self, number: int) -> Iterator[None]:
        """Read one of several like lines, counted from 1: a fault is that line's; the next is read."""
        try:
            yield
        except BadInput as error:
            self._faults += [
                fault.of_field(f"{fault.field}_{number}" if fault.field else "") for fault in error.faults
            ]

    def check(self) -> None:
        """Pass, or raise all that is wrong: BadInput for one fault, SeveralBadInputs for more."""
        if len(self._faults) == 1:
            raise self._faults[0]
        if self._faults:
            raise SeveralBadInputs(self._faults)


def read_field(field: str, reader: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
    """What the reader makes of the one field there is; its BadInput is raised as that field's."""
    fields = TypedFields()
    read = fields.read(field, reader, *args, **kwargs)
    fields.check()
    return read


_DIGITS = re.compile(r"[0-9]{1,12}")


def read_whole(text: str, what: str, least: int, most: int) -> int:
    """The whole number typed; BadInput, naming `what`, for anything else and outside least to most."""
    typed = text.strip()
    if not _DIGITS.fullmatch(typed):
        raise BadInput(
            f"{what} {quoted(text)} is not a whole number.", f"Type digits only, from {least} to {most}."
        )
    number = int(typed)
    if not least <= number <= most:
        raise BadInput(f"{what} {number} cannot be.", f"Give a number from {least} to {most}.")
    return number
