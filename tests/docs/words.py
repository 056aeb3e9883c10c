"""The interface's words, and those that are not used for the same thing: one word for one thing."""

from __future__ import annotations

import re
from typing import NamedTuple


class Wrong(NamedTuple):
    """A word that is not used, as a pattern; `right`: the one that is.

    `but`: patterns of texts in which the word means something else, each with why.
    """

    pattern: str
    right: str
    but: tuple[tuple[str, str], ...] = ()

    def is_in(self, text: str) -> bool:
        """Whether a text uses it; what it may say is put aside."""
        for allowed, _ in self.but:
            text = re.sub(allowed, " ", text, flags=re.IGNORECASE)
        return re.search(rf"(?<![\w-])(?:{self.pattern})(?![\w-])", text, re.IGNORECASE) is not None


WRONG = (
    Wrong(r"un-?attended|(runs?|ran|that runs|that ran) by itself|by itself", "machine time"),
    Wrong(r"attended|bench hours?|hands on", "hands-on", ((r"hands on (it|the)", "hands themselves"),)),
    Wrong(r"half|halves|careful|(four|4) (of|in) (five|5)|median", "50 %, 80 %"),
    Wrong(r"sums?", "total, calculators", ((r"chemicals 1\.5\.2 sums", "a library's act"),)),
    Wrong(r"sells? for|is to bring|may bring|will sell for", "expected price"),
    Wrong(r"materials?", "consumables"),
    Wrong(r"walk(s|ed)?[ -]away", "most to pay, decline"),
    Wrong(r"(take|takes|taken|took) ((it|that|this|a change|its \w+|the \w+) )?back", "undo"),
    Wrong(r"cells (are )?flat", "no cell swollen, punctured or wet"),
    Wrong(r"opening list", "opening checklist"),
    Wrong(r"close-up( list)?|closing list", "closing checklist"),
    Wrong(r"soaked", "tested"),
    Wrong(r"held", "on hold, ran for", ((r"of it held for safety", "safety stock, as texts of it say"),)),
    Wrong(r"hold period", "waiting period"),
    Wrong(r"landed( cost)?|cost left on it", "cost so far"),
    Wrong(r"brought", "proceeds", ((r"brought (in|up to date)", "carried in; a file made newer"),)),
    Wrong(r"fees of (the|a) channels?", "channel fees"),
    Wrong(r"an hour", "per hour"),
    Wrong(r"nothing against it", "OK"),
    Wrong(r"the line is at", "limit"),
    Wrong(r"traces?", "wear"),
    Wrong(r"works? with a limit", "works, with limits"),
    Wrong(r"how sure", "based on"),
    Wrong(r"jams?", "bottleneck"),
    Wrong(r"how long units stay", "time in stage"),
    Wrong(r"acts now|who acts", "who is working"),
    Wrong(r"firms?", "business"),
    Wrong(r"papers? seen", "ID seen"),
    Wrong(r"reckon(s|ed|ing)?", "calculate"),
    Wrong(r"anew", "again"),
    Wrong(r"put(ting)? (it |one )?down", "record"),
    Wrong(r"set(s|ting)? (it |this |that )?right", "correct"),
    Wrong(r"out of the mains", "unplugged"),
    Wrong(r"old (stock|ones?)|! OLD", "expired"),
    Wrong(r"lid (off|on)|open lid", "cover off, cover on"),
)


def wrong_in(text: str) -> list[str]:
    """Each word of a text that has a better one, with that."""
    return [f"{one.pattern} -> {one.right}" for one in WRONG if one.is_in(text)]
