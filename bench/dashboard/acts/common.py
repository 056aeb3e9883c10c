"""What is done the same way on many screens, and the keys of the app, of lists, fields and every dialog."""

from __future__ import annotations

from dataclasses import replace

from bench.dashboard.acts import places
from bench.dashboard.acts.act import FIND, SAFETY, SCREENS, STOCK, THIS, TIME, UNIT, Act, calls, on, opens

UNDO_LINE = "bench.dashboard.screens.undoing:undo_line"

BACK = Act("back", "escape,q", "back", "Back to where you came from", SCREENS)
NEXT_PANEL = Act("next_panel", "tab", "next panel", "Go on to the next panel", FIND)
UNDO = Act("undo", "u", "undo", "Undo a change of yours, or do it again", THIS).by(
    opens(places.CHOOSE_UNDO, then=UNDO_LINE)
)
SAVES = opens(places.SAVE_DOCUMENT, "document.title", "document.view", "document.forms", "document.name")


def enter(label: str, tooltip: str) -> Act:
    """What Enter does with the line under the cursor of a screen's table."""
    return Act("open_row", "enter", label, tooltip, THIS)


APP = on(
    "app",
    Act("manual", "f1", "manual", "The page of the manual for where you are", SCREENS),
    Act("help", "question_mark", "keys", "Every key of the screen you are on", SCREENS, footer=False),
    Act(
        "find",
        "ctrl+f,ctrl+p",
        "find",
        "Find anything: a unit, a part, a person, an act, a screen",
        FIND,
        anywhere=True,
    ),
    Act(
        "go_back",
        "ctrl+o",
        "where I was",
        "Back to what you had open before, again for what was before that",
        FIND,
        footer=False,
        anywhere=True,
    ),
    Act(
        "stop_mine", "f7", "stop mine", "Stop the task that you are at, wherever you are", TIME, footer=False
    ),
    Act("resume", "f8", "resume", "Go on with what you were at before", TIME, footer=False),
    Act("bench_view", "f9", "bench view", "The unit on the bench in large letters", SCREENS, footer=False),
    Act(
        "set_aside",
        "ctrl+z",
        "set_aside",
        "Set the program aside; `fg` in the shell brings it back",
        SCREENS,
        footer=False,
    ),
    Act("quit", "ctrl+q", "quit", "Leave; running timers go on", SCREENS, footer=False),
)
FIGURE = on("figure", enter("open", "Open the line under the cursor"), UNDO, BACK)
JOURNAL = on(
    "journal",
    enter("unit", "Open the unit of this line"),
    Act("older", "o", "older", "Read on further back", THIS),
    Act("undo", "u", "undo", "Undo a change of yours, or do it again", THIS).by(
        calls(UNDO_LINE, "line.journal_id"), "There is no line to undo."
    ),
    BACK,
)
CALCULATORS = on(
    "calculators",
    Act("figures", "enter", "figures", "Go to the figures, and on to the next one", THIS),
    Act("put", "ctrl+s", "put on the unit", "Put the result on the unit or its task", UNIT),
    Act("empty", "ctrl+n", "empty", "Put every figure back to what it began with", THIS),
    NEXT_PANEL,
    Act("next_field", "down", "next", "Go to the next figure", FIND, footer=False),
    Act("previous_field", "up", "previous", "Go to the figure before", FIND, footer=False),
    BACK,
)
HELP = on("help", BACK)
MANUAL = on(
    "manual",
    enter("open", "Open the page under the cursor"),
    replace(NEXT_PANEL, label="pages", tooltip="Go to the list of pages, and back to the text"),
    Act("find", "slash", "find", "Find words in all pages", FIND),
    Act("next_place", "n", "next", "Go on to the next place that has them", FIND),
    Act("previous_place", "p", "previous", "Go back to the place before", FIND),
    BACK,
)
FINDER = on(
    "finder",
    Act("next_place", "enter,down", "next", "Go on to the next place that has the words", FIND),
    Act("leave", "escape", "to the text", "Go back to the text", FIND),
)
LIST = on(
    "list",
    Act("up", "up", "up", "One line up", FIND, footer=False),
    Act("down", "down", "down", "One line down", FIND, footer=False),
    Act("page_up", "pageup", "page up", "A screenful up", FIND, footer=False),
    Act("page_down", "pagedown", "page down", "A screenful down", FIND, footer=False),
    Act("first", "home", "first", "To the first line", FIND, footer=False),
    Act("last", "end", "last", "To the last line", FIND, footer=False),
)
FILTER = on(
    "filter",
    Act("done", "enter,down", "to the list", "Keep the filter and go to the list", FIND),
    Act("empty", "escape", "clear", "Show every line again", FIND),
)
JUMP = on("jump", Act("leave", "escape", "leave", "Go back to the queue", FIND))
DIALOG = on(
    "dialog",
    Act("send", "ctrl+s", "save", "Do it", THIS),
    Act("cancel", "escape", "cancel", "Close and change nothing; a form keeps its draft", THIS),
    Act("enter", "enter", "next", "Go on to the next field; do it from the last one", THIS),
    Act("next_field", "down", "next field", "Go to the next field", THIS, footer=False),
    Act("previous_field", "up", "previous field", "Go to the field before", THIS, footer=False),
    Act("empty", "ctrl+n", "empty", "Empty the form, after asking", THIS, footer=False),
)
CHOICE = on("choice", Act("show_overlay", "enter,space", "choose", "Open the list", THIS, footer=False))
MARK = on("mark", Act("tick", "space", "tick", "Tick the box, or take the tick off", THIS))
UNKNOWN_SCAN = on(
    "unknown_scan",
    Act("take_in", "t", "take in", "Take in a unit with this serial number", UNIT),
    Act("new_consumable", "c", "consumable", "Add a consumable with this code", STOCK),
)
SAFETY_LIST = on(
    "safety_list",
    Act("tick_here", "space", "tick", "Tick the line, or take the tick off", SAFETY),
    Act("without", "w", "go on without", "Go on without the list, with a reason", SAFETY),
    Act("bad_cell", "x", "bad cell", "Report a swollen, punctured or wet cell", SAFETY),
)
