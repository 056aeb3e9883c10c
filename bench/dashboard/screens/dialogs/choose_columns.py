"""The columns of a table: by which it is sorted, which of them are shown. It is seen at once."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any, ClassVar

from rich.text import Text
from textual import on
from textual.binding import BindingType
from textual.widget import Widget
from textual.widgets import Button, OptionList
from textual.widgets.option_list import Option

from bench.dashboard.keys import bindings_for
from bench.dashboard.presenters.arranged_rows import FALLS, RISES, Arrangement, can_sort, column_names
from bench.dashboard.screens.dialogs.dialog import Dialog
from bench.dashboard.widgets.queue_list import QueueList
from bench.dashboard.widgets.row_table import RowTable

NO_ORDER = "The lines of this table keep the order that they have."
NOT_BY_THIS = "Nothing can be sorted by this column."
ITS_WIDTH = "The queue shows what its width has room for."
LAST_ONE = "It is the last column that is shown."


class ColumnsDialog(Dialog[bool]):
    """Enter sorts by the column, Space shows or hides it."""

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("columns")
    send_label = "Sort by"
    send_action = "enter"
    cancel_label = "Close"

    def __init__(self, table: RowTable | QueueList) -> None:
        super().__init__(f"Columns of {table.table.title}")
        self.add_class("wide")
        self.table = table

    def body(self) -> Iterable[Widget]:
        """A line a column."""
        yield OptionList(*self._lines(), id="columns", compact=True)

    def buttons(self) -> Iterable[Button]:
        """All that can be done with a column."""
        yield self.button(self.send_label, self.send_action, variant="primary")
        if self.table.chooses_columns:
            yield self.button("Show/hide", "turn")
        yield self.button("Own order", "own_order")
        yield self.button(self.cancel_label, "cancel")

    def on_mount(self) -> None:
        """Begin with the column that it is sorted by."""
        names = column_names(self.table.table)
        by = self.table.arrangement.by
        self.query_one(OptionList).highlighted = names.index(by) if by in names else 0

    def work(self) -> Callable[[], Any] | None:
        """Sort by the column: rising, falling, then the table's own order again."""
        place = self._place()
        if place is not None:
            if self.table.sort_by(place):
                self.say("")
            else:
                can_sort_by_any = any(can_sort(column) for column in self.table.table.columns)
                self.say(NOT_BY_THIS if can_sort_by_any else NO_ORDER)
            self._retell()
        return None

    def action_turn(self) -> None:
        """Show the column, or hide it."""
        place = self._place()
        if not isinstance(self.table, RowTable):
            self.say(ITS_WIDTH)
        elif place is not None:
            self.say("" if self.table.turn_column(place) else LAST_ONE)
            self._retell()

    def action_own_order(self) -> None:
        """The table as it is by itself."""
        self.table.rearrange(Arrangement())
        self.say("")
        self._retell()

    @on(OptionList.OptionSelected)
    def _chosen(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        self.action_send()

    def _place(self) -> int | None:
        return self.query_one(OptionList).highlighted

    def _retell(self) -> None:
        columns = self.query_one(OptionList)
        for place, line in enumerate(self._lines()):
            columns.replace_option_prompt_at_index(place, line.prompt)

    def _lines(self) -> list[Option]:
        return [Option(self._words(place, name)) for place, name in enumerate(column_names(self.table.table))]

    def _words(self, place: int, name: str) -> Text:
        arrangement = self.table.arrangement
        mark = (FALLS if arrangement.falling else RISES) if name == arrangement.by else " "
        told = []
        if isinstance(self.table, RowTable):
            told.append("shown" if self.table.sees_column(place) else self._why_not(name))
        if not can_sort(self.table.table.columns[place]):
            told.append("not to sort by")
        return Text.assemble(f" {mark} ", (f"{name:<24}", "bold"), ", ".join(told))

    def _why_not(self, name: str) -> str:
        return "hidden" if name in self.table.arrangement.hidden else "no room at this width"
