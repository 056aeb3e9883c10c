"""A unit's particulars as the texts of a form, and the choices that go with them."""

from __future__ import annotations

from collections.abc import Sequence

from bench.domain.durations import MINUTE_US, hours_and_minutes
from bench.domain.money import money_or
from bench.views.routes import RouteLine
from bench.views.unit import UnitSheet


def unit_values(unit: UnitSheet) -> dict[str, str]:
    """What the unit's form begins with, by field."""
    return {
        "maker": unit.maker,
        "model": unit.model,
        "serial": unit.serial,
        "due_text": unit.due_on.isoformat() if unit.due_on else "",
        "price_text": money_or(unit.price_minor, unit.currency),
        "note": unit.note,
        "tag_text": unit.tag,
        "owner": unit.owner,
        "owner_contact": unit.owner_contact,
    }


def route_choices(routes: Sequence[RouteLine]) -> tuple[tuple[str, str], ...]:
    """Each route with how many tasks it has and the hands-on time they take."""
    return tuple((str(one.route_id), f"{one.name}  ({_extent(one)})") for one in routes)


def usual_route(routes: Sequence[RouteLine]) -> str:
    """The choice to begin with: the shop's oldest route; empty where it has none."""
    return str(min((one.route_id for one in routes), default=""))


def _extent(route: RouteLine) -> str:
    time = hours_and_minutes(route.attended_minutes * MINUTE_US)
    return f"{route.tasks} tasks, {time}" if route.tasks != 1 else f"1 task, {time}"
