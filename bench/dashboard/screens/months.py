"""A month or a year: earned per hands-on hour, money tied up, what is slow, what was used."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import PurePath
from typing import ClassVar

from textual.widget import Widget

from bench.dashboard.acts import places
from bench.dashboard.presenters import month_rows as rows
from bench.dashboard.presenters.rows import not_known_rows
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.dashboard.widgets.steady import Stacked
from bench.domain.spans import Span
from bench.views.kinds import context_of
from bench.views.ledger import GENERAL
from bench.views.months import AsOfNow, MonthSheet, read_as_of_now, read_month, read_year
from bench.views.tables import month as tables


class MonthsScreen(Sheet[MonthSheet | AsOfNow]):
    """One span; None is the month or the year we are in. Of a year, what is known at once comes first."""

    keys = "months"
    CSS_PATH: ClassVar[list[str | PurePath]] = ["sheet.tcss", "months.tcss"]

    def __init__(self, span: Span | None = None, *, whole_year: bool = False) -> None:
        super().__init__()
        self.span = span
        self.whole_year = whole_year
        self._begun: tuple[Span | None, bool] | None = None

    def panels(self) -> Iterable[Widget]:
        """Earned on the left with its sum; what is tied up, slow and used on the right."""
        with Stacked(id="left"):
            yield RowTable(tables.EARNED, id="earned")
            yield RowTable(tables.TOTAL, id="total")
        with Stacked(id="right"):
            yield RowTable(tables.TIED_UP, id="tied")
            yield RowTable(tables.SLOWEST, id="slow")
            yield RowTable(tables.USED, id="used")
        yield LinesPanel(id="rule")

    def read(self) -> Callable[[], MonthSheet | AsOfNow]:
        """The span that is chosen, or the one we are in; of a year that is not shown yet, its beginning."""
        desk, span, whole_year = self.desk, self.span, self.whole_year
        year = None if span is None else span.year
        begins = whole_year and self._begun != (span, whole_year)
        self._begun = (span, whole_year)

        def work() -> MonthSheet | AsOfNow:
            if whole_year:
                return read_as_of_now(desk, year) if begins else read_year(desk, year)
            return read_month(desk, span.year, span.month) if span is not None else read_month(desk)

        return work

    def goes_on(self, facts: MonthSheet | AsOfNow) -> bool:
        """With the sums of a year, after what is known at once."""
        return isinstance(facts, AsOfNow)

    def show(self, facts: MonthSheet | AsOfNow) -> None:
        """Everything that is known on the screen."""
        self.query_one("#head", LinesPanel).show(lambda width: rows.month_head(facts, width))
        self.table("tied").show(rows.tied_rows(facts))
        self.table("slow").fill(facts.slowest)
        self.query_one("#rule", LinesPanel).show(rows.rule_lines)
        if isinstance(facts, AsOfNow):
            for name in ("earned", "total", "used"):
                self.table(name).show(not_known_rows())
            return
        self.table("earned").show(rows.earned_rows(facts))
        total = (*tables.total_lines(facts), *tables.left_out_lines(facts))
        self.table("total").fill(total, context_of(facts))
        self.table("used").fill(facts.used, context_of(facts))

    def open_row(self) -> None:
        """A month of the year, a slow unit, a consumable."""
        table = self.current_table()
        key = table.key if table is not None else None
        if table is None or self.facts is None:
            return
        if table.id == "slow" and isinstance(key, int):
            self.open_screen(places.UNIT, key)
        elif table.id == "used" and isinstance(key, int):
            self.open_screen(places.CONSUMABLE, key)
        elif isinstance(key, tuple) and key[0] == GENERAL:
            self.open_screen(places.EXPENSES, self.facts.span, key[1])
        elif isinstance(key, tuple) and key[0] == rows.MONTH:
            self._go_to(self.facts.span.months()[key[1]], whole_year=False)

    def action_earlier(self) -> None:
        """The span before."""
        if self.facts is not None:
            self._go_to(self.facts.span.next(-1), whole_year=self.whole_year)

    def action_later(self) -> None:
        """The span after."""
        if self.facts is not None:
            self._go_to(self.facts.span.next(), whole_year=self.whole_year)

    def action_span(self) -> None:
        """The year of this month, or the month we are in of this year."""
        if self.facts is None:
            return
        span = self.facts.span
        if self.whole_year:
            self._go_to(Span(span.year, 1) if self.span is not None else None, whole_year=False)
        else:
            self._go_to(Span(span.year), whole_year=True)

    def action_now(self) -> None:
        """The month or year we are in."""
        self._go_to(None, whole_year=self.whole_year)

    def _go_to(self, span: Span | None, *, whole_year: bool) -> None:
        self.span, self.whole_year = span, whole_year
        self.ask()
