"""The rows behind a line of the most to pay."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from textual.widget import Widget

from bench.dashboard.acts import places
from bench.dashboard.presenters.offer_rows import behind_head, behind_rows
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.domain.price_sheet import PriceRows
from bench.views.price_rows import read_price_rows
from bench.views.tables.offers import BEHIND


class PriceRowsScreen(Sheet[PriceRows]):
    """Past jobs, what the route takes, or the shop's settings; Enter opens a unit."""

    keys = "figure"

    def __init__(self, opens: str, route_id: int | None, channel_id: int | None) -> None:
        super().__init__()
        self.opens = opens
        self.route_id = route_id
        self.channel_id = channel_id

    def panels(self) -> Iterable[Widget]:
        """One table."""
        yield RowTable(BEHIND, id="rows")

    def read(self) -> Callable[[], PriceRows]:
        """The rows."""
        desk, opens, route_id, channel_id = self.desk, self.opens, self.route_id, self.channel_id
        return lambda: read_price_rows(desk, opens, route_id=route_id, channel_id=channel_id)

    def show(self, facts: PriceRows) -> None:
        """The rows under their title."""
        self.query_one("#head", LinesPanel).show(lambda width: behind_head(facts, width))
        self.table("rows").show(behind_rows(facts))

    def open_row(self) -> None:
        """The unit of a past job."""
        key = self.table("rows").key
        if isinstance(key, tuple) and isinstance(key[1], int):
            self.open_screen(places.UNIT, key[1])
