"""General expenses and income, and what machine time is estimated to cost in electricity."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from bench.commands.arguments import AsJson
from bench.commands.opening import desk_for
from bench.commands.printing import say, say_json, say_sheet
from bench.errors import BadInput, NotFound

if TYPE_CHECKING:
    from bench.desk import Desk

Text = str | None


def expense(
    ctx: typer.Context,
    category: Annotated[
        str | None, typer.Argument(metavar="CATEGORY", help="Such as rent, tools, postage, teaching.")
    ] = None,
    amount: Annotated[
        str | None, typer.Argument(metavar="AMOUNT", help="With tax. Without it, its lines are shown.")
    ] = None,
    income: Annotated[bool, typer.Option("--income", help="It was earned.")] = False,
    spent: Annotated[bool, typer.Option("--spent", help="It was spent.")] = False,
    day: Annotated[Text, typer.Option(metavar="DAY", help="On which day, else today.")] = None,
    party: Annotated[Text, typer.Option("--who", metavar="NAME", help="Who was paid, or paid.")] = None,
    note: Annotated[Text, typer.Option(metavar="TEXT", help="Anything else.")] = None,
    tax: Annotated[Text, typer.Option(metavar="PERCENT", help="The rate of the tax in it.")] = None,
    edit: Annotated[int | None, typer.Option(metavar="NUMBER", help="Correct this one.")] = None,
    remove: Annotated[int | None, typer.Option(metavar="NUMBER", help="Take this one off.")] = None,
    month: Annotated[
        str, typer.Option(metavar="MONTH", help="Show this month or year, such as 2026-11 or 2026.")
    ] = "",
    as_json: AsJson = False,
) -> None:
    """Keep or show expenses and income of no unit."""
    from bench.domain.expenses import EARNED, SPENT, kept_words

    if income and spent:
        raise BadInput("--income and --spent were both given.", "Give one of them.")
    acts = amount is not None or edit is not None or remove is not None
    if not acts and (income or spent or tax is not None or (category or "")[:1].isdigit()):
        raise BadInput("What was it for, and how much?", "Give a category and an amount, such as rent 400.")
    desk = desk_for(ctx, acts=acts)
    if not acts:
        from bench.domain.spans import Span
        from bench.reports.expenses import expenses_json, expenses_text
        from bench.views.expenses import read_expenses

        book = read_expenses(desk, Span.parse(month) if month else None, category or "")
        say_sheet(expenses_json(book) if as_json else expenses_text(book))
        return
    from bench.work.expenses import add_expense, edit_expense, remove_expense

    side = EARNED if income else SPENT if spent else ""
    if remove is not None:
        kept = remove_expense(desk, remove)
    elif edit is not None:
        typed = {"day_text": day, "party": party, "note": note, "tax_text": tax, "side": side or None}
        given = {name: text for name, text in typed.items() if text is not None}
        given |= {} if category is None else {"category": category}
        given |= {} if amount is None else {"amount_text": amount}
        kept = edit_expense(desk, edit, **{**_as_typed(desk, edit), **given})
    else:
        kept = add_expense(
            desk,
            category=category or "",
            amount_text=amount or "",
            side=side,
            day_text=day or "",
            party=party or "",
            note=note or "",
            tax_text=tax or "",
        )
    if as_json:
        say_json(desk, "expense_kept", kept)
    else:
        say(f"Removed. {kept_words(kept)}" if remove is not None else kept_words(kept))


def power(
    ctx: typer.Context,
    task: Annotated[
        str | None, typer.Argument(metavar="TASK", help="A task with watts of its own; else the shop's.")
    ] = None,
    watts: Annotated[
        Text, typer.Option(metavar="WATTS", help="What a machine draws; empty: not set.")
    ] = None,
    price: Annotated[Text, typer.Option(metavar="AMOUNT", help="Of a kWh, such as 0.3214.")] = None,
    as_json: AsJson = False,
) -> None:
    """Show or set what machines draw and a kWh costs.

    From this the month estimates the electricity of machine time. That is in
    no total: the bill counts, as an expense.
    """
    from bench.domain.machine_power import NOT_COUNTED, show_kwh_price
    from bench.views.machine_power import read_task_watts
    from bench.views.trade import read_trade
    from bench.work.machine_power import set_power, set_task_watts

    acts = watts is not None or price is not None
    if task is not None and (watts is None or price is not None):
        raise BadInput(
            "The task's watts are missing, or a price was given with them.",
            "Give the task and --watts alone.",
        )
    desk = desk_for(ctx, acts=acts)
    found = read_trade(desk)
    if task is not None:
        set_task_watts(desk, task, watts or "")
    elif acts:
        was = "" if found.machine_watts is None else str(found.machine_watts)
        cost = "" if found.mwh_price_minor is None else show_kwh_price(found.mwh_price_minor, found.currency)
        set_power(
            desk,
            watts_text=was if watts is None else watts,
            kwh_price_text=cost if price is None else price,
        )
    found, own = read_trade(desk), read_task_watts(desk)
    if as_json:
        say_json(desk, "task_watts", own)
        return
    say(f"Usual      {'not set' if found.machine_watts is None else f'{found.machine_watts} W'}")
    per_kwh = (
        "not set" if found.mwh_price_minor is None else show_kwh_price(found.mwh_price_minor, found.currency)
    )
    say(f"A kWh      {per_kwh}")
    for one in own:
        say(f"{one.name}: {one.watts} W")
    say(f"Electricity of machine time is {NOT_COUNTED}.")


def _as_typed(desk: Desk, number: int) -> dict[str, str]:
    """One as it would have to be typed to stand as it does."""
    from bench.domain.money import show_money
    from bench.domain.percent import percent_or
    from bench.views.expenses import read_expense
    from bench.views.shop import read_shop

    line = read_expense(desk, number)
    if line is None:
        raise NotFound(f"There is no expense with number {number}.", "`bench expense` shows their numbers.")
    return {
        "category": line.category,
        "amount_text": show_money(abs(line.amount_minor), read_shop(desk).currency),
        "side": line.side,
        "day_text": line.day.isoformat(),
        "party": line.party,
        "note": line.note,
        "tax_text": percent_or(line.tax_per_10000),
    }
