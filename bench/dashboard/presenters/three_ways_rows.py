"""Three ways on for a unit, and what its model fetched, as lines beside their tables."""

from __future__ import annotations

from collections.abc import Iterator

from bench.dashboard.presenters.pieces import Line, Part, spread, wrap
from bench.domain.own_prices import OwnPrices
from bench.domain.text import for_display
from bench.domain.three_ways import ThreeWays, WayRow


def ways_head(ways: ThreeWays, width: int) -> tuple[Line, ...]:
    """The unit, and which way leaves most."""
    left = (Part(f" {ways.tag}  ", "strong"), Part(for_display(ways.model), "muted"))
    look = "heading" if ways.most is not None else "warning"
    right = (
        Part(f"{ways.most.title} leaves most " if ways.most is not None else "not to be compared yet ", look),
    )
    return (spread(left, right, width),)


def rests_lines(ways: ThreeWays, what: object, width: int) -> tuple[Line, ...]:
    """The open faults; what the line under the cursor rests on, way by way; the sentence on all three."""
    row = next((one for one in ways.rows if one.what == what), None)
    told = _rests(row, width) if row is not None else ()
    look = "good" if ways.most is not None else "warning"
    faults = wrap(f"Open: {for_display('; '.join(ways.faults))}", width) if ways.faults else ()
    return (
        *((Part(line, "warning"),) for line in faults),
        *told,
        *((Part(line, look),) for line in wrap(ways.words, width)),
    )


def sold_lines(prices: OwnPrices, width: int) -> tuple[Line, ...]:
    """What the model fetched, and what a week of waiting costs."""
    looks = ((prices.words, ""), (prices.fall_words, "muted"))
    return tuple((Part(line, look),) for words, look in looks for line in wrap(for_display(words), width))


def _rests(row: WayRow, width: int) -> Iterator[Line]:
    for title, words in row.rests_on:
        for at, line in enumerate(wrap(f"{title}: {for_display(words)}", width)):
            yield (Part(line, "muted" if at else ""),)
