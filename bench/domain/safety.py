"""Battery first: what is ticked before the cover comes off, with it off, and before it goes on again.

The lists and cautions are general good practice (`common practice, no source`), not a standard's text:
local codes and licensed practice come first.
"""

from __future__ import annotations

from collections.abc import Iterable

from bench.errors import BadInput

OPENING = "opening"
CLOSING = "close_up"
WITHOUT = "without"  # the item under which going on without a list is kept, with its reason

# The opening checklist's two parts: the first before the cover comes off, the second with it off and before
# any other work inside.
BEFORE_THE_COVER: dict[str, str] = {
    "shut_down": "Shut down, charger out",
    "strap": "Wrist strap on",
}
WITH_THE_COVER_OFF: dict[str, str] = {
    "battery_out": "Battery disconnected",
    "cells_flat": "No cell swollen, punctured or wet",
}
OPENING_ITEMS: dict[str, str] = BEFORE_THE_COVER | WITH_THE_COVER_OFF
CLOSING_ITEMS: dict[str, str] = {
    "screws_back": "Screws counted back in",
    "gasket": "Airflow gasket and shields back",
    "antennas": "Antenna leads back on",
    "battery_in": "Battery reconnected, last of all",
}
LISTS: dict[str, dict[str, str]] = {OPENING: OPENING_ITEMS, CLOSING: CLOSING_ITEMS}
LIST_NAMES: dict[str, str] = {OPENING: "opening checklist", CLOSING: "closing checklist"}

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

CAUTION_BATTERY_FIRST = "Before work inside: shut down, charger out, wrist strap on, disconnect the battery."
CAUTION_CONNECTED = "BATTERY CONNECTED, COVER OFF. Disconnect it before anything else."
CAUTION_STILL_IN = "Cover off, battery still in: disconnect it and look at its cells before any work inside."
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
CAUTION_CLOSING = "Before the cover goes on: screws, gasket, shields, antennas; the battery last."
CAUTION_COVER_ON = "Cover on, battery in. Open only after the opening checklist."

# What can hurt at a task, by the kind that is kept with it.
NO_HAZARD = ""
HAZARDS: dict[str, str] = {
    "solvent": CAUTION_SOLVENT,
    "hot_air": CAUTION_HOT_AIR,
    "mains": CAUTION_MAINS,
    "glued_cell": CAUTION_GLUED,
}
HAZARD_NAMES: dict[str, str] = {
    NO_HAZARD: "none",
    "solvent": "solvent vapour",
    "hot_air": "hot air",
    "mains": "mains adapter",
    "glued_cell": "glued battery pack",
}


def check_hazard(kind: str) -> str:
    """The kind of hazard, if it is one; BadInput names those there are."""
    if kind not in HAZARD_NAMES:
        raise BadInput(f"{kind} is not a kind of hazard.", f"Choose one of: {', '.join(HAZARDS)}.")
    return kind


def missing(which: str, ticked: Iterable[str]) -> tuple[str, ...]:
    """The items of a list that are not ticked, in the list's order."""
    done = set(ticked)
    return tuple(item for item in LISTS[which] if item not in done)


def battery_connected(opening_ticked: Iterable[str], closing_ticked: Iterable[str]) -> bool:
    """A battery counts as connected until its disconnection is ticked, and again once it is back in."""
    return "battery_out" not in set(opening_ticked) or "battery_in" in set(closing_ticked)


def battery_alarm(
    *, cover_off: bool, opening_ticked: Iterable[str], closing_ticked: Iterable[str], worked_inside: bool
) -> bool:
    """Whether a connected battery contradicts the record or the work: the loudest thing on the screen.

    It does with the cover off when the first part of the opening checklist is not ticked, or when work
    inside began (`worked_inside`: any but the opening itself while it is under way). It does not while the
    machine is being opened, nor once the closing checklist put the battery back, nor where the list was
    passed for a typed reason.
    """
    opening, closing = set(opening_ticked), set(closing_ticked)
    if not cover_off or "battery_out" in opening or "battery_in" in closing or WITHOUT in opening:
        return False
    return worked_inside or not opening.issuperset(BEFORE_THE_COVER)


def caution_for(
    *, cell_finding: str | None, cover_off: bool, connected: bool, closing: bool, alarm: bool, hazard: str
) -> str:
    """The one caution that matters now. `hazard`: the sentence about the next task, empty for none."""
    if cell_finding is not None:
        return AFTER_A_BAD_CELL[0]
    if alarm:
        return CAUTION_CONNECTED
    if cover_off and connected and not closing:
        return CAUTION_STILL_IN
    if hazard:
        return hazard
    return CAUTION_CLOSING if cover_off else CAUTION_COVER_ON
