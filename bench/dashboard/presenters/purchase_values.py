"""A purchase as the texts of a form and a sentence."""

from __future__ import annotations

from bench.domain.money import money_or, show_money
from bench.domain.text import for_display
from bench.views.purchase import UnitPurchase


def purchase_values(purchase: UnitPurchase) -> dict[str, str]:
    """What the form begins with, by field."""
    expected = purchase.expected_minor
    return {
        "expected_text": money_or(expected, purchase.currency),
        "bought_on_text": purchase.bought_on.isoformat() if purchase.bought_on else "",
        "invoice": purchase.invoice,
        "premium_text": money_or(purchase.premium_minor or None, purchase.currency),
        "freight_text": money_or(purchase.freight_minor or None, purchase.currency),
        "shipping_text": money_or(purchase.shipping_minor, purchase.currency),
    }


def purchase_words(purchase: UnitPurchase) -> str:
    """What was paid, of which lot it is, and until when it is held back."""
    paid = "no price typed"
    if purchase.price_minor is not None:
        paid = show_money(purchase.price_minor, purchase.currency)
    words = [f"share of the lot {for_display(purchase.lot)}: {paid}" if purchase.lot else f"paid: {paid}"]
    words += ["kept for its parts"] if purchase.donor else []
    words += [f"not altered or sold before {purchase.free_from}"] if purchase.free_from else []
    return " · ".join(words)
