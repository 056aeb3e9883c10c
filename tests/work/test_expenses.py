"""General expenses and income: kept by category, in month and year, through the ledger."""

from __future__ import annotations

import pytest

from bench.desk import Desk
from bench.domain.spans import Span
from bench.errors import BadInput, NotFound
from bench.views.expenses import read_expense, read_expenses
from bench.views.months import read_month, read_year
from bench.work.expenses import add_expense, edit_expense, remove_expense
from tests.work.taking_back import changes_nothing, is_taken_back


def test_an_expense_and_an_income_are_kept_on_their_side(desk: Desk) -> None:
    rent = is_taken_back(
        desk, lambda: add_expense(desk, category="rent", amount_text="480", day_text="2026-11-01")
    )
    course = add_expense(desk, category="Teaching", amount_text="119", tax_text="19", party="Evening school")
    assert (rent.amount_minor, course.amount_minor) == (-48_000, 11_900)
    book = read_expenses(desk)
    assert [(one.category, one.side, one.amount_minor) for one in book.lines] == [
        ("Teaching", "income", 11_900),
        ("rent", "expense", -48_000),
    ]
    assert (book.lines[0].tax_minor, book.lines[1].tax_minor, book.total_minor) == (1_900, None, -36_100)
    assert [one.category for one in book.by_category] == ["Teaching", "rent"]


def test_a_category_is_one_whatever_its_capitals_and_goes_on_as_it_was_used(desk: Desk) -> None:
    add_expense(desk, category="repair café", amount_text="30", side="income")
    again = add_expense(desk, category="Repair Café", amount_text="20")
    assert (again.category, again.amount_minor) == ("repair café", 2_000)
    assert read_expenses(desk, category="repair café").total_minor == 5_000


def test_the_month_and_the_year_tell_them_below_the_margin(desk: Desk) -> None:
    add_expense(desk, category="rent", amount_text="480", day_text="2026-11-01")
    add_expense(desk, category="rent", amount_text="470", day_text="2026-10-01")
    add_expense(desk, category="teaching", amount_text="100")
    month, year = read_month(desk), read_year(desk)
    assert [(one.category, one.amount_minor, one.rows) for one in month.general] == [
        ("teaching", 10_000, 1),
        ("rent", -48_000, 1),
    ]
    assert (month.result_minor, month.general_minor, month.after_general_minor) == (0, -38_000, -38_000)
    assert year.general_minor == -85_000
    assert read_expenses(desk, Span(2026, 10)).total_minor == -47_000


def test_one_is_set_right_and_taken_off(desk: Desk) -> None:
    kept = add_expense(desk, category="rent", amount_text="480")
    is_taken_back(
        desk,
        lambda: edit_expense(
            desk,
            kept.expense_id,
            category="tools",
            amount_text="48",
            side="expense",
            day_text="2026-11-02",
            party="",
            note="a torque driver",
            tax_text="",
        ),
    )
    line = read_expense(desk, kept.expense_id)
    assert line is not None
    assert (line.category, line.amount_minor, line.note) == ("tools", -4_800, "a torque driver")
    is_taken_back(desk, lambda: remove_expense(desk, kept.expense_id))
    assert read_expense(desk, kept.expense_id) is None
    with pytest.raises(NotFound):
        remove_expense(desk, kept.expense_id)


@pytest.mark.parametrize(
    ("typed", "match"),
    [
        ({"category": " "}, "category is empty"),
        ({"amount_text": "0"}, "is nothing"),
        ({"amount_text": "much"}, "not an amount"),
        ({"side": "gift"}, "neither expense nor income"),
        ({"day_text": "someday"}, "not a day"),
        ({"tax_text": "200"}, "more than the whole"),
    ],
)
def test_what_cannot_be_read_changes_nothing(desk: Desk, typed: dict[str, str], match: str) -> None:
    wanted = {"category": "rent", "amount_text": "1", **typed}
    changes_nothing(desk, lambda: add_expense(desk, **wanted), BadInput, match)
