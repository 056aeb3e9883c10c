"""Where in the manual a person stands: topic and heading for every screen, dialog and panel."""

from __future__ import annotations

from typing import Any

from textual.binding import Binding
from textual.screen import Screen

START = "start"
# By the name of a screen's table of keys, and of the first screen's panel that has the focus.
SCREENS = {
    "first": "bench",
    "first stock": "stock#levels",
    "first safety": "safety",
    "first tasks": "bench#tasks",
    "first filter": "bench#finding-a-unit",
    "first jump": "scanner#tags",
    "bench_view": "bench#the-bench-view",
    "unit": "bench#tasks",
    "figure": "week#every-figure-opens",
    "stock": "stock",
    "consumable": "stock#levels",
    "week": "week",
    "journal": "trouble#the-journal",
    "routes": "settings#routes",
    "settings": "settings",
    "calculators": "calculators",
    "more": "start#where-everything-is",
    "job": "repairs",
    "jobs": "repairs",
    "expenses": "week#general-expenses",
    "buying": "buying",
    "offer": "buying#an-offer",
    "lot_form": "buying#several-for-one-price",
    "lots": "buying#several-for-one-price",
    "condition": "condition",
    "faults": "tests",
    "shop_faults": "tests#what-faults-cost",
    "wiping": "condition#drives-and-wipes",
    "grading": "papers#grade",
    "money": "week#money-of-a-unit",
    "parts": "parts",
    "models": "models",
    "model_page": "models",
    "three_ways": "models#repair-sell-as-it-is-or-part-out",
    "photographs": "photographs",
    "orders": "parts#orders",
    "parts_shelf": "parts#the-shelf",
    "next_up": "week#what-next",
    "register": "register",
    "months": "week#months-and-years",
    "trade": "settings#trading",
    "papers": "papers",
    "help": "keys",
    "table": "start#in-every-table",
    "columns": "start#in-every-table",
    "manual": "start#this-manual",
    "safety_list": "safety#the-opening-checklist",
    "unknown_scan": "scanner#a-code-that-nobody-knows",
    "cell": "safety#a-bad-cell",
    "open_tasks": "bench#moving",
    "done_tasks": "bench#moving",
    "forgotten": "bench#a-forgotten-timer",
    "correct_entry": "week#corrections",
    "finish": "bench#finishing-a-task",
}
# By the module that describes them, and for some by their own name.
DIALOGS = {
    "access_word": "repairs#the-access-word",
    "asking": START,
    "beginning": "start#the-first-form",
    "buying_forms": "buying",
    "choose_columns": "start#in-every-table",
    "copy_menu": "start#in-every-table",
    "cell": "safety#a-bad-cell",
    "condition_forms": "condition",
    "drive_forms": "condition#drives-and-wipes",
    "expense_forms": "week#general-expenses",
    "fault_forms": "tests",
    "file_forms": "papers#saving-a-paper",
    "find": "start#finding-anything",
    "finish": "bench#finishing-a-task",
    "leaving_forms": "selling",
    "listing_forms": "selling#the-listing",
    "lot": "buying#several-for-one-price",
    "model_forms": "models",
    "more_menu": "start#where-everything-is",
    "offer": "buying#an-offer",
    "order_forms": "parts#orders",
    "part_forms": "parts",
    "photograph_forms": "photographs",
    "pick": "bench",
    "questions": "bench#moving",
    "repair_forms": "repairs",
    "safety_list": "safety#the-opening-checklist",
    "selling_forms": "selling",
    "settings_forms": "settings",
    "several_papers": "papers#saving-a-paper",
    "specification_forms": "arrival#what-it-is-made-of",
    "stock_forms": "stock",
    "stocktake": "stock",
    "tasks_in_the_way": "bench#moving",
    "time_forms": "week#corrections",
    "unit_forms": "arrival",
    "ChooseUndo": "trouble#undo",
    "FileLostDialog": "trouble#the-file-is-gone",
    "ForgottenDialog": "bench#a-forgotten-timer",
    "channel_form": "selling#channels",
    "choose_person": "people",
    "choose_stage": "bench#moving",
    "count_form": "stock#counting",
    "hold_form": "bench#on-hold",
    "place_part_form": "parts#the-shelf",
    "restock_form": "stock#a-delivery",
    "return_form": "selling#it-came-back",
    "route_task_form": "settings#routes",
    "sell_form": "selling#a-sale",
    "sell_part_form": "parts#the-shelf",
    "task_form": "bench#tasks",
    "trade_form": "settings#trading",
}
_DIALOG_MODULES = "bench.dashboard.screens.dialogs."


def keys_name(screen: Screen[Any]) -> str:
    """The name of a screen's own table of keys; that of dialogs for one that has none."""
    ids = (one.id or "" for one in type(screen).BINDINGS if isinstance(one, Binding))
    return next((one.partition(".")[0] for one in ids if one), "dialog")


def place_of(screen: Screen[Any]) -> str:
    """The topic, and behind # the heading, for where the person stands."""
    module = type(screen).__module__
    if not module.startswith(_DIALOG_MODULES):
        name = keys_name(screen)
        panel = f"{name} {screen.focused.id}" if screen.focused is not None else ""
        return SCREENS.get(panel) or SCREENS.get(name, START)
    made_by = getattr(screen, "made_by", "") or type(screen).__name__
    described_in = getattr(screen, "described_in", "") or module.rpartition(".")[2]
    return DIALOGS.get(made_by) or DIALOGS.get(described_in, START)
