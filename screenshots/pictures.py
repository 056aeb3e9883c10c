"""The pictures there are: each screen and main dialog, and the keys that lead there."""

from __future__ import annotations

from dataclasses import dataclass

ALARM = "10670"  # its battery was left connected with the cover off
RUNNING = "10629"
READY_TO_CLOSE = "10581"
ON_ITS_WAY = "10604"
LISTED = "10428"
NOT_VERIFIED = "10653"
CAME_BACK = "10330"
SOAKING = "10452"
DONOR = "10590"
HOTTER = "10372"
WORN_BATTERY = "10645"


@dataclass(frozen=True)
class Picture:
    """A picture's name, the unit to go to first, and the keys that lead to what it shows.

    Without a unit it is drawn on a new file.
    """

    name: str
    unit: str
    keys: tuple[str, ...] = ()


PICTURES = (
    Picture("first", RUNNING),
    Picture("battery-connected", ALARM),
    Picture("bench-view", RUNNING, ("f9",)),
    Picture("unit", RUNNING, ("enter",)),
    Picture("stock", RUNNING, ("t",)),
    Picture("consumable", RUNNING, ("t", "enter")),
    Picture(
        "stock-filtered",
        RUNNING,
        ("t", "space", "space", "|", "down", "down", "down", "enter", "escape", "/", *"paste"),
    ),
    Picture("dialog-columns", RUNNING, ("t", "|", "down", "down", "down", "enter")),
    Picture("dialog-copy", RUNNING, ("y",)),
    Picture("queue-marked", RUNNING, ("space", "space", "space")),
    Picture("week", RUNNING, ("w",)),
    Picture("journal", RUNNING, ("j",)),
    Picture("routes", RUNNING, ("v",)),
    Picture("settings", RUNNING, ("comma",)),
    Picture("calculators", RUNNING, ("l", "enter", *"5.5", "down", *"3.5", "down", *"30")),
    Picture("find", RUNNING, ("ctrl+f", *"fenn")),
    Picture("help", RUNNING, ("question_mark",)),
    Picture("manual", RUNNING, ("f1",)),
    Picture("dialog-beginning", "", ("f", "5")),
    Picture("more", LISTED, ("f",)),
    Picture("buying", RUNNING, ("f3",)),
    Picture("lots", RUNNING, ("f4",)),
    Picture("condition", LISTED, ("f", "c")),
    Picture("faults", CAME_BACK, ("f", "f")),
    Picture("faults-of-shop", RUNNING, ("f", "1")),
    Picture("wiping", NOT_VERIFIED, ("f", "d")),
    Picture("certificate", LISTED, ("f", "d", "c")),
    Picture("parts", READY_TO_CLOSE, ("f", "p")),
    Picture("orders", RUNNING, ("f", "q")),
    Picture("parts-shelf", RUNNING, ("f", "v")),
    Picture("dialog-order-part", RUNNING, ("f", "z", "n")),
    Picture("grading", LISTED, ("f", "g")),
    Picture("photographs", RUNNING, ("f", "o")),
    Picture("money", CAME_BACK, ("f", "m")),
    Picture("models", RUNNING, ("f", "a")),
    Picture("model-page", ON_ITS_WAY, ("f", "u")),
    Picture("three-ways", ON_ITS_WAY, ("f", "w")),
    Picture("papers", LISTED, ("f", "h")),
    Picture("dialog-listing", LISTED, ("f", "h", "e")),
    Picture("dialog-listing-words", LISTED, ("f", "h", "t")),
    Picture("next", RUNNING, ("f2",)),
    Picture("register", RUNNING, ("f5",)),
    Picture("month", RUNNING, ("f6",)),
    Picture("year", RUNNING, ("f6", "m", "home")),
    Picture("repair", ALARM, ("f", "j")),
    Picture("repairs", RUNNING, ("f", "2")),
    Picture("expenses", RUNNING, ("f", "3")),
    Picture("trade", RUNNING, ("f", "t")),
    Picture("dialog-new-unit", RUNNING, ("n",)),
    Picture("dialog-opening-list", ALARM, ("o",)),
    Picture("dialog-close-up-list", READY_TO_CLOSE, ("c",)),
    Picture("dialog-bad-cell", ALARM, ("x",)),
    Picture("dialog-finish", RUNNING, ("d",)),
    Picture("dialog-fault", RUNNING, ("i",)),
    Picture("dialog-fault-said", CAME_BACK, ("f", "f", "enter")),
    Picture("dialog-finish-test", SOAKING, ("d",)),
    Picture("dialog-unfinished-tasks", RUNNING, ("m",)),
    Picture("dialog-restock", RUNNING, ("r",)),
    Picture("dialog-count", RUNNING, ("k",)),
    Picture("dialog-correct-entry", RUNNING, ("w", "tab", "tab", "e")),
    Picture("dialog-hold", ON_ITS_WAY, ("h",)),
    Picture("dialog-offer", RUNNING, ("f3", "enter")),
    Picture("dialog-buy", RUNNING, ("f3", "b")),
    Picture("dialog-lot", RUNNING, ("f4", "n")),
    Picture("dialog-share", RUNNING, ("f4", "s")),
    Picture("dialog-reading", HOTTER, ("f", "c", "n")),
    Picture("dialog-weigh-battery", WORN_BATTERY, ("f", "c", "w")),
    Picture("dialog-specification", LISTED, ("f", "e")),
    Picture("dialog-intake", RUNNING, ("f", "i")),
    Picture("dialog-wipe", NOT_VERIFIED, ("f", "d", "w")),
    Picture("dialog-verify", NOT_VERIFIED, ("f", "d", "v")),
    Picture("dialog-take-part", READY_TO_CLOSE, ("f", "p", "t")),
    Picture("dialog-swap", READY_TO_CLOSE, ("f", "p", "w")),
    Picture("dialog-photograph", RUNNING, ("f", "o", "n")),
    Picture("dialog-grade", LISTED, ("f", "g", "enter")),
    Picture("dialog-sell", LISTED, ("f", "s")),
    Picture("dialog-return", RUNNING, ("f5", "enter", "f", "k")),
    Picture("dialog-repair", ALARM, ("f", "j", "n")),
    Picture("dialog-quote-line", ALARM, ("f", "j", "l")),
    Picture("dialog-expense", RUNNING, ("f", "3", "n")),
    Picture("dialog-trade", RUNNING, ("f", "t", "enter")),
)
