"""Repair it, sell it as it is, or part it out: the cash still to come each way, line by line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bench.domain.amounts import Minor
from bench.domain.durations import MINUTE_US
from bench.domain.next_up import hourly_minor
from bench.domain.unit_money import labour_minor

REPAIR, AS_IS, PART_OUT = "repair", "as is", "parts"
WAYS = (REPAIR, AS_IS, PART_OUT)
TITLES = {REPAIR: "Repair", AS_IS: "Sell as is", PART_OUT: "Part out"}


PRICE, FEES, TAX, SHIPPING = "price", "fees", "tax", "shipping"
PARTS, CONSUMABLES = "parts", "consumables"
WORDS = {
    PRICE: "expected price",
    FEES: "channel fees",
    TAX: "tax on the margin (not advice)",
    SHIPPING: "shipping",
    PARTS: "parts still to buy",
    CONSUMABLES: "consumables",
}


@dataclass(frozen=True, slots=True)
class WayEstimate:
    """What a person typed of a way: what it fetches, in minor units, the minutes it takes, why."""

    way: str
    price_minor: Minor | None
    minutes: int | None
    note: str


@dataclass(frozen=True, slots=True)
class WayLine:
    """One line of a way, signed as it enters; None: not known, and left out. `rests_on`: in plain words.

    `what`: one of the keys of WORDS.
    """

    what: str
    amount_minor: Minor | None
    rests_on: str


@dataclass(frozen=True, slots=True)
class Way:
    """A way on from here: its lines, and the hands-on minutes it still takes; None: not typed."""

    way: str
    lines: tuple[WayLine, ...]
    minutes: int | None
    minutes_rest_on: str

    @property
    def title(self) -> str:
        """What it is called."""
        return TITLES[self.way]

    @property
    def price_known(self) -> bool:
        """Whether what it fetches is known at all: without it there is nothing to compare."""
        return self.lines[0].amount_minor is not None

    @property
    def missing(self) -> tuple[str, ...]:
        """What is not known and left out of the total."""
        return tuple(WORDS[line.what] for line in self.lines if line.amount_minor is None)

    @property
    def cash_minor(self) -> Minor | None:
        """The cash still to come, what is not known left out; None where what it fetches is not known."""
        if not self.price_known:
            return None
        return sum(line.amount_minor or 0 for line in self.lines)

    @property
    def per_hour_minor(self) -> Minor | None:
        """The same per hands-on hour still to spend, halves up."""
        if self.cash_minor is None or not self.minutes:
            return None
        return hourly_minor(self.cash_minor, self.minutes)

    def after_labour_minor(self, rate_minor_per_hour: int) -> Minor | None:
        """The cash less the time it takes at the shop's rate."""
        if self.cash_minor is None or self.minutes is None:
            return None
        return self.cash_minor - labour_minor(self.minutes * MINUTE_US, rate_minor_per_hour)


@dataclass(frozen=True, slots=True)
class WayRow:
    """One line of all three ways beside one another; None where a way has none, or where it is not known."""

    what: str
    words: str
    repair_minor: Minor | None
    as_is_minor: Minor | None
    part_out_minor: Minor | None
    rests_on: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class ThreeWays:
    """The three ways of one unit. What it has cost so far is spent either way and in none of them.

    `estimates`: what was typed, by way: price in minor units, minutes and a note.
    `faults`: the open ones, in words: what repairing is to put right, and what the others leave.
    """

    unit_id: int
    tag: str
    model: str
    ways: tuple[Way, ...]
    estimates: tuple[WayEstimate, ...]
    faults: tuple[str, ...]
    rate_minor_per_hour: int
    currency: str
    zone: str

    def way(self, name: str) -> Way:
        """One of the three, by its name."""
        return next(one for one in self.ways if one.way == name)

    @property
    def rows(self) -> tuple[WayRow, ...]:
        """The lines side by side, the cash, the same per hour, and what is left once the time is paid."""
        keys = [key for key in WORDS if any(line.what == key for way in self.ways for line in way.lines)]
        left = [way.after_labour_minor(self.rate_minor_per_hour) for way in self.ways]
        time = tuple((way.title, way.minutes_rest_on) for way in self.ways)
        return (
            *(self._line(key) for key in keys),
            _row("cash", "cash still to come", [way.cash_minor for way in self.ways], time),
            _row("per hour", "per hands-on hour", [way.per_hour_minor for way in self.ways], time),
            _row("after labour", "less time at the shop's rate", left, time),
        )

    def _line(self, key: str) -> WayRow:
        found = [next((one for one in way.lines if one.what == key), None) for way in self.ways]
        amounts = [None if line is None else line.amount_minor for line in found]
        told = zip(self.ways, found, strict=True)
        rests = tuple((way.title, line.rests_on) for way, line in told if line is not None)
        return _row(key, WORDS[key], amounts, rests)

    @property
    def most(self) -> Way | None:
        """The way that leaves most once its time is paid; None unless all that can be compared is known."""
        told = [
            (left, way)
            for way in self.ways
            if (left := way.after_labour_minor(self.rate_minor_per_hour)) is not None
        ]
        return max(told, key=lambda one: one[0])[1] if len(told) == len(self.ways) else None

    @property
    def words(self) -> str:
        """One sentence on which leaves most, or on what must be known to say so."""
        if self.most is not None:
            doubt = "" if not any(way.missing for way in self.ways) else ", as far as it is known"
            return f"{self.most.title} leaves most once the time is paid{doubt}."
        unknown = [
            way.title.lower() for way in self.ways if way.after_labour_minor(self.rate_minor_per_hour) is None
        ]
        return f"Not to be compared yet: type what is expected of {' and '.join(unknown)}."


def _row(
    what: str, words: str, amounts: Sequence[int | None], rests_on: tuple[tuple[str, str], ...]
) -> WayRow:
    repair, as_is, part_out = amounts
    return WayRow(what, words, repair, as_is, part_out, rests_on)
