"""A repair of an owner's machine: what is noted at the counter, how its quote stands."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from bench.domain.amounts import Length, Minor
from bench.domain.durations import hours_and_minutes
from bench.domain.money import show_money
from bench.domain.text import quoted
from bench.errors import BadInput

MAY_BE_ERASED, MUST_BE_KEPT, ASK_FIRST, NO_ACCESS = (
    "may be erased",
    "must be kept",
    "ask first",
    "no access given",
)
CONSENTS = (MUST_BE_KEPT, MAY_BE_ERASED, ASK_FIRST, NO_ACCESS)
ACCEPTED, DECLINED = "accepted", "declined"
ANSWERS = (ACCEPTED, DECLINED)
LOCAL_LAW = (
    "What may be done with a machine that its owner does not collect is for local law to say. Look there, "
    "and write to the owner, before anything is done with it."
)
NOT_BINDING = "Not advice on tax: rates are as the shop typed them."


KEPT, SHOWN, ERASED = "kept", "shown", "erased"


@dataclass(frozen=True, slots=True)
class AccessTold:
    """What was done with the access word of a machine: kept, shown or erased.

    `word`: only where it was to be shown. `left_in_file`: why old bytes of an erased one may be left there.
    """

    tag: str
    done: str
    word: str = ""
    left_in_file: str = ""


@dataclass(frozen=True, slots=True)
class JobDays:
    """The days that say how a job stands; None: not yet. `answer`: to the quote."""

    quoted_on: date | None
    quote_until: date | None
    answer: str | None
    answered_on: date | None
    ready_on: date | None
    collected_on: date | None

    def uncollected(self, today: date, after_days: int) -> bool:
        """Whether it has been ready for longer than the shop waits, and is still here. 0 days: never."""
        if self.ready_on is None or self.collected_on is not None or not after_days:
            return False
        return today > self.ready_on + timedelta(days=after_days)

    def lapsed(self, today: date) -> bool:
        """Whether the quote was not answered in its time."""
        return self.answer is None and self.quote_until is not None and today > self.quote_until

    def state(self, today: date, *, uncollected: bool, told: Callable[[date], str] = date.isoformat) -> str:
        """How it stands, in words; `told`: how a day is."""
        if self.collected_on is not None:
            return f"handed back {told(self.collected_on)}"
        if self.ready_on is not None:
            return f"{'not collected' if uncollected else 'ready'} since {told(self.ready_on)}"
        if self.answer is not None:
            return f"quote {self.answer}" + (f" {told(self.answered_on)}" if self.answered_on else "")
        if self.quoted_on is None:
            return "not quoted yet"
        if self.quote_until is None:
            return f"quoted {told(self.quoted_on)}"
        lapsed = "quote lapsed" if self.lapsed(today) else "quoted, open until"
        return f"{lapsed} {told(self.quote_until)}"


@dataclass(frozen=True, slots=True)
class Spent:
    """What a repair took against what was quoted for it. Parts and consumables at cost, quotes at prices.

    `quoted_*` are None while no quote was given.
    """

    hands_on_us: Length
    quoted_us: Length | None
    cost_minor: Minor
    quoted_parts_minor: Minor | None

    @property
    def over_us(self) -> Length:
        """Hands-on time beyond the hours quoted."""
        return 0 if self.quoted_us is None else max(0, self.hands_on_us - self.quoted_us)

    @property
    def over_minor(self) -> Minor:
        """Cost beyond what was quoted for parts."""
        return 0 if self.quoted_parts_minor is None else max(0, self.cost_minor - self.quoted_parts_minor)


def spent_words(spent: Spent, currency: str) -> str:
    """What was spent against the quote, and what is beyond it."""
    hours, cost = hours_and_minutes(spent.hands_on_us), show_money(spent.cost_minor, currency)
    if spent.quoted_us is None or spent.quoted_parts_minor is None:
        return f"{hours} hands-on, {cost} of parts and consumables; nothing quoted"
    parts = show_money(spent.quoted_parts_minor, currency)
    words = (
        f"{hours} hands-on of {hours_and_minutes(spent.quoted_us)} quoted, {cost} at cost of {parts} quoted"
    )
    beyond = ", ".join(_beyond(spent, currency))
    return f"{words}: beyond the quote by {beyond}" if beyond else words


def _beyond(spent: Spent, currency: str) -> Iterator[str]:
    if spent.over_us:
        yield hours_and_minutes(spent.over_us)
    if spent.over_minor:
        yield show_money(spent.over_minor, currency)


def check_consent(text: str) -> str:
    """The same words, if they are one of CONSENTS, nothing for nothing; BadInput otherwise."""
    word = " ".join(text.split()).casefold()
    if word and word not in CONSENTS:
        raise BadInput(f"{quoted(text)} says nothing about the data.", f"Type {', '.join(CONSENTS)}.")
    return word


def warranty_until(collected_on: date | None, days: int | None) -> date | None:
    """The last day of the warranty on a repair; None before it is collected, and for none given."""
    return collected_on + timedelta(days=days) if collected_on is not None and days else None
