"""The keys that each act took before it was to take fewer, counted on 27 November 2026, and takes now."""

from __future__ import annotations

from tests.screen.keystrokes.person import Pressed

BEFORE = {
    "start on a tag": Pressed(2, 5),
    "stop": Pressed(1, 0),
    "finish a task": Pressed(2, 0),
    "move on": Pressed(1, 0),
    "closing checklist": Pressed(12, 1),
    "restock what is low": Pressed(6, 17),
    "stocktake of all": Pressed(25, 60),
    "grade seven parts": Pressed(66, 17),
    "wipe and verify": Pressed(21, 79),
    "a lot of five": Pressed(37, 83),
    "correct the sixth of the week's seven entries": Pressed(12, 6),
    "sell": Pressed(3, 3),
    "take in with a scan": Pressed(3, 11),
}

NOW = BEFORE | {
    "a lot of five": Pressed(22, 27),
    "wipe and verify": Pressed(13, 33),
    "correct the sixth of the week's seven entries": Pressed(5, 6),
    "grade seven parts": Pressed(14, 17),
    "stocktake of all": Pressed(9, 15),
    "closing checklist": Pressed(5, 0),
    "restock what is low": Pressed(2, 0),
}
