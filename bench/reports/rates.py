"""Rates of returns and of failing tests as text and JSON, with how sure they are."""

from __future__ import annotations

from bench.domain.percent import show_percent
from bench.domain.return_rate import FEW_SALES, SETTLED_DAYS, rate_words
from bench.reports.plain_tables import sections, told, under, wrapped
from bench.reports.plain_values import facts_of, json_text
from bench.views.kinds import context_of
from bench.views.rates import RateSheet
from bench.views.tables.outcomes import KIND_RATES
from bench.views.tables.rates import SALES_BACK


def rates_text(sheet: RateSheet) -> str:
    """The rate of returns, what it puts by, what a claim takes, and the tests that fail."""
    return sections(
        "\n".join(map(wrapped, (_returned(sheet), *reserve_words(sheet), *_claim(sheet)))),
        under(SALES_BACK.title, told(SALES_BACK, sheet.returns.back, context_of(sheet)))
        if sheet.returns.back
        else "",
        under(KIND_RATES.title, told(KIND_RATES, sheet.tests)),
    )


def rates_json(sheet: RateSheet) -> str:
    """The same as a JSON document, shares in parts per 10,000."""
    return json_text("rates", facts_of(sheet, sheet.zone))


def reserve_words(sheet: RateSheet) -> tuple[str, ...]:
    """What is put by of each price, and by what."""
    returns = sheet.returns
    if returns.reserve_per_10000 is None:
        flat = f"Put by: {show_percent(sheet.flat_per_10000)} of a price, the shop's setting."
        return (f"{flat} From {FEW_SALES} such sales on, its returns tell it.",)
    takes = show_percent(returns.lost_per_10000)
    lost = f"a return takes {takes} of its price" if returns.back else "the whole price, as none came back"
    return (f"Put by: {show_percent(returns.reserve_per_10000)} of a price: the upper end, and {lost}.",)


def _returned(sheet: RateSheet) -> str:
    returns = sheet.returns
    of = f"{returns.sales} sales of at least {SETTLED_DAYS} days ago"
    if returns.rate is None:
        return f"Returns: none of {of}; nothing can be said yet."
    return f"Returns: {returns.rate.events} of {of}, {rate_words(returns.rate)}."


def _claim(sheet: RateSheet) -> tuple[str, ...]:
    if sheet.claim_per_10000 is None:
        return ()
    share, back = show_percent(sheet.claim_per_10000), len(sheet.returns.back)
    words = f"To claim, at 95 %, less than {share}: {sheet.claim_sales_without} sales without a return"
    return (words + (f", {sheet.claim_sales} with {back}." if back else "."),)
