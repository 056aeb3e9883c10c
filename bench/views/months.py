"""A month or a year: what was earned per hands-on hour, what is tied up, what is slow, what was used."""

from __future__ import annotations

import sqlite3
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from bench.desk import Desk
from bench.domain.amounts import Instant, Length, Minor, Thousandths
from bench.domain.machine_power import MachinePower
from bench.domain.money import NOT_TYPED
from bench.domain.spans import Span
from bench.domain.unit_money import (
    CONSUMABLES_USED,
    PURCHASE,
    RETURN,
    SALE,
    Earned,
    MoneyLine,
    SoldUnit,
    earned,
    total,
)
from bench.domain.weeks import local_day
from bench.views import earned_by, ledger, shop
from bench.views.binder import Query, value
from bench.views.expenses import GeneralTotal, general_totals
from bench.views.gone_parts import part_lines
from bench.views.hours import PARTS, in_text
from bench.views.ledger import LedgerTotal
from bench.views.machine_power import power_of
from bench.views.standing import IN_QUEUE
from bench.views.stock import NOT_REVERSED
from bench.views.tied_up import TiedUp, tied_up
from bench.views.units_sold import HANDS_ON, read_repairs, units_sold, unsold_lines

MOST_SLOW = 10
RULE = (
    "Earned: the margin of units sold in the span, as each unit's own money has it, by all hands-on hours "
    "ever spent on them. A sale stands while its unit is repaired, and ends where it is undone. Scrapped "
    "units are a loss when they are scrapped. Stock and queue are as of now. Electricity of machine time is "
    "an estimate, in no total: its bill counts, typed as an expense."
)


@dataclass(frozen=True, slots=True)
class SlowUnit:
    """A unit long in the queue. `days`: since it came, or came back. Estimate: of its hands-on tasks."""

    unit_id: int
    tag: str
    model: str
    stage: str
    held: str | None
    since_us: Instant
    days: int = field(default=0, kw_only=True)
    hands_on_us: Length
    estimate_minutes: int


@dataclass(frozen=True, slots=True)
class UsedUp:
    """A consumable issued in the span, in thousandths of `base_unit`, and how many units took of it."""

    consumable_id: int
    name: str
    base_unit: str
    quantity: Thousandths
    cost_minor: Minor
    units: int

    @property
    def per_unit(self) -> int:
        """What a unit that took of it took on average, in thousandths, halves up."""
        return (2 * self.quantity + self.units) // (2 * self.units)

    @property
    def cost_per_unit_minor(self) -> Minor:
        """What that cost a unit, halves up."""
        return (2 * self.cost_minor + self.units) // (2 * self.units)


@dataclass(frozen=True, slots=True)
class MonthSheet:
    """A month or a year in the shop's zone. `lines` add up to the margin of the units sold.

    `unsold`: what was earned and lost beside the margins: owners' repairs, scrap, units broken for parts.
    `kept`: what left stock without a loss, for the shop's own use. `general`: expenses and income of no unit,
    by category. `power`: what machine time of the span is estimated to have drawn, in no sum.
    `by_month` is empty for a month. `tied_up`, `slowest`: as of `read_us`, the longest first.
    """

    span: Span
    first: date
    last: date
    shop: str
    currency: str
    zone: str
    read_us: Instant
    total: Earned
    lines: tuple[MoneyLine, ...]
    unsold: tuple[MoneyLine, ...]
    kept: tuple[MoneyLine, ...]
    sold: tuple[SoldUnit, ...]
    unpriced_repairs: tuple[str, ...]
    unpriced_losses: tuple[str, ...]
    by_month: tuple[Earned, ...]
    by_route: tuple[Earned, ...]
    by_source: tuple[Earned, ...]
    by_maker: tuple[Earned, ...]
    returns: int
    refunds_minor: Minor
    tied_up: tuple[TiedUp, ...]
    slowest: tuple[SlowUnit, ...]
    used: tuple[UsedUp, ...]
    used_units: int
    general: tuple[GeneralTotal, ...] = ()
    power: MachinePower | None = None

    @property
    def missing(self) -> tuple[str, ...]:
        """What was not typed and is left out of the sums, each with the unit's tag."""
        costs = tuple(f"{one.tag} {', '.join(one.missing)}" for one in self.sold if one.missing)
        return (
            *costs,
            *(f"{tag} price of the repair" for tag in self.unpriced_repairs),
            *self.unpriced_losses,
        )

    @property
    def complete(self) -> bool:
        """Whether nothing is missing from its sums."""
        return not self.missing and self.tied_up_known

    @property
    def tied_up_known(self) -> bool:
        """Whether every unit not sold yet has a price; otherwise more is tied up."""
        return not any(line.unpriced for line in self.tied_up)

    @property
    def result_minor(self) -> Minor:
        """The margins of what was sold, and what was earned and lost beside them."""
        return self.total.margin_minor + total(self.unsold)

    @property
    def general_minor(self) -> Minor:
        """All general income less all general expenses."""
        return sum(one.amount_minor for one in self.general)

    @property
    def after_general_minor(self) -> Minor:
        """The result, and what belongs to no unit."""
        return self.result_minor + self.general_minor

    @property
    def tied_up_minor(self) -> Minor:
        """All that lies in units not sold yet."""
        return sum(line.cost_so_far_minor for line in self.tied_up)

    @property
    def used_minor(self) -> Minor:
        """What all consumables issued in the span cost."""
        return sum(line.cost_minor for line in self.used)

    @property
    def used_per_unit_minor(self) -> Minor | None:
        """That for each unit that took any, halves up; None when none did."""
        if not self.used_units:
            return None
        return (2 * self.used_minor + self.used_units) // (2 * self.used_units)


@dataclass(frozen=True, slots=True)
class AsOfNow:
    """What a sheet of that span tells as of `read_us`, without any sum over the span."""

    span: Span
    shop: str
    currency: str
    zone: str
    read_us: Instant
    tied_up: tuple[TiedUp, ...]
    slowest: tuple[SlowUnit, ...]


@dataclass(frozen=True, slots=True)
class _Spent:
    """Hands-on time on a unit within one of several spans, by its place among them."""

    number: int
    unit_id: int
    us: int


@dataclass(frozen=True, slots=True)
class _Returns:
    """Units that came back, and what was refunded."""

    units: int
    refunds_minor: Minor


_SPENT = Query(
    _Spent,
    """
{parts}
SELECT part.number, task.unit_id, SUM(part.us) AS us
FROM part JOIN task ON task.id = part.task_id WHERE part.attended = 1 GROUP BY part.number, task.unit_id
""".replace("{parts}", PARTS),
)

_RETURNS = Query(
    _Returns,
    """
SELECT COUNT(*) AS units, COALESCE(SUM(refund_minor), 0) AS refunds_minor
FROM comeback WHERE removed = 0 AND at_us >= :lo AND at_us < :hi
""",
)
_SLOWEST = Query(
    SlowUnit,
    """
WITH waiting AS (
    SELECT unit.id, unit.tag, TRIM(unit.maker || ' ' || unit.model) AS model, standing.name AS stage,
           unit.held_reason,
           COALESCE((SELECT MAX(comeback.at_us) FROM sale JOIN comeback ON comeback.sale_id = sale.id
                     WHERE sale.unit_id = unit.id AND sale.removed = 0 AND comeback.removed = 0),
                    unit.added_us) AS since_us
    FROM {in_queue}
    LEFT JOIN purchase ON purchase.unit_id = unit.id
    WHERE COALESCE(purchase.donor, 0) = 0
    ORDER BY since_us, unit.id LIMIT :most
)
SELECT unit.id AS unit_id, tag, model, stage, held_reason AS held, since_us,
       {attended} AS hands_on_us,
       (SELECT COALESCE(SUM(estimate_minutes), 0) FROM task WHERE task.unit_id = unit.id
        AND task.removed = 0 AND task.unattended = 0 AND task.state <> 'skipped') AS estimate_minutes
FROM waiting AS unit ORDER BY since_us, unit.id
""".replace("{in_queue}", IN_QUEUE).replace("{attended}", HANDS_ON),
)
_ISSUES = """
FROM consumable CROSS JOIN movement ON movement.consumable_id = consumable.id
AND movement.at_us >= :lo AND movement.at_us < :hi JOIN task ON task.id = movement.task_id
WHERE movement.kind = 'issue'
AND {not_reversed}
""".replace("{not_reversed}", NOT_REVERSED)

_USED = Query(
    UsedUp,
    """
SELECT consumable.id AS consumable_id, consumable.name, consumable.base_unit,
       -SUM(movement.quantity) AS quantity, -SUM(movement.cost_minor) AS cost_minor,
       COUNT(DISTINCT task.unit_id) AS units
{issues} GROUP BY consumable.id ORDER BY cost_minor DESC, consumable.name, consumable.id
""".replace("{issues}", _ISSUES),
)
_USED_UNITS = "SELECT COUNT(DISTINCT task.unit_id)" + _ISSUES


def read_month(desk: Desk, year: int | None = None, month: int | None = None) -> MonthSheet:
    """One calendar month in one snapshot; without a year, the one it is now in the shop's zone."""
    return _read(desk, None if year is None or month is None else Span(year, month))


def read_year(desk: Desk, year: int | None = None) -> MonthSheet:
    """One calendar year with its months; without one, the year it is now in the shop's zone."""
    return _read(desk, Span(_this_month(desk).year if year is None else year))


def read_as_of_now(desk: Desk, year: int | None = None) -> AsOfNow:
    """What the sheet of a year, or of the year it is now, tells of this moment: shown before its sums are."""
    now_us = desk.clock.now_us()
    with desk.store.read() as connection:
        facts = shop.facts(connection)
        return AsOfNow(
            span=Span(local_day(now_us, facts.zone).year if year is None else year),
            shop=facts.name,
            currency=facts.currency,
            zone=facts.zone,
            read_us=now_us,
            tied_up=tied_up(connection),
            slowest=_slowest(connection, now_us, facts.zone),
        )


def _read(desk: Desk, asked: Span | None) -> MonthSheet:
    now_us = desk.clock.now_us()
    with desk.store.read() as connection:
        facts = shop.facts(connection)
        span = asked or Span.month_of(local_day(now_us, facts.zone))
        lo, hi = bounds_us = span.bounds_us(facts.zone)
        sold, sums = units_sold(connection, span.first, span.last)
        spent = _spent(connection, span, facts.zone, now_us)
        by_unit: Counter[int] = Counter()
        for one in spent:
            by_unit[one.unit_id] += one.us
        kinds = earned_by.kinds_of(connection, {one.unit_id for one in sold} | set(by_unit))
        repairs = read_repairs(connection, bounds_us)
        unsold, kept, unpriced = unsold_lines(connection, bounds_us, repairs)
        unsold = (*unsold, *part_lines(connection, bounds_us))
        back = _RETURNS.the(connection, lo=lo, hi=hi)
        return MonthSheet(
            span=span,
            first=span.first,
            last=span.last,
            shop=facts.name,
            currency=facts.currency,
            zone=facts.zone,
            read_us=now_us,
            total=earned("", sold, sum(by_unit.values())),
            lines=_lines(sums, len(sold)),
            by_month=_by_month(span, sold, spent),
            by_route=earned_by.earned_by(earned_by.route, kinds, sold, by_unit),
            by_source=earned_by.earned_by(earned_by.source, kinds, sold, by_unit),
            by_maker=earned_by.earned_by(earned_by.maker, kinds, sold, by_unit),
            returns=back.units,
            refunds_minor=back.refunds_minor,
            tied_up=tied_up(connection),
            unsold=unsold,
            kept=kept,
            sold=sold,
            unpriced_repairs=repairs.unpriced,
            unpriced_losses=unpriced,
            slowest=_slowest(connection, now_us, facts.zone),
            used=_USED.all(connection, lo=lo, hi=hi),
            used_units=value(connection, _USED_UNITS, lo=lo, hi=hi),
            general=general_totals(connection, span.first, span.last),
            power=power_of(connection, bounds_us, now_us),
        )


def _this_month(desk: Desk) -> Span:
    with desk.store.read() as connection:
        zone = shop.facts(connection).zone
    return Span.month_of(local_day(desk.clock.now_us(), zone))


def _spent(connection: sqlite3.Connection, span: Span, zone: str, now_us: int) -> tuple[_Spent, ...]:
    """Hands-on time on each unit within each month of the span."""
    bounds = [month.bounds_us(zone) for month in span.months()]
    return _SPENT.all(connection, spans=in_text(bounds), now=now_us)


def _lines(sums: Sequence[LedgerTotal], units: int) -> tuple[MoneyLine, ...]:
    """The sums of all units sold, kind by kind; those of nothing are left out."""
    counted: Counter[str] = Counter()
    absent: Counter[str] = Counter()
    for one in sums:
        counted[one.kind] += one.rows
        absent[one.kind] += one.absent
    sales = counted[ledger.SALE]

    def line(words: str, opens: str, rows: int, *kinds: str) -> MoneyLine:
        missing = sum(absent[kind] for kind in kinds)
        told = f"{words}, {missing} {NOT_TYPED}" if missing else words
        return MoneyLine(told, ledger.total(sums, *kinds), opens, rows)

    lines = (
        line("prices", SALE, sales, ledger.SALE),
        line("refunds", RETURN, counted[ledger.REFUND], ledger.REFUND),
        line("channel fees", SALE, sales, ledger.FEE),
        line("fees given back", RETURN, counted[ledger.FEE_BACK], ledger.FEE_BACK),
        line("shipping", SALE, sales, ledger.SHIPPING),
        line("return postage", RETURN, counted[ledger.POSTAGE], ledger.POSTAGE),
        line("tax on the margin (not advice)", SALE, sales, ledger.TAX),
        line("paid for the units", PURCHASE, units, ledger.PRICE, ledger.PREMIUM),
        line("inward freight", PURCHASE, units, ledger.FREIGHT),
        line("parts in less parts out", "parts", units, *ledger.PARTS),
        line("parts paid for and gone, less refunds", "parts", units, *ledger.PARTS_GONE),
        line("consumables", CONSUMABLES_USED, units, ledger.CONSUMABLE),
    )
    return tuple(one for one in lines if one.amount_minor or NOT_TYPED in one.words)


def _by_month(span: Span, sold: Iterable[SoldUnit], spent: Iterable[_Spent]) -> tuple[Earned, ...]:
    if span.month is not None:
        return ()
    hours: Counter[int] = Counter()
    for one in spent:
        hours[one.number] += one.us
    return tuple(
        earned(str(month), (one for one in sold if Span.month_of(one.sold_on) == month), hours[number])
        for number, month in enumerate(span.months())
    )


def _slowest(connection: sqlite3.Connection, now_us: int, zone: str) -> tuple[SlowUnit, ...]:
    """The units longest in the queue, counted from their last return."""
    today = local_day(now_us, zone)
    return tuple(
        replace(one, days=(today - local_day(one.since_us, zone)).days)
        for one in _SLOWEST.each(connection, most=MOST_SLOW)
    )
