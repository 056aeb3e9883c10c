"""Faults: where on a laptop one is, whose it is, what became of it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from bench.domain.text import quoted
from bench.errors import BadInput

# Empty: not said yet.
PLACES = (
    *("display", "lid", "hinge", "keyboard", "touchpad", "battery", "charger", "charging port", "ports"),
    *("board", "fan", "heat sink", "memory", "drive", "camera", "speakers", "wireless", "case", "screws"),
    *("system", "other"),
)

UNKNOWN, BEFORE, OURS, PART = "unknown", "before", "ours", "part"
ORIGINS = {
    UNKNOWN: "not known",
    BEFORE: "was there before",
    OURS: "our own slip",
    PART: "a bought part",
}

OPEN, CURED, STAYS = "open", "cured", "stays"
STATES = {OPEN: "open", CURED: "cured", STAYS: "stays as it is"}

# Other words for a place, as they stand in what people type..
_ALSO = {
    "screen": "display",
    "panel": "display",
    "backlight": "display",
    "hinges": "hinge",
    "key": "keyboard",
    "keys": "keyboard",
    "trackpad": "touchpad",
    "cell": "battery",
    "pack": "battery",
    "usb": "ports",
    "socket": "charging port",
    "mainboard": "board",
    "motherboard": "board",
    "cooler": "heat sink",
    "paste": "heat sink",
    "ram": "memory",
    "ssd": "drive",
    "disk": "drive",
    "webcam": "camera",
    "speaker": "speakers",
    "sound": "speakers",
    "wifi": "wireless",
    "antenna": "wireless",
    "cover": "case",
    "screw": "screws",
    "firmware": "system",
    "boot": "system",
}


def place_in(symptom: str) -> str:
    """The part of a laptop that a symptom names first; empty where it names none.

    Of places that begin at the same word the longest one: "charging port loose" is not of the ports.
    """
    words = "".join(one if one.isalnum() else " " for one in symptom.casefold()).split()
    for at in range(len(words)):
        for length in (2, 1):
            named = " ".join(words[at : at + length])
            if named in PLACES and named != "other":
                return named
            if length == 1 and named in _ALSO:
                return _ALSO[named]
    return ""


def read_place(text: str) -> str:
    """A part of a laptop as typed; empty for nothing. BadInput lists them all for any other."""
    return _one_of(text, ("", *PLACES), "part of a laptop")


def read_origin(text: str) -> str:
    """Whose a fault is, by its key. BadInput lists them all for any other."""
    return _one_of(text, ORIGINS, "origin of a fault")


def read_state(text: str) -> str:
    """What became of a fault. BadInput lists them all for any other."""
    return _one_of(text, STATES, "state of a fault")


def told_words(symptom: str, place: str, state: str, done: str) -> str:
    """What a buyer is told of a fault that is open or stays."""
    where = place.capitalize() if place and place != "other" else "Known fault"
    end = "not repaired" if state == OPEN else "stays as it is"
    return f"{where}: {symptom} ({end}{f': {done}' if done else ''})"


def _one_of(text: str, known: Iterable[str] | Mapping[str, str], what: str) -> str:
    typed = " ".join(text.split()).casefold()
    choices = tuple(known)
    if typed in choices:
        return typed
    names = ", ".join(choice for choice in choices if choice)
    raise BadInput(f"{quoted(text)} is no {what}.", f"Choose one of: {names}.")
