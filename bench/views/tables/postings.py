"""The postings of a span and the sums of the accounts, as tables."""

from __future__ import annotations

from dataclasses import dataclass

from bench.domain.amounts import Minor
from bench.domain.postings import Posting
from bench.views.columns import Column, Table
from bench.views.kinds import DAY, MONEY


@dataclass(frozen=True, slots=True)
class AccountSum:
    """What was debited and credited to an account."""

    account: str
    debit_minor: Minor
    credit_minor: Minor


ACCOUNTS = Table[AccountSum](
    "accounts",
    "Accounts",
    (
        Column("Account", "account", width=16, grow=1),
        Column("Debit", "debit_minor", MONEY),
        Column("Credit", "credit_minor", MONEY),
    ),
    key="account",
    empty="Nothing was posted.",
)
POSTINGS = Table[Posting](
    "postings",
    "Postings",
    (
        Column("Day", "day", DAY),
        Column("Debit", "debit", width=12, grow=1),
        Column("Credit", "credit", width=12, grow=1),
        Column("Amount", "amount_minor", MONEY),
        Column("What", "words", width=10, from_width=70),
        Column("Of", "tag", width=6, from_width=80),
    ),
    key="of",
    empty="Nothing was posted.",
)
