"""The last act that was done, to be repeated on another row, and what was typed into its form."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from bench.dashboard.acts.act import SAFETY, Act

UNDO = "undo"  # is no act of its own: what it undid stays the last one
Form = tuple[str, str]  # the name of its class, and of the function that describes it


@dataclass(frozen=True, slots=True)
class Done:
    """An act that has been done. `form`: into which what was `typed` went; None for one without."""

    act: Act
    form: Form | None = None
    typed: Mapping[str, str] = field(default_factory=dict)


class Repeating:
    """`last`: what `.` repeats; None before anything was done."""

    def __init__(self) -> None:
        self.last: Done | None = None
        self._begun: Act | None = None
        self._typed: Done | None = None
        self._filling: Done | None = None

    def begin(self, act: Act | None) -> None:
        """An act was asked for; None where what follows is no act's."""
        self._begun = act if act is not None and act.name != UNDO else None
        self._typed = self._filling = None
        if act is not None and act.group == SAFETY:
            self.last = Done(act)  # not repeated, nor is what was done before it

    def begin_again(self, done: Done) -> None:
        """The same act is asked for again: its form is to be filled as it was."""
        self.begin(done.act)
        self._filling = done

    def wrote(self) -> None:
        """What was asked for is done."""
        if self._begun is not None:
            self.last = self._typed or Done(self._begun)

    def typed(self, form: Form, typed: Mapping[str, str]) -> None:
        """This was typed into the form of what is asked for."""
        if self._begun is not None:
            self._typed = Done(self._begun, form, dict(typed))

    def typed_last(self, form: Form) -> Mapping[str, str]:
        """What this form is to be filled with, once, where it is the one that is repeated."""
        filling = self._filling
        if filling is None or filling.form != form:
            return {}
        self._filling = None
        return filling.typed
