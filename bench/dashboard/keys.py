"""The keys of a screen, made from its acts: bindings and key bars.

Only keys that every terminal sends. An act's id is `screen.name`; people remap by id in the settings file.
The acts of a screen are loaded when it is: a start needs those of the first one only.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from textual.binding import Binding

from bench.dashboard.acts.act import Act, load
from bench.dashboard.presenters.key_bar import KeyHint, shown_key

TABLES = {
    "app": "bench.dashboard.acts.common:APP",
    "first": "bench.dashboard.acts.units:FIRST",
    "unit": "bench.dashboard.acts.units:UNIT_SHEET",
    "bench_view": "bench.dashboard.acts.units:BENCH_VIEW",
    "figure": "bench.dashboard.acts.common:FIGURE",
    "stock": "bench.dashboard.acts.stock:STOCK_BOOK",
    "consumable": "bench.dashboard.acts.stock:CONSUMABLE",
    "week": "bench.dashboard.acts.timers:WEEK",
    "journal": "bench.dashboard.acts.common:JOURNAL",
    "routes": "bench.dashboard.acts.shop:ROUTES",
    "settings": "bench.dashboard.acts.shop:SETTINGS",
    "calculators": "bench.dashboard.acts.common:CALCULATORS",
    "more": "bench.dashboard.acts.units:ALL_ELSE",
    "job": "bench.dashboard.acts.repair_jobs:JOB",
    "jobs": "bench.dashboard.acts.repair_jobs:JOBS",
    "expenses": "bench.dashboard.acts.repair_jobs:EXPENSES",
    "buying": "bench.dashboard.acts.buying:BUYING",
    "offer": "bench.dashboard.acts.buying:OFFER",
    "lot_form": "bench.dashboard.acts.buying:LOT_FORM",
    "lots": "bench.dashboard.acts.buying:LOTS",
    "condition": "bench.dashboard.acts.condition:CONDITION",
    "faults": "bench.dashboard.acts.faults:FAULTS",
    "shop_faults": "bench.dashboard.acts.faults:SHOP_FAULTS",
    "wiping": "bench.dashboard.acts.drives:WIPING",
    "grading": "bench.dashboard.acts.condition:GRADING",
    "money": "bench.dashboard.acts.money:MONEY",
    "parts": "bench.dashboard.acts.drives:PARTS",
    "models": "bench.dashboard.acts.models:MODELS",
    "model_page": "bench.dashboard.acts.models:MODEL_PAGE",
    "three_ways": "bench.dashboard.acts.money:THREE_WAYS",
    "photographs": "bench.dashboard.acts.photographs:PHOTOGRAPHS",
    "orders": "bench.dashboard.acts.orders:ORDERS",
    "parts_shelf": "bench.dashboard.acts.orders:PARTS_SHELF",
    "next_up": "bench.dashboard.acts.money:NEXT_UP",
    "register": "bench.dashboard.acts.money:REGISTER",
    "months": "bench.dashboard.acts.money:MONTHS",
    "trade": "bench.dashboard.acts.shop:TRADE",
    "papers": "bench.dashboard.acts.money:PAPERS",
    "help": "bench.dashboard.acts.common:HELP",
    "manual": "bench.dashboard.acts.common:MANUAL",
    "finder": "bench.dashboard.acts.common:FINDER",
    "table": "bench.dashboard.acts.tables:TABLE",
    "columns": "bench.dashboard.acts.tables:COLUMNS",
    "list": "bench.dashboard.acts.common:LIST",
    "filter": "bench.dashboard.acts.common:FILTER",
    "jump": "bench.dashboard.acts.common:JUMP",
    "dialog": "bench.dashboard.acts.common:DIALOG",
    "choice": "bench.dashboard.acts.common:CHOICE",
    "safety_list": "bench.dashboard.acts.common:SAFETY_LIST",
    "unknown_scan": "bench.dashboard.acts.common:UNKNOWN_SCAN",
    "beginning": "bench.dashboard.acts.shop:BEGINNING",
    "cell": "bench.dashboard.acts.units:CELL",
    "open_tasks": "bench.dashboard.acts.units:OPEN_TASKS",
    "done_tasks": "bench.dashboard.acts.units:DONE_TASKS",
    "forgotten": "bench.dashboard.acts.timers:FORGOTTEN",
    "correct_entry": "bench.dashboard.acts.timers:CORRECT_ENTRY",
    "finish": "bench.dashboard.acts.timers:FINISH",
    "mark": "bench.dashboard.acts.common:MARK",
}


@cache
def acts_on(screen: str) -> tuple[Act, ...]:
    """The acts of a screen in the order of its key bar; the whole app's under "app"."""
    acts: tuple[Act, ...] = load(TABLES[screen])
    return acts


def act_on(screen: str, name: str) -> Act:
    """The act of that name on a screen."""
    return next(one for one in acts_on(screen) if one.name == name)


def bindings_for(screen: str) -> list[Binding | tuple[str, str] | tuple[str, str, str]]:
    """The bindings of a screen, ready for its BINDINGS; the whole app's under "app"."""
    return [_binding(one) for one in acts_on(screen)]


def bindings_everywhere(*names: str) -> list[Binding]:
    """Bindings of the whole app for a dialog, over which the app's own are not looked at."""
    acts = [act_on("app", name) for name in names]
    return [Binding(one.keys, run_by(one), one.label, show=False, id=one.id) for one in acts]


def hints_for(
    screen: str, own: Mapping[str, str], *, besides: str = ""
) -> tuple[list[KeyHint], list[KeyHint]]:
    """What a screen's key bar offers, with a person's own keys; the second part is always shown.

    `besides`: acts that several screens share, offered where there is room.
    """
    shown = [_hint(one, own) for one in acts_on(screen) if one.footer]
    more = [_hint(one, own) for one in acts_on(besides) if one.footer] if besides else []
    return [*shown[:-1], *more], [*(_hint(one, own) for one in acts_on("app") if one.footer), shown[-1]]


def key_shown(key_id: str, own: Mapping[str, str]) -> str:
    """The key behind an id as people know it, such as Esc, with a person's own keys."""
    screen, _, name = key_id.partition(".")
    return shown_key(own.get(key_id, act_on(screen, name).keys))


def run_by(one: Act) -> str:
    """What runs an act from a screen, by key, by a click on its word or where it is found."""
    return f"app.{one.action}" if one.screen == "app" else one.action


def _hint(one: Act, own: Mapping[str, str]) -> KeyHint:
    return KeyHint(shown_key(own.get(one.id, one.keys)), one.label, run_by(one))


def _binding(one: Act) -> Binding:
    return Binding(
        one.keys,
        one.action,
        one.label,
        show=one.footer,
        tooltip=one.tooltip,
        id=one.id,
        priority=one.anywhere,
    )
