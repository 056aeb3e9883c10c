"""What is said of a sale and a return, in one line each."""

from __future__ import annotations

from bench.domain.durations import hours_and_minutes
from bench.domain.money import money_or, show_money
from bench.domain.selling import ComebackLine, Returned, Sold, UnitSales
from bench.domain.text import for_display
from bench.domain.unit_money import UnitMoney


def break_even_words(money: UnitMoney) -> str:
    """The price that brings back what the unit has cost, and the labour that stands apart."""
    through = f" through {for_display(money.channel)}" if money.channel else ""
    expected = ""
    if money.expected_minor is not None:
        expected = f"; expected {show_money(money.expected_minor, money.currency)}"
    labour = show_money(money.labour_minor, money.currency)
    return (
        f"Break-even{through}: {show_money(money.break_even_minor, money.currency)}{expected}. "
        f"Labour apart: {labour} for {hours_and_minutes(money.attended_us)}."
    )


def sold_words(sold: Sold) -> str:
    """What it was sold for, and until when the shop stands behind it."""
    until = f", warranty until {sold.warranty_until}" if sold.warranty_until else ", no warranty"
    low = f" Low now: {', '.join(sold.low)}." if sold.low else ""
    return f"{sold.tag} sold for {show_money(sold.price_minor, sold.currency)}{until}.{low}"


def returned_words(back: Returned) -> str:
    """Where it stands now, and what was given back."""
    refund = f"{show_money(back.refund_minor, back.currency)} refunded" if back.refund_minor else "no refund"
    whose = "the sale is undone" if back.undoes else "its sale stands"
    return f"{back.tag} is back at {back.stage}, {refund}: {whose}."


def return_values(back: ComebackLine, currency: str) -> dict[str, str]:
    """What the form of a return begins with when it is set right, by field."""
    return {
        "reason": back.reason,
        "refund_text": money_or(back.refund_minor or None, currency),
        "fee_back_text": money_or(back.fee_back_minor or None, currency),
        "postage_text": money_or(back.postage_minor, currency),
    }


def standing_words(sales: UnitSales) -> str:
    """The sale it comes back from."""
    last = sales.sales[-1] if sales.sales else None
    if last is None:
        return "It was never sold."
    buyer = f" to {for_display(last.buyer)}" if last.buyer else ""
    refunded = (
        f", {show_money(last.refund_minor, sales.currency)} refunded so far" if last.refund_minor else ""
    )
    warranty = f", warranty until {last.warranty_until}" if last.warranty_until else ", no warranty"
    price = show_money(last.price_minor, sales.currency)
    return f"Sold {last.sold_on}{buyer} for {price}{warranty}{refunded}."
