"""The rows behind a unit's figures: its time entries, and what it took off the shelf."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from textual.widget import Widget

from bench.dashboard.acts import places
from bench.dashboard.presenters.unit_rows import consumables_head, entries_head
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.views.entries import EntryLine, read_unit_entries
from bench.views.kinds import Context, context_of
from bench.views.shop import read_shop
from bench.views.tables.entries import ENTRIES
from bench.views.tables.stock import TAKEN
from bench.views.unit import UnitConsumables, read_unit_consumables

Entries = tuple[tuple[EntryLine, ...], str]


class UnitTimeScreen(Sheet[Entries]):
    """The entries behind a unit's hands-on or machine time; Enter corrects one."""

    keys = "figure"

    def __init__(self, unit_id: int, *, attended: bool) -> None:
        super().__init__()
        self.unit_id = unit_id
        self.attended = attended

    def panels(self) -> Iterable[Widget]:
        """One table."""
        yield RowTable(replace(ENTRIES, title="Time"), id="rows")

    def read(self) -> Callable[[], Entries]:
        """The entries, and the shop's zone."""
        desk, unit_id, attended = self.desk, self.unit_id, self.attended

        def work() -> Entries:
            entries = read_unit_entries(desk, unit_id)
            return tuple(one for one in entries if one.attended == attended), read_shop(desk).zone

        return work

    def show(self, _facts: Entries) -> None:
        """The rows and their sum."""
        self.tick(self.desk.clock.now_us())

    def tick(self, now_us: int) -> None:
        """What runs counts on."""
        if self.facts is None:
            return
        entries, zone = self.facts
        self.query_one("#head", LinesPanel).show(
            lambda width: entries_head(entries, now_us, width, attended=self.attended)
        )
        self.table("rows").fill(entries, Context(zone=zone, now_us=now_us))

    def open_row(self) -> None:
        """Correct the entry."""
        key = self.table("rows").key
        if isinstance(key, int):
            self.open_screen(places.CORRECT_ENTRY, key)


class UnitConsumablesScreen(Sheet[UnitConsumables]):
    """The movements behind a unit's consumables; Enter opens the consumable."""

    keys = "figure"

    def __init__(self, unit_id: int) -> None:
        super().__init__()
        self.unit_id = unit_id

    def panels(self) -> Iterable[Widget]:
        """One table."""
        yield RowTable(TAKEN, id="rows")

    def read(self) -> Callable[[], UnitConsumables]:
        """The movements."""
        desk, unit_id = self.desk, self.unit_id
        return lambda: read_unit_consumables(desk, unit_id)

    def show(self, facts: UnitConsumables) -> None:
        """The rows and their sum."""
        self.query_one("#head", LinesPanel).show(lambda width: consumables_head(facts, width))
        self.table("rows").fill(facts.lines, context_of(facts))

    def open_row(self) -> None:
        """The history of the consumable."""
        key = self.table("rows").key
        if self.facts is not None and isinstance(key, int):
            line = next(one for one in self.facts.lines if one.movement_id == key)
            self.open_screen(places.CONSUMABLE, line.consumable_id)
