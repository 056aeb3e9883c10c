"""A unit's money: what it cost, what it brought, labour apart; every line opens its rows."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import PurePath
from typing import ClassVar

from textual import on
from textual.widget import Widget

from bench.dashboard.acts import places
from bench.dashboard.acts.money import PURCHASE_OF
from bench.dashboard.doing import say
from bench.dashboard.presenters.unit_money_rows import (
    behind_rows,
    money_head,
    money_rows,
    opened_by,
)
from bench.dashboard.reading import Reading, none_if_gone
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.line_list import LineList
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.domain.unit_money import (
    CONSUMABLES_USED,
    PARTS_BOUGHT,
    PARTS_IN,
    PARTS_LOST,
    PARTS_OUT,
    PARTS_REFUND,
    PURCHASE,
    TIME,
    WAY_OUT,
    UnitMoney,
)
from bench.views.money_rows import MoneyRows, read_money_rows
from bench.views.tables.money import BEHIND, PURCHASE_FORM, SUM
from bench.views.unit_money import read_unit_money

NO_ROWS = "This line is the total of those above it."


class MoneyScreen(Sheet[UnitMoney]):
    """The sum on the left, the rows behind the line under the cursor on the right."""

    keys = "money"
    CSS_PATH: ClassVar[list[str | PurePath]] = ["sheet.tcss", "money.tcss"]

    def __init__(self, unit_id: int) -> None:
        super().__init__()
        self.unit_id = unit_id
        self.behind: MoneyRows | None = None
        self._rows = Reading(self, self._read_rows, self._show_rows)

    def panels(self) -> Iterable[Widget]:
        """The sum, and what is behind a line of it."""
        yield RowTable(SUM, stays_lit=True, id="totals")
        yield RowTable(BEHIND, id="behind")

    def read(self) -> Callable[[], UnitMoney]:
        """The unit's money."""
        desk, unit_id = self.desk, self.unit_id
        return lambda: read_unit_money(desk, unit_id)

    def show(self, facts: UnitMoney) -> None:
        """Every line; the rows behind the one under the cursor follow."""
        self.query_one("#head", LinesPanel).show(lambda width: money_head(facts, width))
        self.table("totals").show(money_rows(facts, self.context_for(facts)))

    def open_row(self) -> None:
        """From a line to its rows; from a row to what can be corrected."""
        if self.table("behind").is_current:
            self._open_behind()
        elif self._opens() == PURCHASE_FORM:
            self.carry_out(PURCHASE_OF)
        elif self._opens() is None:
            say(self.app, NO_ROWS)
        else:
            self.table("behind").take_focus()

    def unit_here(self) -> UnitMoney | None:
        """The unit with its money."""
        return self.facts

    def _opens(self) -> str | None:
        return opened_by(self.table("totals").key)

    def _open_behind(self) -> None:
        key, behind = self.table("behind").key, self.behind
        if not isinstance(key, tuple) or behind is None:
            return
        what, _, number = behind.opens.rpartition(" ")
        if behind.opens == TIME:
            self.open_screen(places.CORRECT_ENTRY, key[1])
        elif behind.opens == PURCHASE:
            self.carry_out(PURCHASE_OF)
        elif behind.opens in (PARTS_BOUGHT, PARTS_IN, PARTS_OUT, PARTS_LOST, PARTS_REFUND):
            self.open_screen(places.PARTS, self.unit_id)
        elif what == WAY_OUT and self.facts is not None:
            self.open_screen(places.LEAVE_FORM, self.unit_id, self.facts.tag)
        elif what == CONSUMABLES_USED:
            self.open_screen(places.CONSUMABLE, int(number))
        else:
            self.open_screen(places.PAPERS, self.unit_id)

    @on(LineList.Moved, "#totals RowList")
    def _moved(self) -> None:
        self._rows.ask()

    def _read_rows(self) -> Callable[[], MoneyRows | None]:
        desk, unit_id, opens = self.desk, self.unit_id, self._opens()
        if opens is None or opens == PURCHASE_FORM:
            return lambda: None
        return none_if_gone(lambda: read_money_rows(desk, unit_id, opens))

    def _show_rows(self, behind: MoneyRows | None) -> None:
        self.behind = behind
        self.table("behind").show(behind_rows(behind) if behind is not None else ())
