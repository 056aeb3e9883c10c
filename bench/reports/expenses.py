"""General expenses and income as text and JSON."""

from __future__ import annotations

from bench.domain.money import show_money
from bench.reports.plain_tables import one_line, sections, told, under
from bench.reports.plain_values import facts_of, json_text
from bench.views.expenses import ExpenseBook
from bench.views.kinds import context_of
from bench.views.tables.expenses import BY_CATEGORY, EXPENSES


def expenses_text(book: ExpenseBook) -> str:
    """The lines of a span, and what each category came to."""
    context = context_of(book)
    only = f", {book.category}" if book.category else ""
    return sections(
        one_line(f"{EXPENSES.title}, {book.span.words}{only}"),
        told(EXPENSES, book.lines, context),
        under(BY_CATEGORY.title, told(BY_CATEGORY, book.by_category, context))
        if book.by_category and not book.category
        else "",
        f"Total: {show_money(book.total_minor, book.currency)}." if book.lines else "",
    )


def expenses_json(book: ExpenseBook) -> str:
    """The same as a JSON document."""
    return json_text("expenses", facts_of(book, book.zone))
