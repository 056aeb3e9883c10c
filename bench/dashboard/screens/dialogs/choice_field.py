"""A field whose value is one of several."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from rich.text import Text
from textual.binding import BindingType
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Select

from bench.dashboard.keys import bindings_for
from bench.dashboard.screens.dialogs.field import TEXT, Field
from bench.domain.text import for_display


class Choice(Select[str], inherit_bindings=False):
    """A list to choose from that leaves the arrows to the form."""

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("choice")

    class Made(Message):
        """Someone chose from the list."""

    def on_select_overlay_update_selection(self) -> None:
        """Tell the form, once the list is closed."""
        self.call_after_refresh(self.post_message, self.Made())


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
        self._known = {key for key, _ in choices}
        self._select = Choice(
            _options(choices),
            prompt=none or "choose",
            allow_blank=none is not None or not choices,
            value=value if value in self._known else Select.NULL,
            compact=True,
            classes="control",
        )

    def control(self) -> Widget:
        """The list."""
        return self._select

    @property
    def value(self) -> str:
        """The key of the choice made."""
        return self._select.selection or ""

    def put(self, value: str) -> None:
        """Make a choice; one that is not offered is none."""
        self._select.value = value if value in self._known else Select.NULL

    def offer(self, choices: Sequence[tuple[str, str]]) -> None:
        """Give the choices, each a key and what to show for it."""
        self._known = {key for key, _ in choices}
        self._select.set_options(_options(choices))


def _options(choices: Sequence[tuple[str, str]]) -> list[tuple[Text, str]]:
    return [(Text(for_display(shown)), key) for key, shown in choices]
