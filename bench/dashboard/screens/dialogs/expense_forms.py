"""The forms of general expenses and income, and of what machines draw."""

from __future__ import annotations

from dataclasses import dataclass

from bench.dashboard import use_cases
from bench.dashboard.screens.dialogs.choice_fields import ChoiceField
from bench.dashboard.screens.dialogs.described import Begun, Filled, FormOf
from bench.dashboard.screens.dialogs.form import form
from bench.dashboard.screens.dialogs.text_fields import (
    DAY,
    FIGURE,
    MONEY,
    SHARE,
    WHOLE,
    NumberField,
    TextField,
)
from bench.desk import Desk
from bench.domain.expenses import SIDES, ExpenseKept, ExpenseLine, kept_words
from bench.domain.localtime import short_day
from bench.domain.machine_power import NOT_COUNTED, show_kwh_price
from bench.domain.money import show_money
from bench.domain.percent import percent_or
from bench.views.expenses import ExpenseBook, read_expenses
from bench.views.machine_power import TaskWatts
from bench.views.trade import TradeSettings


@dataclass(frozen=True, slots=True)
class ExpenseGround:
    """What the form begins with: the categories there are, and the shop's currency."""

    categories: tuple[str, ...]
    currency: str


@form
def expense_form(line: ExpenseLine | None = None) -> FormOf[ExpenseKept]:
    """An expense or income that belongs to no unit, new or corrected."""

    def read(desk: Desk) -> ExpenseGround:
        book: ExpenseBook = read_expenses(desk)
        return ExpenseGround(book.categories, book.currency)

    def begin(ground: ExpenseGround) -> Begun:
        known = f"Categories: {', '.join(ground.categories)}; or your own."
        if line is None:
            return Begun(known=known)
        values = {
            "category": line.category,
            "amount_text": show_money(abs(line.amount_minor), ground.currency),
            "side": line.side,
            "day_text": line.day.isoformat(),
            "party": line.party,
            "note": line.note,
            "tax_text": percent_or(line.tax_per_10000),
        }
        return Begun(values=values, known=known)

    def keep(filled: Filled) -> ExpenseKept:
        if line is None:
            return use_cases.expenses.add_expense(filled.desk, **filled.typed)
        return use_cases.expenses.edit_expense(filled.desk, line.expense_id, **filled.typed)

    return FormOf(
        heading="General expense or income",
        draft="expense" if line is None else f"expense {line.expense_id}",
        fields=(
            TextField("category", "Category", hint="such as rent, tools, teaching"),
            NumberField("amount_text", "Amount", like=MONEY, hint="with tax"),
            ChoiceField(
                "side", "Side", tuple((side, side) for side in SIDES), none="as the category was used before"
            ),
            NumberField("day_text", "Day", like=DAY, hint="empty: today"),
            TextField("party", "Who", hint="who was paid, or paid"),
            TextField("note", "Note"),
            NumberField("tax_text", "Tax in it", like=SHARE, hint="its rate, if known"),
        ),
        known="",
        reads=read,
        begins=begin,
        does=keep,
        says=lambda kept: kept_words(kept, short_day),
        answers=lambda kept: kept,
    )


@form
def power_form(trade: TradeSettings) -> FormOf[bool]:
    """What a machine draws while a task runs by itself, and what a kilowatt hour costs."""

    def begin(_: None) -> Begun:
        price = trade.mwh_price_minor
        return Begun(
            values={
                "watts_text": "" if trade.machine_watts is None else str(trade.machine_watts),
                "kwh_price_text": "" if price is None else show_kwh_price(price, trade.currency),
            }
        )

    return FormOf(
        heading="Electricity of machine time",
        draft="power_form",
        fields=(
            NumberField("watts_text", "Watts", like=WHOLE, hint="of a machine that runs; empty: not set"),
            NumberField(
                "kwh_price_text", "Price of a kWh", like=FIGURE, hint="such as 0.3214; empty: not set"
            ),
        ),
        known=f"It is {NOT_COUNTED}. A task can have watts of its own.",
        begins=begin,
        does=lambda filled: use_cases.machine_power.set_power(filled.desk, **filled.typed),
    )


@form
def task_watts_form(line: TaskWatts) -> FormOf[bool]:
    """What a machine draws while tasks of one name run; without a name in it, the line is new."""
    values = {"name": line.name, "watts_text": str(line.watts)} if line.name else {}
    return FormOf(
        heading="Watts of a task",
        draft=f"task watts {line.name}",
        fields=(
            TextField("name", "Task", hint="its name, as on the route"),
            NumberField("watts_text", "Watts", like=WHOLE, hint="empty: the shop's usual"),
        ),
        begins=lambda _: Begun(values=values),
        does=lambda filled: use_cases.machine_power.set_task_watts(filled.desk, **filled.typed),
    )
