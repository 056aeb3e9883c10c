"""Read one week: its hours, and what was sold and handed back in it, in one snapshot."""

from __future__ import annotations

from bench.desk import Desk
from bench.domain.weeks import IsoWeek
from bench.views.shop import facts
from bench.views.week import WeekSheet, week_sheet
from bench.work.losses import read_repairs
from bench.work.units_sold import read_sold_rows, units_sold


def read_week(desk: Desk, week: IsoWeek | None = None) -> WeekSheet:
    """The week's sheet; without a week, the one it is now in the shop's zone."""
    now_us = desk.clock.now_us()
    with desk.store.read() as connection:
        zone = facts(connection).zone
        week = week or IsoWeek.at(now_us, zone)
        sold = units_sold(*read_sold_rows(connection, week.days()[0], week.days()[-1]))
        repairs = read_repairs(connection, week.bounds_us(zone))
        return week_sheet(connection, week, now_us, sold, repairs)
