"""Postings of double-entry bookkeeping: each names the account that is debited and the one credited.

The plain journal that every ledger can take: day, debit, credit, amount, words. For whoever keeps
the books, no advice on tax. What goods in stock cost stays on their account until the bookkeeper values it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from bench.domain.amounts import Minor
from bench.domain.text import quoted
from bench.errors import BadInput

GOODS, BANK, SHELF, STOCK = "goods", "bank", "parts", "consumables"
USED, SALES, FEES, SHIPPING = "consumables_used", "sales", "channel_fees", "shipping"
TAX, TAX_OWED, REFUNDS = "tax", "tax_owed", "refunds"
REPAIRS, SCRAP = "repairs", "scrap"
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
}
KINDS = frozenset(_COST_OF)


@dataclass(frozen=True, slots=True)
class Booked:
    """An amount that was booked: below 0 spent or used, above 0 come in. `category`: of a general one."""

    day: date
    kind: str
    row_id: int
    unit_id: int | None
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


def postings_of(booked: Iterable[Booked], names: Mapping[str, str]) -> tuple[Posting, ...]:
    """A posting for each amount but 0, by day. `names`: the shop's own, by NAMES or by a category."""
    told = [_posting(one, names) for one in booked if one.amount_minor]
    return tuple(sorted(told, key=lambda one: (one.day, one.of)))


def check_names(names: Mapping[str, object], categories: Iterable[str]) -> None:
    """Pass, or raise BadInput for a name that no account has."""
    known = {*NAMES, *categories}
    for name, text in names.items():
        if name not in known:
            raise BadInput(f"{quoted(name)} is no account.", f"The accounts are: {', '.join(sorted(known))}.")
        if not isinstance(text, str) or not text.strip():
            raise BadInput(f"The account {name} has no name.", "Write it in quotation marks.")


def _posting(one: Booked, names: Mapping[str, str]) -> Posting:
    if one.category:
        debit, credit = names.get(one.category, one.category), names.get(BANK, NAMES[BANK])
    else:
        debit, credit = (names.get(account, NAMES[account]) for account in _COST_OF[one.kind])
    if one.amount_minor > 0:
        debit, credit = credit, debit
    words = one.category or one.kind
    return Posting(one.day, debit, credit, abs(one.amount_minor), words, one.tag, f"{one.kind} {one.row_id}")
