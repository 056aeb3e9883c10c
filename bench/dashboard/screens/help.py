"""Every key there is: those of the screen below first, then what is the same everywhere, then the rest."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from textual.widget import Widget

from bench.dashboard.key_check import APP, SCREEN_KEYS
from bench.dashboard.keys import key_shown
from bench.dashboard.manual_places import keys_name
from bench.dashboard.presenters.help_rows import HELP, help_rows
from bench.dashboard.presenters.pieces import Part
from bench.dashboard.presenters.rows import Row
from bench.dashboard.screens.manual import ManualScreen
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable


class HelpScreen(Sheet[str]):
    """The keys, made from the table in keys.py with a person's own in place."""

    keys = "help"

    def panels(self) -> Iterable[Widget]:
        """One table."""
        yield RowTable(HELP, id="rows")

    def read(self) -> Callable[[], str]:
        """Nothing is read from the file: only which screen lies below."""
        below = [one for one in self.app.screen_stack[:-1] if not isinstance(one, ManualScreen)]
        table = keys_name(below[-1]) if below else "first"
        return lambda: table

    def show(self, facts: str) -> None:
        """The keys of the screen below, then all others."""
        own = self.bench.own_keys
        rows: list[Row] = list(help_rows(_title(facts), SCREEN_KEYS[facts], own))
        rows += help_rows("Everywhere", (*APP, *SCREEN_KEYS["list"]), own)
        rows += help_rows(_title("table"), SCREEN_KEYS["table"], own)
        for name, table in SCREEN_KEYS.items():
            if name not in (facts, "list", "table", "help"):
                rows += help_rows(_title(name), table, own)
        find = key_shown("app.find", own)
        manual = key_shown("app.manual", own)
        words = f"  every key; {manual} opens the manual, {find} finds anything by its name"
        title = (Part(" Keys", "strong"), Part(words, "muted"))
        self.query_one("#head", LinesPanel).show(lambda _width: (title,))
        self.table("rows").show(rows)


def _title(table: str) -> str:
    return NAMES.get(table, table.replace("_", " ").capitalize())


NAMES = {
    "first": "The first screen",
    "figure": "Behind a figure",
    "dialog": "In every dialog",
    "choice": "In a list to choose from",
    "mark": "On a box to tick",
    "finish": "Finishing a task",
    "cell": "A bad cell",
    "forgotten": "A forgotten timer",
    "open_tasks": "Unfinished tasks",
    "done_tasks": "Tasks done, and moving back",
    "correct_entry": "Correcting an entry",
    "jump": "Typing a tag",
    "more": "The list of all else there is",
    "offer": "Looking at a unit",
    "lot_form": "Buying a lot",
    "wiping": "Drives and wipes",
    "grading": "Grade",
    "next_up": "What next",
    "months": "Month and year",
    "trade": "Trading settings",
    "filter": "Typing a filter",
    "finder": "Typing what is sought",
    "table": "In every table",
    "columns": "The columns of a table",
}
