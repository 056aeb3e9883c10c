"""Three ways on for a unit, and what its model fetched, as text and JSON."""

from __future__ import annotations

from bench.domain.own_prices import OwnPrices
from bench.domain.three_ways import ThreeWays
from bench.reports.plain_tables import one_line, sections, told, under, wrapped
from bench.reports.plain_values import facts_of, json_text
from bench.views.kinds import context_of
from bench.views.tables.three_ways import OWN_SALES, THREE_WAYS


def three_ways_text(ways: ThreeWays) -> str:
    """The lines side by side, which leaves most, and what each line rests on."""
    told_before: set[tuple[tuple[str, str], ...]] = set()
    rests = []
    for row in ways.rows:
        if row.rests_on not in told_before:
            told_before.add(row.rests_on)
            rests.append(f"{row.words}: " + "; ".join(f"{title}, {words}" for title, words in row.rests_on))
    return sections(
        one_line(f"Unit {ways.tag}, {ways.model}"),
        told(THREE_WAYS, ways.rows, context_of(ways)),
        wrapped(ways.words),
        under("Open faults", "\n".join(wrapped(f"- {line}") for line in ways.faults)) if ways.faults else "",
        under("Based on", "\n".join(wrapped(f"- {line}") for line in rests)),
    )


def three_ways_json(ways: ThreeWays) -> str:
    """The three ways as a JSON document."""
    return json_text("three_ways", facts_of(ways, ways.zone))


def own_prices_text(prices: OwnPrices) -> str:
    """What a model fetched, sale by sale, and what a week of waiting costs."""
    return sections(
        one_line(prices.model),
        told(OWN_SALES, prices.sales, context_of(prices)),
        wrapped(prices.words) + "\n" + wrapped(prices.fall_words),
    )


def own_prices_json(prices: OwnPrices) -> str:
    """The same as a JSON document."""
    return json_text("own_prices", facts_of(prices, prices.zone))
