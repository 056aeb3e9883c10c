"""A unit's photographs: the list, and beside it, where there is room, the one under the cursor."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import PurePath
from typing import ClassVar

from textual import on
from textual.widget import Widget

from bench.dashboard.acts.photographs import CAPTION
from bench.dashboard.keys import key_shown
from bench.dashboard.presenters.photograph_rows import photograph_detail, photographs_head
from bench.dashboard.reading import Reading
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.line_list import LineList
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.picture import Picture
from bench.dashboard.widgets.row_table import RowTable
from bench.dashboard.widgets.steady import Stacked
from bench.domain.decoding import Cells
from bench.views.kinds import context_of
from bench.views.photographs import PhotographLine, UnitPhotographs, read_cells, read_photographs
from bench.views.tables.photographs import PHOTOGRAPHS


class PhotographsScreen(Sheet[UnitPhotographs]):
    """One table; Enter says something else under a photograph."""

    keys = "photographs"
    CSS_PATH: ClassVar[list[str | PurePath]] = ["sheet.tcss", "photographs.tcss"]

    def __init__(self, unit_id: int) -> None:
        super().__init__()
        self.unit_id = unit_id
        self._drawing: Reading[Cells | None] = Reading(self, self._draw, self._drawn)

    def panels(self) -> Iterable[Widget]:
        """The list, all that is known of one, and the picture."""
        none = f"No photograph is kept. {key_shown('photographs.attach', self.bench.own_keys)} keeps one."
        with Stacked(id="left"):
            yield RowTable(replace(PHOTOGRAPHS, empty=none), stays_lit=True, id="rows")
            yield LinesPanel(title="The photograph", id="detail")
        yield Picture(id="picture")

    def read(self) -> Callable[[], UnitPhotographs]:
        """The photographs, and whether their files are there."""
        desk, unit_id = self.desk, self.unit_id

        return lambda: read_photographs(desk, unit_id)

    def show(self, facts: UnitPhotographs) -> None:
        """The list; the picture follows."""
        self.query_one("#head", LinesPanel).show(lambda width: photographs_head(facts, width))
        self.table("rows").fill(facts.lines, context_of(facts))
        self._show_one()

    def unit_here(self) -> UnitPhotographs | None:
        """The unit with its photographs."""
        return self.facts

    def photograph_here(self) -> PhotographLine | None:
        """The photograph under the cursor."""
        key = self.table("rows").key
        lines = self.facts.lines if self.facts else ()
        return next((one for one in lines if one.photograph_id == key), None)

    def shown_photograph_here(self) -> PhotographLine | None:
        """The same, where it goes into papers."""
        line = self.photograph_here()
        return line if line is not None and line.shown else None

    def open_row(self) -> None:
        """Say something else under it."""
        if self.photograph_here() is not None:
            self.carry_out(CAPTION)

    @on(LineList.Moved, "#rows RowList")
    def _moved(self) -> None:
        self._show_one()

    @on(Picture.Resized)
    def _other_room(self) -> None:
        self._drawing.ask()

    def _show_one(self) -> None:
        facts, line = self.facts, self.photograph_here()
        detail = self.query_one("#detail", LinesPanel)
        detail.display = facts is not None and line is not None
        if facts is not None:
            context = self.context_for(facts)
            detail.show(lambda width: photograph_detail(line, context, width))
        if self.query_one(Picture).display:
            self._drawing.ask()

    def _draw(self) -> Callable[[], Cells | None]:
        desk, line = self.desk, self.photograph_here()
        width, height = self.query_one(Picture).content_size

        return lambda: None if line is None or not width else read_cells(desk, line, width, height)

    def _drawn(self, cells: Cells | None) -> None:
        self.query_one(Picture).show(cells)
