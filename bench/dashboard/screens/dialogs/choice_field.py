"""A field whose value is one of several."""

from __future__ import annotations

from collections.abc import Sequence

from textual.widget import Widget

from bench.dashboard.screens.dialogs.choice import Choice
from bench.dashboard.screens.dialogs.field import TEXT, Field


class ChoiceField(Field):
    """One of several. The value is the key of the choice, empty for none."""

    def __init__(
        self,
        name: str,
        label: str,
        choices: Sequence[tuple[str, str]] = (),
        *,
        none: str | None = "none",
        value: str = "",
        takes: str = TEXT,
    ) -> None:
        super().__init__(name, label)
        self.takes = takes
        self.started_as = value
        self._choice = Choice(choices, none=none, value=value)

    def control(self) -> Widget:
        """The list."""
        return self._choice

    @property
    def value(self) -> str:
        """The key of the choice made."""
        return self._choice.value

    def put(self, value: str) -> None:
        """Make a choice; one that is not offered is none."""
        self._choice.choose(value)

    def offer(self, choices: Sequence[tuple[str, str]]) -> None:
        """Give the choices, each a key and what to show for it."""
        self._choice.offer(choices)
