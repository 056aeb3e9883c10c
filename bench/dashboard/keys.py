"""Every key of the dashboard in one place: footers, help, palette and remapping are all made from here.

Only keys that every terminal sends. A key's id is `screen.action`; people remap by id in the settings file.
"""

from __future__ import annotations

from collections.abc import Mapping

from textual.binding import Binding

from bench.dashboard.one_key import (
    FIND,
    SAFETY,
    SCREENS,
    STOCK,
    THIS,
    TIME,
    UNIT,
    Key,
    back,
)
from bench.dashboard.presenters.key_line import KeyHint, shown_key
from bench.dashboard.trade_keys import FIRST_MENU, FIRST_MORE, TRADE_KEYS, UNIT_MORE

APP = (
    Key("app.help", "f1,question_mark", "help", "Every key of the screen you are on", SCREENS),
    Key(
        "app.set_aside",
        "ctrl+z",
        "set_aside",
        "Set the program aside; `fg` in the shell brings it back",
        SCREENS,
        footer=False,
    ),
    Key("app.quit", "ctrl+q", "quit", "Leave; running timers go on", SCREENS, footer=False),
)

FIRST = (
    Key("first.open_unit", "enter", "open", "Open the unit under the cursor", UNIT),
    Key("first.add_unit", "n", "new unit", "Put a new unit on the bench", UNIT),
    Key("first.start_stop", "s", "start/stop", "Start the unit's next task, or stop the one that runs", TIME),
    Key("first.finish", "d", "done", "Finish the task: issue what it took", TIME),
    Key("first.move_on", "m", "move on", "Move the unit to the next stage", UNIT),
    Key("first.filter", "slash", "filter", "Show only what you type: tag, model, task, stage, reason", FIND),
    FIRST_MENU,
    Key("first.undo", "u", "undo", "Undo a change of yours, or do it again", UNIT),
    Key("first.restock", "r", "restock", "Book what was delivered", STOCK),
    Key("first.hold", "h", "hold", "Hold the unit with a reason, or release it", UNIT),
    Key("first.move_back", "b", "back", "Move the unit back one stage", UNIT),
    Key(
        "first.opening_list",
        "o",
        "opening list",
        "Tick the list before the cover comes off",
        SAFETY,
    ),
    Key("first.close_up_list", "c", "close-up list", "Tick the list that comes before closing", SAFETY),
    Key("first.bad_cell", "x", "bad cell", "Report a swollen, punctured or wet cell", SAFETY),
    Key("first.go_to", "g", "go to stage", "Move the unit to any stage", UNIT),
    Key("first.edit_unit", "e", "edit", "Change the unit's particulars", UNIT),
    Key("first.count", "k", "count", "Count what is on the shelf", STOCK),
    Key("first.person", "p", "person", "Choose who acts", TIME),
    Key("first.week", "w", "week", "Hours of the week, and corrections", SCREENS),
    Key("first.stock", "t", "stock", "Every consumable, its level and history", SCREENS),
    Key("first.journal", "j", "journal", "Who did what, and when", SCREENS),
    Key("first.routes", "v", "routes", "The tasks that each kind of job needs", SCREENS),
    *FIRST_MORE,
    Key("first.calculators", "l", "calculators", "The sums of the trade, with the unit at hand", SCREENS),
    Key("first.settings", "comma", "settings", "The shop, its people and its stages", SCREENS),
    Key("first.next_panel", "tab", "next panel", "Go on to the next panel", FIND, footer=False),
    Key("first.clear", "escape", "clear", "Leave the filter and show every unit", FIND, footer=False),
    Key("first.leave", "q", "quit", "Leave; running timers go on", SCREENS),
)

SCREEN_KEYS: dict[str, tuple[Key, ...]] = {
    "first": FIRST,
    "unit": (
        Key("unit.open_row", "enter", "open", "Open the line under the cursor", THIS),
        Key("unit.next_panel", "tab", "next panel", "Go on to the next panel", FIND),
        Key("unit.start_stop", "s", "start/stop", "Start the task under the cursor, or stop it", TIME),
        Key("unit.finish", "d", "done", "Finish the task: issue what it took", TIME),
        UNIT_MORE,
        Key("unit.skip", "z", "skip", "Skip the task with a reason", TIME),
        Key("unit.reopen", "y", "reopen", "Take up a finished or skipped task again", TIME),
        Key("unit.earlier", "minus", "up", "Move the task one place up at its stage", THIS, footer=False),
        Key("unit.later", "plus", "down", "Move the task one place down at its stage", THIS, footer=False),
        Key("unit.rename_task", "r", "rename", "Give the task another name or estimate", THIS),
        Key("unit.set_use", "t", "takes", "Say what the task takes", STOCK),
        Key("unit.add_time", "a", "add time", "Add time that was worked but not timed", TIME),
        Key("unit.add_task", "n", "new task", "Add a task to this unit", THIS),
        Key("unit.move_on", "m", "move on", "Move the unit to the next stage", UNIT),
        Key("unit.move_back", "b", "back a stage", "Move the unit back one stage", UNIT),
        Key("unit.go_to", "g", "go to stage", "Move the unit to any stage", UNIT),
        Key("unit.hold", "h", "hold", "Hold the unit with a reason, or release it", UNIT),
        Key("unit.edit_unit", "e", "edit", "Change the unit's particulars", UNIT),
        Key(
            "unit.opening_list",
            "o",
            "opening list",
            "Tick the list before the cover comes off",
            SAFETY,
        ),
        Key("unit.close_up_list", "c", "close-up list", "Tick the list that comes before closing", SAFETY),
        Key("unit.bad_cell", "x", "bad cell", "Report a swollen, punctured or wet cell", SAFETY),
        Key("unit.calculators", "l", "calculators", "The sums of the trade, with this unit", SCREENS),
        Key("unit.journal", "j", "journal", "What was done to this unit", SCREENS),
        Key("unit.undo", "u", "undo", "Undo a change of yours, or do it again", UNIT),
        back("unit"),
    ),
    "figure": (
        Key("figure.open_row", "enter", "open", "Open the line under the cursor", THIS),
        Key("figure.undo", "u", "undo", "Undo a change of yours, or do it again", THIS),
        back("figure"),
    ),
    "stock": (
        Key("stock.open_row", "enter", "history", "The movements that make up the level", THIS),
        Key("stock.restock", "r", "restock", "Book what was delivered", STOCK),
        Key("stock.count", "k", "count", "Count what is on the shelf", STOCK),
        Key("stock.add_consumable", "n", "new", "Add a consumable", STOCK),
        Key("stock.edit_consumable", "e", "edit", "Change the consumable", STOCK),
        Key("stock.remove_consumable", "x", "remove", "Take the consumable off the list", STOCK),
        Key("stock.undo", "u", "undo", "Undo a change of yours, or do it again", STOCK),
        back("stock"),
    ),
    "consumable": (
        Key("consumable.restock", "r", "restock", "Book what was delivered", STOCK),
        Key("consumable.count", "k", "count", "Count what is on the shelf", STOCK),
        Key("consumable.edit_consumable", "e", "edit", "Change the consumable", STOCK),
        Key("consumable.open_row", "enter", "unit", "Open the unit that took it", THIS),
        Key("consumable.undo", "u", "undo", "Undo a change of yours, or do it again", STOCK),
        back("consumable"),
    ),
    "week": (
        Key("week.open_row", "enter", "open", "Open the line under the cursor", THIS),
        Key("week.next_panel", "tab", "next panel", "Go on to the next panel", FIND),
        Key("week.earlier", "left,left_square_bracket", "earlier", "The week before", THIS),
        Key("week.later", "right,right_square_bracket", "later", "The week after", THIS),
        Key("week.this_week", "t", "this week", "Back to the week we are in", THIS),
        Key("week.correct", "e", "correct", "Correct the time entry under the cursor", TIME),
        Key("week.add_time", "n", "add time", "Add time to the task of the entry under the cursor", TIME),
        Key("week.save", "s", "save", "Save the sheet as text, CSV or JSON", THIS),
        Key("week.take_estimates", "a", "take estimates", "Make what was measured the new estimate", TIME),
        Key("week.undo", "u", "undo", "Undo a change of yours, or do it again", TIME),
        back("week"),
    ),
    "journal": (
        Key("journal.open_row", "enter", "unit", "Open the unit of this line", THIS),
        Key("journal.older", "o", "older", "Read on further back", THIS),
        Key("journal.undo", "u", "undo", "Undo a change of yours, or do it again", THIS),
        back("journal"),
    ),
    "routes": (
        Key("routes.open_row", "enter", "open", "Open the line under the cursor", THIS),
        Key("routes.next_panel", "tab", "next panel", "Go on to the next panel", FIND),
        Key("routes.add", "n", "new", "Add a route, or a task to the route", THIS),
        Key("routes.edit", "e", "edit", "Change the line under the cursor", THIS),
        Key("routes.set_use", "t", "takes", "Say what the task takes", STOCK),
        Key("routes.copy", "y", "copy", "Copy the route under a new name", THIS),
        Key("routes.earlier", "minus", "up", "Move the task one place up", THIS),
        Key("routes.later", "plus", "down", "Move the task one place down", THIS),
        Key("routes.remove", "x", "remove", "Remove the line under the cursor", THIS),
        Key("routes.undo", "u", "undo", "Undo a change of yours, or do it again", THIS),
        back("routes"),
    ),
    "settings": (
        Key("settings.edit", "e,enter", "edit", "Change the line under the cursor", THIS),
        Key("settings.add", "n", "new", "Add a person or a stage", THIS),
        Key("settings.lid", "l", "cover on/off", "Say whether the cover is off at the stage", SAFETY),
        Key("settings.sale", "s", "lists, sells", "Say whether units are listed or sold at the stage", THIS),
        Key("settings.earlier", "minus", "up", "Move the stage one place up", THIS),
        Key("settings.later", "plus", "down", "Move the stage one place down", THIS),
        Key("settings.remove", "x", "remove", "Remove the line under the cursor", THIS),
        Key("settings.undo", "u", "undo", "Undo a change of yours, or do it again", THIS),
        back("settings"),
    ),
    "calculators": (
        Key("calculators.figures", "enter", "figures", "Go to the figures, and on to the next one", THIS),
        Key("calculators.put", "ctrl+s", "put on the unit", "Put the result on the unit or its task", UNIT),
        Key("calculators.empty", "ctrl+n", "empty", "Put every figure back to what it began with", THIS),
        Key("calculators.next_panel", "tab", "next panel", "Go on to the next panel", FIND),
        Key("calculators.next_field", "down", "next", "Go to the next figure", FIND, footer=False),
        Key("calculators.previous_field", "up", "previous", "Go to the figure before", FIND, footer=False),
        back("calculators"),
    ),
    **TRADE_KEYS,
    "help": (back("help"),),
    "list": (
        Key("list.up", "up", "up", "One line up", FIND, footer=False),
        Key("list.down", "down", "down", "One line down", FIND, footer=False),
        Key("list.page_up", "pageup", "page up", "A screenful up", FIND, footer=False),
        Key("list.page_down", "pagedown", "page down", "A screenful down", FIND, footer=False),
        Key("list.first", "home", "first", "To the first line", FIND, footer=False),
        Key("list.last", "end", "last", "To the last line", FIND, footer=False),
    ),
    "filter": (
        Key("filter.done", "enter,down", "to the queue", "Keep the filter and go to the queue", FIND),
        Key("filter.empty", "escape", "clear", "Show every unit again", FIND),
    ),
    "jump": (Key("jump.leave", "escape", "leave", "Go back to the queue", FIND),),
    "dialog": (
        Key("dialog.send", "ctrl+s", "save", "Do it", THIS),
        Key("dialog.cancel", "escape", "cancel", "Close and change nothing; a form keeps its draft", THIS),
        Key("dialog.enter", "enter", "next", "Go on to the next field; do it from the last one", THIS),
        Key("dialog.next_field", "down", "next field", "Go to the next field", THIS, footer=False),
        Key("dialog.previous_field", "up", "previous field", "Go to the field before", THIS, footer=False),
        Key("dialog.empty", "ctrl+n", "empty", "Empty the form, after asking", THIS, footer=False),
    ),
    "choice": (Key("choice.show_overlay", "enter,space", "choose", "Open the list", THIS, footer=False),),
    "safety_list": (
        Key("safety_list.tick_here", "space", "tick", "Tick the line, or take the tick off", SAFETY),
        Key("safety_list.without", "w", "go on without", "Go on without the list, with a reason", SAFETY),
        Key("safety_list.bad_cell", "x", "bad cell", "Report a swollen, punctured or wet cell", SAFETY),
    ),
    "unknown_scan": (
        Key("unknown_scan.take_in", "t", "take in", "Take in a unit with this serial number", UNIT),
        Key("unknown_scan.new_consumable", "c", "consumable", "Add a consumable with this code", STOCK),
    ),
    "cell": (
        Key("cell.swollen", "1", "swollen", "Report a swollen cell", SAFETY),
        Key("cell.punctured", "2", "punctured", "Report a punctured cell", SAFETY),
        Key("cell.wet", "3", "wet", "Report a wet cell", SAFETY),
    ),
    "open_tasks": (
        Key("open_tasks.mark_done", "d", "mark done", "Mark these tasks done, and move", UNIT),
        Key("open_tasks.skip", "z", "skip", "Skip these tasks with a reason, and move", UNIT),
    ),
    "done_tasks": (
        Key("done_tasks.reopen", "o", "to do again", "Reopen these tasks, and move", UNIT),
        Key("done_tasks.keep", "k", "keep as done", "Leave these tasks as they are, and move", UNIT),
    ),
    "forgotten": (
        Key("forgotten.keep", "f2", "keep", "Let the timer run on", TIME),
        Key("forgotten.drop", "f4", "drop", "Drop the timer as if it had not been started", TIME),
    ),
    "correct_entry": (
        Key("correct_entry.remove", "f4", "remove", "Remove the entry, for the reason typed", TIME),
    ),
    "finish": (Key("finish.count", "f2", "count", "Count what is short", STOCK),),
    "mark": (Key("mark.tick", "space", "tick", "Tick the box, or take the tick off", THIS),),
}


def keys_of(screen: str) -> tuple[Key, ...]:
    """The keys of a screen in the order of its key bar, those of the whole app last."""
    return (*SCREEN_KEYS[screen], *APP)


def bindings_for(screen: str) -> list[Binding | tuple[str, str] | tuple[str, str, str]]:
    """The bindings of a screen, ready for its BINDINGS; the whole app's under "app"."""
    table = APP if screen == "app" else SCREEN_KEYS[screen]
    return [_binding(key) for key in table]


def hints_for(screen: str, own: Mapping[str, str]) -> tuple[list[KeyHint], list[KeyHint]]:
    """What a screen's key bar offers, with a person's own keys; the second part is always shown."""
    shown = [_hint(key, own) for key in SCREEN_KEYS[screen] if key.footer]
    return shown[:-1], [*(_hint(key, own) for key in APP if key.footer), shown[-1]]


def key_shown(key_id: str, own: Mapping[str, str]) -> str:
    """The key behind an id as people know it, such as Esc, with a person's own keys."""
    table = APP if key_id.startswith("app.") else SCREEN_KEYS[key_id.partition(".")[0]]
    return next(shown_key(own.get(key.id, key.keys)) for key in table if key.id == key_id)


def _hint(key: Key, own: Mapping[str, str]) -> KeyHint:
    where = "app." if key in APP else ""
    return KeyHint(shown_key(own.get(key.id, key.keys)), key.label, where + key.action)


def _binding(key: Key) -> Binding:
    return Binding(key.keys, key.action, key.label, show=key.footer, tooltip=key.tooltip, id=key.id)
