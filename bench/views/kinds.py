"""The kinds of values in tables: how each is told, by which it is sorted, and the room that it takes."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import Any, NamedTuple, Protocol

from bench.domain.durations import decimal_hours, hours_and_minutes
from bench.domain.localtime import day_and_time, short_day, short_instant
from bench.domain.money import show_money
from bench.domain.percent import show_percent
from bench.domain.quantities import short_quantity
from bench.domain.weeks import local_day

UNKNOWN = "–"


class Context(NamedTuple):
    """What figures are told by: the shop's currency and zone, and the instant until which timers have run.

    `screen`: days as a screen shows them. `bare`: money without its currency, which is told once.
    """

    currency: str = ""
    zone: str = "UTC"
    now_us: int = 0
    screen: bool = False
    bare: bool = False

    @property
    def today(self) -> date | None:
        """The shop's day; None where it is not known."""
        return local_day(self.now_us, self.zone) if self.now_us else None

    def day(self, day: date) -> str:
        """A day: 28 Nov on a screen, with its year outside this one; 2026-11-28 elsewhere."""
        return short_day(day, self.today) if self.screen else day.isoformat()

    def instant(self, at_us: int) -> str:
        """A day with its time: 28 Nov 14:05 on a screen, 28 Nov 2025 14:05; elsewhere Sat 28 Nov 14:05."""
        if self.screen:
            return short_instant(at_us, self.zone, self.now_us)
        return day_and_time(at_us, self.zone)


PLAIN = Context()  # for tables without money and times


def context_of(view: Any, now_us: int = 0) -> Context:
    """What the figures of a view are told by: its currency and its zone, where it has them."""
    return Context(getattr(view, "currency", ""), getattr(view, "zone", "UTC"), now_us)


def on_screen(view: Any, now_us: int) -> Context:
    """The same for words on a screen, at this instant."""
    return context_of(view, now_us)._replace(screen=True)


class Bound(NamedTuple):
    """Money of which something was not typed: at least (≥) or at most (≤) as much."""

    minor: int
    sign: str


class Amount(NamedTuple):
    """A quantity in thousandths of its base unit; `signed`: a movement, told with its plus."""

    thousandths: int
    unit: str
    signed: bool = False


class Filled(NamedTuple):
    """A bar that is filled by part of a whole of its own."""

    part: int
    whole: int


class Said(NamedTuple):
    """Words with a look of their own."""

    words: str
    look: str = ""


class Lasting(NamedTuple):
    """A length of time among amounts of money."""

    us: int


SumAmount = int | Bound | Lasting | str
"""What a line of a sum amounts to: money, a length of time, or words where neither says it."""


class Figured(Protocol):
    """A row that has an amount of money or a length of time."""

    @property
    def amount_minor(self) -> int | None:
        """The money."""

    @property
    def length_us(self) -> int | None:
        """The time."""


def figure_of(row: Figured) -> int | Lasting | None:
    """The amount of money or the length of time that a row has; None where neither is known."""
    return row.amount_minor if row.length_us is None else Lasting(row.length_us)


@dataclass(frozen=True, slots=True)
class Kind:
    """How values are told. `right`: figures, flush right and never cut on paper; `width`: their cells."""

    words: Callable[[Any, Context], str]
    width: int = 8
    right: bool = True
    order: Callable[[Any], Any] = lambda value: value

    def told(self, value: Any, context: Context) -> str:
        """The value in words, or that it is unknown."""
        return UNKNOWN if value is None else self.words(value, context)


def at_least(minor: int, *, known: bool) -> int | Bound:
    """An amount; a bound where something it sums was not typed."""
    return minor if known else Bound(minor, "≥")


def at_most(minor: int, *, known: bool) -> int | Bound:
    """An amount; a bound where a cost it is less by was not typed."""
    return minor if known else Bound(minor, "≤")


def _money(value: int | Bound, context: Context) -> str:
    shown = show_money(_minor(value), context.currency)
    if context.bare:
        shown = shown.removesuffix(f" {context.currency}")
    return f"{value.sign} {shown}" if isinstance(value, Bound) else shown


def _minor(value: int | Bound) -> int:
    return value.minor if isinstance(value, Bound) else value


def _quantity(value: Amount, _context: Context) -> str:
    plus = "+" if value.signed and value.thousandths > 0 else ""
    return f"{plus}{short_quantity(value.thousandths, value.unit)}"


def _day(day: date, context: Context) -> str:
    return context.day(day)


def _instant(at_us: int, context: Context) -> str:
    """In a column there is no room for a year beside the time: of another year, the day alone."""
    day = local_day(at_us, context.zone)
    this_year = context.today is not None and day.year == context.today.year
    return context.instant(at_us) if this_year or not context.screen else context.day(day)


def _local_day(at_us: int, context: Context) -> str:
    return context.day(local_day(at_us, context.zone))


def _when(when: date | int, context: Context) -> str:
    return context.day(when) if isinstance(when, date) else _instant(when, context)


def _figure(figure: int | Lasting, context: Context) -> str:
    return hours_and_minutes(figure.us) if isinstance(figure, Lasting) else _money(figure, context)


def _size(figure: int | Lasting) -> int:
    return figure.us if isinstance(figure, Lasting) else figure


def _of_sum(amount: SumAmount, context: Context) -> str:
    if isinstance(amount, str):
        return amount
    return _money(amount, context) if isinstance(amount, Bound) else _figure(amount, context)


def _in_sum(amount: SumAmount) -> tuple[bool, int, str]:
    """Figures by their size, words behind them."""
    if isinstance(amount, str):
        return True, 0, amount.casefold()
    return False, amount.minor if isinstance(amount, Bound) else _size(amount), ""


def _by_words(value: object) -> tuple[bool, int, str]:
    """Numbers by their size, and before all words."""
    return not isinstance(value, int), value if isinstance(value, int) else 0, str(value).casefold()


TEXT = Kind(lambda text, _: str(text), right=False, order=_by_words)
SAID = Kind(lambda said, _: said.words, right=False, order=lambda said: said.words.casefold())
WORD = Kind(lambda text, _: str(text), order=_by_words)
COUNT = Kind(lambda number, _: str(number), width=4)
MONEY = Kind(_money, width=9, order=_minor)
HOURS = Kind(lambda us, _: decimal_hours(us), width=7)
LENGTH = Kind(lambda us, _: hours_and_minutes(us))
QUANTITY = Kind(_quantity, width=11, order=lambda amount: amount.thousandths)
SHARE = Kind(lambda per_10000, _: show_percent(per_10000), width=7)
DAYS = Kind(lambda days, _: f"{days:.0f} d", width=7)
DAY = Kind(_day, width=11, right=False)
INSTANT = Kind(_instant, width=12, right=False)
LOCAL_DAY = Kind(_local_day, width=11, right=False)
DAY_OR_INSTANT = Kind(_when, width=12, right=False, order=str)
MONEY_OR_LENGTH = Kind(_figure, width=9, order=_size)
SUM_AMOUNT = Kind(_of_sum, width=9, order=_in_sum)
OF_MONEY = (MONEY, MONEY_OR_LENGTH, SUM_AMOUNT)
OF_TIME = (DAY, INSTANT, LOCAL_DAY, DAY_OR_INSTANT)
BAR = Kind(lambda _value, _context: "", width=6, right=False, order=lambda bar: getattr(bar, "part", bar))
