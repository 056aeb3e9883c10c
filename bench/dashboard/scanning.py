"""Keys that come faster than the focus moves: a scanner sends a whole tag and Enter in one burst."""

from __future__ import annotations

from abc import abstractmethod

from textual import events


class SeesKeysFirst:
    """For a screen that looks at each key before it is handed to the widget with the focus.

    By then no later key has been handed on, so that a focus moved here holds for the whole burst.
    """

    @abstractmethod
    def before_key(self, event: events.Key) -> None:
        """Look at the key; it goes to whatever has the focus afterwards."""
