"""Postings: every one balances, and what they add up to is what the file holds, asked for in another way."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.desk import Desk
from bench.domain.postings import KINDS, NAMES, Booked, postings_of
from bench.domain.spans import Span
from bench.errors import BadInput
from bench.reports.postings import account_sums, postings_csv
from bench.views.ledger import over
from bench.views.months import read_month
from bench.views.parts import read_shelf
from bench.views.postings import read_postings
from bench.work.components import sell_part
from bench.work.demo import make_demo
from bench.work.expenses import add_expense
from tests.clocks import HandSetClock

MONTH = Span(2026, 11)
BOOKED = st.builds(
    Booked,
    day=st.dates(date(2026, 1, 1), date(2026, 12, 31)),
    kind=st.sampled_from(sorted(KINDS)),
    row_id=st.integers(1, 999),
    tag=st.just(""),
    category=st.sampled_from(["rent", "bank", "Sales", "shipping"]),
    amount_minor=st.integers(-(10**9), 10**9),
)


@pytest.fixture
def demo(tmp_path: Path) -> Iterator[Desk]:
    store = make_demo(tmp_path / "demo.bench", HandSetClock())
    yield Desk(store, HandSetClock(), person_id=1)
    store.close()


def answer(desk: Desk, question: str) -> int:
    """A sum that the file holds itself."""
    with desk.store.read() as connection:
        return int(connection.execute(question).fetchone()[0] or 0)


def balance(desk: Desk, account: str) -> int:
    """Debits less credits of an account in the month."""
    sums = {
        one.account: one.debit_minor - one.credit_minor for one in account_sums(read_postings(desk, MONTH))
    }
    return sums.get(account, 0)


@given(st.lists(BOOKED, max_size=30))
def test_debits_and_credits_add_up_to_the_same(booked: list[Booked]) -> None:
    """The first rule of double entry (L. Pacioli, Summa de arithmetica, 1494; from memory)."""
    told = postings_of(booked, {})
    net: dict[str, int] = {}
    for one in told:
        assert one.amount_minor > 0
        assert one.debit != one.credit
        net[one.debit] = net.get(one.debit, 0) + one.amount_minor
        net[one.credit] = net.get(one.credit, 0) - one.amount_minor
    assert sum(net.values()) == 0
    assert len(told) == sum(1 for one in booked if one.amount_minor)


def test_every_kind_of_the_ledger_has_its_accounts(demo: Desk) -> None:
    with demo.store.read() as connection:
        kinds = {
            row[0]
            for row in connection.execute(over("SELECT id FROM unit", " SELECT DISTINCT kind FROM ledger"))
        }
    assert len(kinds) > 10
    assert kinds <= KINDS


def test_the_accounts_hold_what_the_file_holds(demo: Desk) -> None:
    november = "BETWEEN '2026-11-01' AND '2026-11-30'"
    sold = f"FROM sale WHERE removed = 0 AND sold_on {november}"
    assert -balance(demo, "Sales") == answer(demo, f"SELECT SUM(price_minor) {sold}") > 0
    given = "FROM comeback JOIN sale ON sale.id = sale_id WHERE comeback.removed = 0 AND sale.removed = 0"
    fees = answer(demo, f"SELECT SUM(fee_minor) {sold}") - answer(demo, f"SELECT SUM(fee_back_minor) {given}")
    assert balance(demo, "Channel fees") == fees > 0
    spent = "FROM expense WHERE removed = 0 AND side <> 'income' AND category = 'rent' AND day"
    assert balance(demo, "Expenses: rent") == answer(demo, f"SELECT SUM(amount_minor) {spent} {november}") > 0
    general = (
        "SUM(CASE side WHEN 'income' THEN amount_minor ELSE -amount_minor END) FROM expense WHERE removed = 0"
    )
    month = read_month(demo, 2026, 11)
    assert answer(demo, f"SELECT {general} AND day {november}") == sum(
        one.amount_minor for one in month.general
    )


def test_the_shops_own_names_and_a_wrong_one(demo: Desk) -> None:
    add_expense(demo, category="=rent()", amount_text="5", day_text="2026-11-20")
    add_expense(demo, category="bank", amount_text="3", day_text="2026-11-20")
    names = {"bank": "1200 bank", "general": {"rent": "4210 rent", "=rent()": "=4210", "not used yet": "1"}}
    journal = read_postings(demo, MONTH, names)
    used = {name for one in journal.postings for name in (one.debit, one.credit)}
    assert {"1200 bank", "4210 rent", "=4210", "Expenses: bank"} <= used
    assert NAMES["bank"] not in used
    assert all(one.debit != one.credit for one in journal.postings)
    assert ",'=4210," in postings_csv(journal), "nothing that a spreadsheet would run"
    for wrong, why in (
        ({"cash box": "1000"}, "no account"),
        ({"rent": "4210"}, "no account"),
        ({"bank": " "}, "has no name"),
        ({"general": {"rent": 4210}}, "has no name"),
        ({"general": "4210"}, "no table"),
    ):
        with pytest.raises(BadInput, match=why):
            read_postings(demo, MONTH, wrong)


def over_all_time(desk: Desk, account: str) -> int:
    """Debits less credits of an account since the file was begun."""
    sums = (one for year in range(2024, 2028) for one in account_sums(read_postings(desk, Span(year))))
    return sum(one.debit_minor - one.credit_minor for one in sums if one.account == account)


def test_what_lies_on_the_shelves_is_what_the_accounts_say_lies_there(demo: Desk) -> None:
    sell_part(demo, read_shelf(demo).lines[0].component_id, price_text="7")
    shelf = sum(one.cost_minor for one in read_shelf(demo).lines)
    assert over_all_time(demo, "Parts in stock") == shelf > 0
    stock = answer(demo, "SELECT SUM(cost_minor) FROM layer_balance")
    assert over_all_time(demo, "Consumables in stock") == stock > 0
    assert over_all_time(demo, "Parts sold") == -700


def test_a_receipt_and_its_undoing_leave_nothing(demo: Desk) -> None:
    from bench.work.stock import restock
    from bench.work.undo import undo

    before = balance(demo, "Consumables in stock"), balance(demo, "Bank")
    restock(demo, 1, packs_text="1", price_text="9")
    assert balance(demo, "Consumables in stock") == before[0] + 900
    undo(demo)
    assert (balance(demo, "Consumables in stock"), balance(demo, "Bank")) == before
