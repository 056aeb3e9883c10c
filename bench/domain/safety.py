"""Battery first, and the close-up list: what is ticked before the lid stays off and before it goes on.

The lists and cautions are general good practice (`common practice, no source`), not a standard's text:
local codes and licensed practice come first.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

OPENING = "opening"
CLOSE_UP = "close_up"
WITHOUT = "without"  # the item under which going on without a list is kept, with its reason

OPENING_ITEMS: dict[str, str] = {
    "shut_down": "Shut down, charger out",
    "strap": "Wrist strap on",
    "battery_out": "Battery disconnected",
    "cells_flat": "Cells flat: not swollen, punctured or wet",
}
CLOSE_UP_ITEMS: dict[str, str] = {
    "screws_back": "Screws counted back in",
    "gasket": "Airflow gasket and shields back",
    "antennas": "Antenna leads back on",
    "battery_in": "Battery reconnected, last of all",
}
LISTS: dict[str, dict[str, str]] = {OPENING: OPENING_ITEMS, CLOSE_UP: CLOSE_UP_ITEMS}
LIST_NAMES: dict[str, str] = {OPENING: "opening list", CLOSE_UP: "close-up list"}

FINDINGS: dict[str, str] = {
    "swollen": "a swollen cell",
    "punctured": "a punctured cell",
    "wet": "a wet cell",
}

AFTER_A_BAD_CELL = (
    "Stop work on this unit. Keep it apart from anything that burns, on a surface that does not.",
    "Do not charge it, press it, bend it or pierce it.",
    "Hand it to a licensed carrier or collection point; local rules for damaged lithium cells come first.",
)

CAUTION_BATTERY_FIRST = "Battery first: shut down, charger out, strap on, then disconnect the battery."
CAUTION_CONNECTED = "BATTERY CONNECTED, LID OFF. Disconnect it before anything else."
CAUTION_SOLVENT = (
    "Isopropyl vapour burns: air the room, no flame, hot air or sparks until dry. Local codes first."
)
CAUTION_HOT_AIR = (
    "Hot air and shrink tubing: never on a connected lead, never near solvent vapour or a cell. Air the room."
)
CAUTION_MAINS = (
    "Mains adapters stay closed: a cut or burnt mains lead is replaced, not wrapped. "
    "Opening or testing one is work for a licensed person."
)
CAUTION_GLUED = (
    "A glued pack: no metal blades, no bending, no heat on the cells. If it will not come, leave it."
)
CAUTION_CLOSE_UP = "Before the lid goes on: screws, gasket, shields, antennas; the battery last."
CAUTION_LID_ON = "Lid on, battery connected. Open only after the opening list."


@dataclass(frozen=True, slots=True)
class Tick:
    """One line of a list: its words, and who ticked it when (None while it is not)."""

    item: str
    label: str
    person: str | None = None
    at_us: int | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class SafetyView:
    """A unit's lid, battery and lists as they are now.

    `without_opening` / `without_close_up`: the reason typed for going on without that list.
    """

    unit_id: int
    tag: str
    model: str
    lid_off: bool
    battery_connected: bool
    cell_finding: str | None
    opening: tuple[Tick, ...]
    close_up: tuple[Tick, ...]
    without_opening: str | None
    without_close_up: str | None
    screws_out: int | None
    screws_back: int | None
    caution: str

    @property
    def alarm(self) -> bool:
        """A connected battery on an opened unit: the loudest thing on the screen."""
        return self.lid_off and self.battery_connected


def missing(which: str, ticked: Iterable[str]) -> tuple[str, ...]:
    """The items of a list that are not ticked, in the list's order."""
    done = set(ticked)
    return tuple(item for item in LISTS[which] if item not in done)


def battery_connected(opening_ticked: Iterable[str], close_up_ticked: Iterable[str]) -> bool:
    """A battery counts as connected until its disconnection is ticked, and again once it is back in."""
    return "battery_out" not in set(opening_ticked) or "battery_in" in set(close_up_ticked)


def caution_for(
    *, cell_finding: str | None, lid_off: bool, connected: bool, closing: bool, task_words: str
) -> str:
    """The one caution that matters now. `task_words`: the next task's name and what it takes, any case."""
    if cell_finding is not None:
        return AFTER_A_BAD_CELL[0]
    if lid_off and connected and not closing:
        return CAUTION_CONNECTED
    words = task_words.casefold()
    for caution, signs in _SIGNS:
        if any(sign in words for sign in signs):
            return caution
    if lid_off:
        return CAUTION_CLOSE_UP
    return CAUTION_BATTERY_FIRST if "open" in words else CAUTION_LID_ON


_SIGNS = (
    (CAUTION_MAINS, ("charger", "adapter", "mains")),
    (CAUTION_HOT_AIR, ("heat-shrink", "tubing", "hot air")),
    (CAUTION_GLUED, ("glued", "battery pack", "replace battery")),
    (CAUTION_SOLVENT, ("isopropyl", "solvent", "clean", "wipe down", "paste")),
)
