"""The postings of a month or a year as text, CSV and JSON, for whoever keeps the books."""

from __future__ import annotations

from collections import defaultdict

from bench.domain.postings import Posting
from bench.reports.plain_tables import one_line, sections, told, wrapped
from bench.reports.plain_values import csv_text, facts_of, json_text
from bench.reports.record_keys import columns_of
from bench.views.kinds import context_of
from bench.views.postings import PostingBook
from bench.views.tables.postings import ACCOUNTS, POSTINGS, AccountSum

COLUMNS = (*columns_of(Posting), "currency")
NOT_ADVICE = (
    "For whoever keeps the books; no advice on tax. What goods cost stays on the account of "
    "goods in stock, also once they are sold: their cost is in the register."
)


def postings_text(book: PostingBook) -> str:
    """The sums of the accounts, and every posting."""
    context = context_of(book)
    absent = f"{book.absent} amounts were never typed and are left out." if book.absent else ""
    return sections(
        one_line(f"Postings, {book.span.words}"),
        told(ACCOUNTS, account_sums(book), context),
        told(POSTINGS, book.postings, context),
        *map(wrapped, filter(None, (absent, NOT_ADVICE))),
    )


def postings_csv(book: PostingBook) -> str:
    """A line a posting."""
    money = {"currency": book.currency}
    return csv_text(COLUMNS, (facts_of(one, book.zone) | money for one in book.postings))


def postings_json(book: PostingBook) -> str:
    """The postings as a JSON document, with the sums of the accounts."""
    sums = [facts_of(one, book.zone) for one in account_sums(book)]
    return json_text("postings", facts_of(book, book.zone) | {"accounts": sums})


def account_sums(book: PostingBook) -> tuple[AccountSum, ...]:
    """What was debited and credited to each account, by name: both columns add up to the same."""
    debited: dict[str, int] = defaultdict(int)
    credited: dict[str, int] = defaultdict(int)
    for one in book.postings:
        debited[one.debit] += one.amount_minor
        credited[one.credit] += one.amount_minor
    return tuple(AccountSum(name, debited[name], credited[name]) for name in sorted({*debited, *credited}))
