"""Keep general expenses and income: what belongs to no unit."""

from __future__ import annotations

from datetime import date

from sqlmodel import col, select

from bench.desk import Desk
from bench.domain.dates import read_day
from bench.domain.expenses import EARNED, SIDES, SPENT, USUAL, ExpenseKept
from bench.domain.money import read_money, show_money
from bench.domain.percent import read_percent
from bench.domain.text import clean_line, quoted
from bench.domain.typed import TypedFields
from bench.errors import BadInput
from bench.store.tables import Expense
from bench.work.change import Change, change
from bench.work.lookups import shop_of, today
from bench.work.names import tells_if_changed

LONGEST_CATEGORY = 40


def add_expense(
    desk: Desk,
    *,
    category: str,
    amount_text: str,
    side: str = "",
    day_text: str = "",
    party: str = "",
    note: str = "",
    tax_text: str = "",
) -> ExpenseKept:
    """Keep an expense or income of a category on a day, today where none is typed. The amount is with tax.

    `side`: expense or income; nothing typed goes by how the category was used before. `party`: who was paid
    or who paid. `tax_text`: the rate of the tax in it; nothing typed is not known.
    """
    with change(desk, "expense") as made:
        row = Expense(day="", side=SPENT, category="", amount_minor=1)
        _fill(made, row, category, amount_text, side, day_text, party, note, tax_text)
        made.add(row)
        kept = _kept(made, row)
        made.tells(f"Kept {_words(kept)}")
        return kept


def edit_expense(
    desk: Desk,
    expense_id: int,
    *,
    category: str,
    amount_text: str,
    side: str,
    day_text: str,
    party: str,
    note: str,
    tax_text: str,
) -> ExpenseKept:
    """Set one right, all of it as typed."""
    with change(desk, "edit expense") as made:
        row = made.get(Expense, expense_id, "expense")
        _fill(made, row, category, amount_text, side, day_text, party, note, tax_text)
        kept = _kept(made, row)
        tells_if_changed(made, f"Corrected {_words(kept)}")
        return kept


def remove_expense(desk: Desk, expense_id: int) -> ExpenseKept:
    """Take one off the records."""
    with change(desk, "remove expense") as made:
        row = made.get(Expense, expense_id, "expense")
        row.removed = 1
        kept = _kept(made, row)
        made.tells(f"Removed {_words(kept)}")
        return kept


def _fill(
    made: Change,
    row: Expense,
    category: str,
    amount_text: str,
    side: str,
    day_text: str,
    party: str,
    note: str,
    tax_text: str,
) -> None:
    fields, currency = TypedFields(), shop_of(made.session).currency
    named = fields.read("category", clean_line, category, "The category", LONGEST_CATEGORY)
    amount = fields.read("amount_text", _amount, amount_text, currency)
    fields.read("side", _side, side)
    day = fields.read("day_text", read_day, day_text, today(made), "The day") or today(made)
    row.party = fields.read("party", clean_line, party, "Who it was", allow_empty=True)
    row.note = fields.read("note", clean_line, note, "The note", allow_empty=True)
    row.tax_per_10000 = (
        fields.read("tax_text", read_percent, tax_text, "The tax rate") if tax_text.strip() else None
    )
    fields.check()
    like = _like(made, named)
    row.category = like.category if like is not None else named
    row.side = side or (like.side if like is not None else _usual_side(named))
    row.amount_minor, row.day = amount, day.isoformat()


def _like(made: Change, category: str) -> Expense | None:
    """The newest of that category, in whatever capitals it was typed."""
    statement = (
        select(Expense)
        .where(Expense.removed == 0, col(Expense.category).collate("NOCASE") == category)
        .order_by(col(Expense.id).desc())
        .limit(1)
    )
    with made.session.no_autoflush:  # the row that is filled is no earlier one
        return made.session.exec(statement).first()


def _usual_side(category: str) -> str:
    return EARNED if category.casefold() in USUAL[EARNED] else SPENT


def _amount(text: str, currency: str) -> int:
    amount = read_money(text, currency)
    if not amount:
        raise BadInput(f"{quoted(text)} is nothing.", "Give an amount above 0.")
    return amount


def _side(text: str) -> None:
    if text and text not in SIDES:
        raise BadInput(f"{quoted(text)} is neither expense nor income.", "Choose one of them.")


def _kept(made: Change, row: Expense) -> ExpenseKept:
    assert row.id is not None
    signed = row.amount_minor if row.side == EARNED else -row.amount_minor
    currency = shop_of(made.session).currency
    return ExpenseKept(row.id, date.fromisoformat(row.day), row.side, row.category, signed, currency)


def _words(kept: ExpenseKept) -> str:
    return f"{kept.side} of {show_money(abs(kept.amount_minor), kept.currency)}, {kept.category}"
