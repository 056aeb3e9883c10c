"""Read a month or a year: earned per bench hour, money tied up, slow units, consumables."""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping

from bench.desk import Desk
from bench.domain.earned import Earned, SoldUnit, earned
from bench.domain.money import NOT_TYPED
from bench.domain.month_sheet import MonthSheet, SlowUnit, TiedUp, UsedUp
from bench.domain.spans import Span
from bench.domain.unit_money import MATERIALS, PURCHASE, RETURN, SALE, MoneyLine
from bench.domain.weeks import local_day
from bench.views import leaving as leaving_reads
from bench.views import months as reads
from bench.views.shop import facts
from bench.work.losses import read_repairs, unsold_lines
from bench.work.units_sold import net_minor, read_sold_rows, tax_left_minor, units_sold

MOST_SLOW = 10
DONORS, SHELF = "kept for parts", "parts on the shelf"
UNDONE = "sales undone: fees, sending"
UNRECORDED, UNDER_WAY = "left, no sale recorded", "repairs under way"
NO_ROUTE, NO_SOURCE, NO_MAKER = "no route", "source not noted", "maker not noted"

Kind = tuple[object, str]  # by what units are gathered, and how it is called


def read_month(desk: Desk, year: int | None = None, month: int | None = None) -> MonthSheet:
    """One calendar month in one snapshot; without a year, the one it is now in the shop's zone."""
    if year is None or month is None:
        return _read(desk, None)
    return _read(desk, Span(year, month))


def read_year(desk: Desk, year: int | None = None) -> MonthSheet:
    """One calendar year with its months; without one, the year it is now in the shop's zone."""
    return _read(desk, Span(year) if year is not None else Span(_this_month(desk).year))


def _read(desk: Desk, asked: Span | None) -> MonthSheet:
    now_us = desk.clock.now_us()
    with desk.store.read() as connection:
        shop = facts(connection)
        span = asked or Span.month_of(local_day(now_us, shop.zone))
        bounds_us = span.bounds_us(shop.zone)
        rows, sales = read_sold_rows(connection, span.first, span.last)
        sold = units_sold(rows, sales)
        months = [one.bounds_us(shop.zone) for one in span.months()]
        spent = reads.spent(connection, months, now_us)
        kinds = reads.kinds(connection, {one.unit_id for one in sold} | {row["unit_id"] for row in spent})
        by_unit = _by_unit(spent)
        unsold, kept, unpriced = unsold_lines(connection, bounds_us)
        back = reads.returns(connection, bounds_us)
        return MonthSheet(
            span=span,
            first=span.first,
            last=span.last,
            shop=shop.name,
            currency=shop.currency,
            zone=shop.zone,
            read_us=now_us,
            total=earned("", sold, sum(by_unit.values())),
            lines=_lines(rows, sales),
            by_month=_by_month(span, sold, spent),
            by_route=_gathered(sold, by_unit, _told(kinds, _route)),
            by_source=_gathered(sold, by_unit, _told(kinds, _source)),
            by_maker=_gathered(sold, by_unit, _told(kinds, _maker)),
            returns=back["returns"],
            refunds_minor=back["refunds_minor"],
            tied_up=_tied_up(connection),
            unsold=unsold,
            kept=kept,
            sold=tuple(sold),
            unpriced_repairs=read_repairs(connection, bounds_us).unpriced,
            unpriced_losses=unpriced,
            slowest=tuple(_slow(row, now_us, shop.zone) for row in reads.slowest(connection, MOST_SLOW)),
            used=tuple(UsedUp(**dict(row)) for row in reads.used(connection, bounds_us)),
            used_units=reads.used_units(connection, bounds_us),
        )


def _this_month(desk: Desk) -> Span:
    with desk.store.read() as connection:
        zone = facts(connection).zone
    return Span.month_of(local_day(desk.clock.now_us(), zone))


def _lines(rows: list[sqlite3.Row], sales: list[sqlite3.Row]) -> tuple[MoneyLine, ...]:
    """The sums of all units sold, line by line as in each unit's own money; those of nothing are left out."""
    bought = {row["unit_id"]: row["purchase_minor"] for row in rows}
    tax = sum(tax_left_minor(sale, bought[sale["unit_id"]]) for sale in sales)
    refunded = [sale for sale in sales if sale["refund_minor"]]
    fees_back = [sale for sale in sales if sale["fee_back_minor"]]
    unsent = sum(not sale["shipping_known"] for sale in sales)
    unposted = sum(sale["postage_unknown"] for sale in sales)
    unpriced = sum(not row["price_known"] for row in rows)
    posted = [sale for sale in sales if sale["postage_minor"]]
    lines = (
        MoneyLine("prices", _sum(sales, "price_minor"), SALE, len(sales)),
        MoneyLine("refunds", -_sum(sales, "refund_minor"), RETURN, len(refunded)),
        MoneyLine("fees of the channels", -_sum(sales, "fee_minor"), SALE, len(sales)),
        MoneyLine("fees given back", _sum(sales, "fee_back_minor"), RETURN, len(fees_back)),
        MoneyLine(_partly("shipping", unsent), -_sum(sales, "shipping_minor"), SALE, len(sales)),
        MoneyLine(_partly("return postage", unposted), -_sum(sales, "postage_minor"), RETURN, len(posted)),
        MoneyLine("tax on the margin (not advice)", -tax, SALE, len(sales)),
        MoneyLine(
            _partly("paid for the units", unpriced), -_sum(rows, "purchase_minor"), PURCHASE, len(rows)
        ),
        MoneyLine("inward freight", -_sum(rows, "freight_minor"), PURCHASE, len(rows)),
        MoneyLine("parts in less parts out", -_sum(rows, "parts_minor"), "parts", len(rows)),
        MoneyLine("consumables", -_sum(rows, "materials_minor"), MATERIALS, len(rows)),
    )
    return tuple(line for line in lines if line.amount_minor or NOT_TYPED in line.words)


def _partly(words: str, absent: int) -> str:
    return f"{words}, {absent} {NOT_TYPED}" if absent else words


def _sum(rows: Iterable[sqlite3.Row], column: str) -> int:
    return sum(row[column] for row in rows)


def _by_unit(spent: list[sqlite3.Row]) -> dict[int, int]:
    hours: defaultdict[int, int] = defaultdict(int)
    for row in spent:
        hours[row["unit_id"]] += row["us"]
    return dict(hours)


def _by_month(span: Span, sold: list[SoldUnit], spent: list[sqlite3.Row]) -> tuple[Earned, ...]:
    if span.month is not None:
        return ()
    hours: defaultdict[int, int] = defaultdict(int)
    for row in spent:
        hours[row["number"]] += row["us"]
    return tuple(
        earned(str(month), (one for one in sold if Span.month_of(one.sold_on) == month), hours[number])
        for number, month in enumerate(span.months())
    )


def _gathered(
    sold: list[SoldUnit], by_unit: Mapping[int, int], kinds: Mapping[int, Kind]
) -> tuple[Earned, ...]:
    """What each kind earned, the largest margin first; kinds that only took hours come after."""
    units: defaultdict[object, list[SoldUnit]] = defaultdict(list)
    hours: defaultdict[object, int] = defaultdict(int)
    names: dict[object, str] = {}
    for key, name in kinds.values():
        names.setdefault(key, name)
    for one in sold:
        units[kinds[one.unit_id][0]].append(one)
    for unit_id, us in by_unit.items():
        hours[kinds[unit_id][0]] += us
    lines = [earned(name, units[key], hours[key]) for key, name in names.items()]
    return tuple(
        sorted(lines, key=lambda line: (not line.units, -line.margin_minor, -line.spent_us, line.name))
    )


def _told(rows: list[sqlite3.Row], tell: Callable[[sqlite3.Row], Kind]) -> dict[int, Kind]:
    return {row["unit_id"]: tell(row) for row in rows}


def _route(row: sqlite3.Row) -> Kind:
    return row["route_id"], row["route"] or NO_ROUTE


def _source(row: sqlite3.Row) -> Kind:
    if row["lot_id"] is not None:
        return ("lot", row["lot_id"]), f"lot {row['lot']}"
    return ("party", row["party_id"]), row["party"] or NO_SOURCE


def _maker(row: sqlite3.Row) -> Kind:
    return row["maker"].casefold(), row["maker"] or NO_MAKER


def _tied_up(connection: sqlite3.Connection) -> tuple[TiedUp, ...]:
    """The cost of what is the shop's and not sold, and what is spent and not earned back yet."""
    lines = [
        TiedUp(DONORS if row["donor"] else row["name"], row["units"], row["landed_minor"], row["unpriced"])
        for row in reads.tied_up(connection)
    ]
    out, shelf = reads.unrecorded(connection), reads.shelf(connection)
    if out["units"]:
        lines.append(TiedUp(UNRECORDED, out["units"], out["landed_minor"], out["unpriced"]))
    others = (
        (UNDONE, -sum(net_minor(sale, sale["purchase_minor"]) for sale in reads.undone(connection))),
        (UNDER_WAY, leaving_reads.under_way(connection)["cost_minor"]),
        (SHELF, shelf["cost_minor"] if shelf["parts"] else 0),
    )
    return (*lines, *(TiedUp(name, 0, minor) for name, minor in others if minor))


def _slow(row: sqlite3.Row, now_us: int, zone: str) -> SlowUnit:
    days = (local_day(now_us, zone) - local_day(row["since_us"], zone)).days
    return SlowUnit(**dict(row), days=days)
