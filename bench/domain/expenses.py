"""General expenses and income, which belong to no unit: rent, tools, postage, teaching."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

from bench.domain.amounts import Minor
from bench.domain.money import show_money
from bench.domain.quote_totals import tax_within

SPENT, EARNED = "expense", "income"
SIDES = (SPENT, EARNED)

# Offered where nothing was typed yet; a shop types its own.
USUAL = {
    SPENT: ("rent", "tools", "postage", "electricity", "insurance", "advertising", "other"),
    EARNED: ("teaching", "showing the work", "other income"),
}


@dataclass(frozen=True, slots=True)
class ExpenseLine:
    """One expense or income. `amount_minor`: what was paid, tax included, below 0 where it was spent.

    `tax_per_10000`: the rate of the tax in it; None: not typed.
    """

    expense_id: int
    day: date
    side: str
    category: str
    amount_minor: Minor
    party: str
    note: str
    tax_per_10000: int | None

    @property
    def tax_minor(self) -> Minor | None:
        """The tax contained in it, halves up, on its own side; None where no rate was typed."""
        if self.tax_per_10000 is None:
            return None
        tax = tax_within(abs(self.amount_minor), self.tax_per_10000)
        return -tax if self.amount_minor < 0 else tax


@dataclass(frozen=True, slots=True)
class ExpenseKept:
    """What was kept of one that was typed."""

    expense_id: int
    day: date
    side: str
    category: str
    amount_minor: Minor
    currency: str


def kept_words(kept: ExpenseKept, told: Callable[[date], str] = date.isoformat) -> str:
    """What was kept, in one line; `told`: how a day is."""
    amount = show_money(abs(kept.amount_minor), kept.currency)
    return f"{kept.side.capitalize()} {kept.expense_id}: {amount} for {kept.category}, {told(kept.day)}."
