"""Postings of double-entry bookkeeping: each names the account that is debited and the one credited.

The plain journal that every ledger can take: day, debit, credit, amount, words. For whoever keeps
the books, no advice on tax. What goods in stock cost stays on their account until the bookkeeper values it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from bench.domain.amounts import Minor
from bench.domain.text import quoted
from bench.errors import BadInput

GOODS, BANK, SHELF, STOCK = "goods", "bank", "parts", "consumables"
USED, SALES, FEES, SHIPPING = "consumables_used", "sales", "channel_fees", "shipping"
TAX, TAX_OWED, REFUNDS = "tax", "tax_owed", "refunds"
REPAIRS, SCRAP = "repairs", "scrap"
PARTS_SOLD, PARTS_LOST = "parts_sold", "parts_lost"
GENERAL = "general"  # names of categories, in a table of their own
# What the accounts are called where the shop has no names of its own.
NAMES = {
    GOODS: "Goods in stock",
    BANK: "Bank",
    SHELF: "Parts in stock",
    STOCK: "Consumables in stock",
    USED: "Consumables used",
    SALES: "Sales",
    FEES: "Channel fees",
    SHIPPING: "Shipping",
    TAX: "Tax on sales",
    TAX_OWED: "Tax owed",
    REFUNDS: "Refunds to buyers",
    REPAIRS: "Repairs for owners",
    SCRAP: "Scrap",
    PARTS_SOLD: "Parts sold",
    PARTS_LOST: "Parts sold or lost, at cost",
}
# For an amount below 0: the account it is debited to, and the one that it is credited to. Above 0, turned.
_COST_OF: dict[str, tuple[str, str]] = {
    "price": (GOODS, BANK),
    "premium": (GOODS, BANK),
    "freight": (GOODS, BANK),
    "part bought": (GOODS, BANK),
    "part in": (GOODS, SHELF),
    "part out": (GOODS, SHELF),
    "part lost": (GOODS, SHELF),
    "part refund": (GOODS, BANK),
    "consumable": (USED, STOCK),
    "receipt": (STOCK, BANK),
    "count": (USED, STOCK),
    "sale": (SALES, BANK),
    "fee": (FEES, BANK),
    "shipping": (SHIPPING, BANK),
    "tax": (TAX, TAX_OWED),
    "refund": (REFUNDS, BANK),
    "fee back": (FEES, BANK),
    "postage": (SHIPPING, BANK),
    "repair": (REPAIRS, BANK),
    "repair tax": (TAX, TAX_OWED),
    "scrap": (SCRAP, BANK),
    "shelf part": (SHELF, BANK),
    "part gone": (PARTS_LOST, SHELF),
    "part sold": (PARTS_SOLD, BANK),
    "shop refund": (PARTS_LOST, BANK),
}
KINDS = frozenset({*_COST_OF, GENERAL})


@dataclass(frozen=True, slots=True)
class Booked:
    """An amount that was booked: below 0 spent or used, above 0 come in. `category`: of a general one."""

    day: date
    kind: str
    row_id: int
    tag: str
    category: str
    amount_minor: Minor


@dataclass(frozen=True, slots=True)
class Posting:
    """One posting. `amount_minor`: above 0; `of`: the kind of row behind it with its number."""

    day: date
    debit: str
    credit: str
    amount_minor: Minor
    words: str
    tag: str
    of: str


def postings_of(booked: Iterable[Booked], names: Mapping[str, Any]) -> tuple[Posting, ...]:
    """A posting for each amount but 0, by day. `names`: the shop's own, as `check_names` takes them."""
    told = [_posting(one, names) for one in booked if one.amount_minor]
    return tuple(sorted(told, key=lambda one: (one.day, one.of)))


def check_names(names: Mapping[str, Any]) -> None:
    """Pass, or raise BadInput for a name that no account has. Under `general`: names of categories."""
    general = names.get(GENERAL, {})
    if not isinstance(general, dict):
        raise BadInput("accounts.general is no table.", "Write a line for each category under it.")
    accounts = {name: text for name, text in names.items() if name != GENERAL}
    for name in accounts:
        if name not in NAMES:
            raise BadInput(
                f"{quoted(name)} is no account.",
                f"The accounts are: {', '.join(sorted(NAMES))}; "
                "categories of general expenses stand under accounts.general.",
            )
    for name, text in (*accounts.items(), *general.items()):
        if not isinstance(text, str) or not text.strip():
            raise BadInput(f"The account {quoted(name)} has no name.", "Write it in quotation marks.")


def _posting(one: Booked, names: Mapping[str, Any]) -> Posting:
    if one.kind == GENERAL:
        side = "Income" if one.amount_minor > 0 else "Expenses"
        debit = names.get(GENERAL, {}).get(one.category, f"{side}: {one.category}")
        credit = names.get(BANK, NAMES[BANK])
    else:
        debit, credit = (names.get(account, NAMES[account]) for account in _COST_OF[one.kind])
    if one.amount_minor > 0:
        debit, credit = credit, debit
    words = one.category or one.kind
    return Posting(one.day, debit, credit, abs(one.amount_minor), words, one.tag, f"{one.kind} {one.row_id}")
