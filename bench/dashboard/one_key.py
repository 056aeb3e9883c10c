"""One thing a person can do by key, and the headings that keys stand under in the help."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Key:
    """One thing a person can do by key. `keys`: comma-separated; `group`: its heading in the help.

    `footer`: whether the key bar offers it. The order in a table is the order in the key bar.
    """

    id: str
    keys: str
    label: str
    tooltip: str
    group: str
    footer: bool = True

    @property
    def action(self) -> str:
        """The name of the method `action_...` that the key calls."""
        return self.id.partition(".")[2]


UNIT = "Unit"
TIME = "Time"
SAFETY = "Safety"
STOCK = "Stock"
FIND = "Find"
SCREENS = "Screens"
THIS = "This screen"

BACK = ("escape,q", "back", "Back to where you came from")


def back(screen: str) -> Key:
    """The key that leaves a screen."""
    keys, label, tooltip = BACK
    return Key(f"{screen}.back", keys, label, tooltip, SCREENS)


def undo(screen: str) -> Key:
    """The key that undoes a change of one's own."""
    return Key(f"{screen}.undo", "u", "undo", "Undo a change of yours, or do it again", THIS)
