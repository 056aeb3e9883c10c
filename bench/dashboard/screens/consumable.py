"""One consumable: the movements that make up its level, with balance and cost."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from textual.widget import Widget

from bench.dashboard.acts import places
from bench.dashboard.presenters.stock_rows import history_head
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.views.kinds import context_of
from bench.views.stock import ConsumableHistory, read_history
from bench.views.tables.stock import MOVEMENTS


class ConsumableScreen(Sheet[ConsumableHistory]):
    """The movements, newest first; Enter opens the unit that took it."""

    keys = "consumable"

    def __init__(self, consumable_id: int) -> None:
        super().__init__()
        self.consumable_id = consumable_id

    def panels(self) -> Iterable[Widget]:
        """One table."""
        yield RowTable(MOVEMENTS, id="rows")

    def read(self) -> Callable[[], ConsumableHistory]:
        """Its level and movements."""
        desk, consumable_id = self.desk, self.consumable_id
        return lambda: read_history(desk, consumable_id)

    def show(self, facts: ConsumableHistory) -> None:
        """What there is of it, and why."""
        self.query_one("#head", LinesPanel).show(lambda width: history_head(facts, width))
        self.table("rows").fill(facts.movements, context_of(facts))

    def consumable_here(self) -> int:
        """The one that is shown."""
        return self.consumable_id

    def open_row(self) -> None:
        """The unit that took it."""
        key = self.table("rows").key
        lines = self.facts.movements if self.facts else ()
        line = next((one for one in lines if one.movement_id == key), None)
        if line is not None and line.unit_id is not None:
            self.open_screen(places.UNIT, line.unit_id)
