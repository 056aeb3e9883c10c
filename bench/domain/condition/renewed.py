"""Which readings tell what a new part has changed."""

from __future__ import annotations

import re

# Words in a part's name, and the subject of the readings that it changes (common practice, no source).
_WORDS = {
    "battery": ("battery", "pack"),
    "heat": ("fan", "heatsink", "cooler", "cooling", "thermal"),
    "screen": ("screen", "panel", "display"),
    "keyboard": ("keyboard",),
    "ports": ("port", "ports"),
}


def subject_of_part(name: str) -> str:
    """The subject whose readings a part of this name changes; empty where none is known."""
    words = set(re.findall(r"\w+", name.casefold()))
    return next((subject for subject, known in _WORDS.items() if words.intersection(known)), "")
