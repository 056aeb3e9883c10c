"""General expenses and income of a month or a year: line by line, and by category."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import PurePath
from typing import ClassVar

from textual.widget import Widget

from bench.dashboard.presenters.pieces import Line, Part, spread
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.domain.expenses import ExpenseLine
from bench.domain.money import show_money
from bench.domain.spans import Span
from bench.domain.text import for_display
from bench.views.expenses import ExpenseBook, read_expenses
from bench.views.kinds import context_of
from bench.views.tables.expenses import BY_CATEGORY, EXPENSES

EXPENSE_FORM = "bench.dashboard.screens.dialogs.expense_forms:expense_form"


class ExpensesScreen(Sheet[ExpenseBook]):
    """One span; None is the month that it is now. `category`: its lines alone, nothing for all."""

    keys = "expenses"
    CSS_PATH: ClassVar[list[str | PurePath]] = ["sheet.tcss", "expenses.tcss"]

    def __init__(self, span: Span | None = None, category: str = "") -> None:
        super().__init__()
        self.span = span
        self.category = category

    def panels(self) -> Iterable[Widget]:
        """The lines; the categories."""
        yield RowTable(EXPENSES, id="rows")
        yield RowTable(BY_CATEGORY, id="sums")

    def read(self) -> Callable[[], ExpenseBook]:
        """The span that is chosen."""
        desk, span, category = self.desk, self.span, self.category
        return lambda: read_expenses(desk, span, category)

    def show(self, facts: ExpenseBook) -> None:
        """Everything on the screen."""
        self.query_one("#head", LinesPanel).show(lambda width: (_head(facts, width),))
        self.table("rows").fill(facts.lines, context_of(facts))
        self.table("sums").fill(facts.by_category, context_of(facts))

    def expense_here(self) -> ExpenseLine | None:
        """The line under the cursor."""
        key = self.table("rows").key
        return next((one for one in self.facts.lines if one.expense_id == key), None) if self.facts else None

    def open_row(self) -> None:
        """Set the line right; of a category, show its lines alone."""
        key, line = self.table("sums").key, self.expense_here()
        if self.table("sums").is_current and isinstance(key, tuple):
            self._choose(None, str(key[0]))
            self.table("rows").take_focus()
        elif line is not None:
            self.open_screen(EXPENSE_FORM, line)

    def action_every(self) -> None:
        """Every category again."""
        self._choose(None, "")

    def action_earlier(self) -> None:
        """The span before."""
        if self.facts is not None:
            self._choose(self.facts.span.next(-1), None)

    def action_later(self) -> None:
        """The span after."""
        if self.facts is not None:
            self._choose(self.facts.span.next(), None)

    def action_span(self) -> None:
        """The year of this month, or the first month of this year."""
        if self.facts is not None:
            span = self.facts.span
            self._choose(Span(span.year) if span.month else Span(span.year, 1), None)

    def _choose(self, span: Span | None, category: str | None) -> None:
        self.span = self.span if span is None else span
        self.category = self.category if category is None else category
        self.ask()


def _head(book: ExpenseBook, width: int) -> Line:
    """Which span and category, and what it comes to."""
    only = f"  {for_display(book.category)}" if book.category else "  every category"
    left = (Part(f" General expenses, {book.span.words}", "strong"), Part(only, "muted"))
    return spread(left, (Part(f"{show_money(book.total_minor, book.currency)} ", "heading"),), width)
