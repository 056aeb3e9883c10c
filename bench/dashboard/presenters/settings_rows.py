"""The shop's settings, its people, its stages and its routes as rows."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby
from typing import Any

from bench.dashboard.presenters.pieces import Line, Part, spread
from bench.dashboard.presenters.rows import Row, cell, heading, room, rows_of
from bench.domain.copies import WHY, Copies
from bench.domain.durations import MINUTE_US, hours_and_minutes
from bench.domain.money import show_money
from bench.domain.text import for_display
from bench.views.columns import Table
from bench.views.kinds import on_screen
from bench.views.routes import RouteSheet
from bench.views.shop import PersonLine, ShopFacts, StageLine
from bench.views.tables.routes import ROUTE_TASKS

SETTINGS = Table[Any]("settings", "Settings", (room("", 24), room("", 34, grow=1), room("", 10, right=True)))
SHOP = "shop"
PERSON = "person"
STAGE = "stage"
FILE = "file"
MORE = "more"
TRADING, ROUTES = (MORE, "trading"), (MORE, "routes")


def settings_rows(
    shop: ShopFacts,
    people: Sequence[PersonLine],
    stages: Sequence[StageLine],
    acting_id: int,
    copies: Copies,
    now_us: int,
) -> tuple[Row, ...]:
    """All of it; a key says what kind of row it is and its number."""
    return (
        heading(SHOP, "Shop"),
        *(
            Row((SHOP, n), (cell(label), cell(value), cell("")))
            for n, (label, value) in enumerate(_shop(shop))
        ),
        heading(PERSON, "People"),
        *(_person(one, acts=one.person_id == acting_id) for one in people),
        heading(STAGE, "Stages, in the order of the work"),
        *(_stage(one) for one in stages),
        heading(FILE, "The data file"),
        _last_copy(copies, now_us),
        Row((FILE, "folder"), (cell("Copies lie in"), cell(copies.folder), _left_out(copies))),
        heading(MORE, "On screens of their own"),
        Row(TRADING, (cell("Trading"), cell("margin, tax, channels, grades"), cell(""))),
        Row(ROUTES, (cell("Routes"), cell("the tasks of each kind of job"), cell(""))),
    )


def shop_values(shop: ShopFacts) -> dict[str, str]:
    """What the shop's form begins with, by field."""
    return {
        "name": shop.name,
        "currency": shop.currency,
        "zone": shop.zone,
        "rate_text": show_money(shop.rate_minor_per_hour, shop.currency),
        "forgotten_times_text": str(shop.forgotten_times),
        "forgotten_least_text": str(shop.forgotten_least_minutes),
    }


def _shop(shop: ShopFacts) -> tuple[tuple[str, str], ...]:
    forgotten = f"{shop.forgotten_times} × the estimate, at least {shop.forgotten_least_minutes} min"
    return (
        ("Name", shop.name),
        ("Currency", shop.currency),
        ("Time zone", shop.zone),
        ("Labour per hour", show_money(shop.rate_minor_per_hour, shop.currency)),
        ("Ask about a timer after", forgotten),
    )


def _left_out(copies: Copies) -> Part:
    return cell("without photographs" if copies.left_out else "", "warning")


def _last_copy(copies: Copies, now_us: int) -> Row:
    last = copies.last
    if last is None:
        return Row(
            (FILE, "last"), (cell("Last copy"), cell("none yet; Enter makes one", "warning"), cell(""))
        )
    told = f"{on_screen(copies, now_us).instant(last.at_us)}, {WHY[last.why]}; Enter makes one now"
    return Row((FILE, "last"), (cell("Last copy"), cell(told), cell(f"{len(copies.copies)} kept", "muted")))


def _person(one: PersonLine, *, acts: bool) -> Row:
    return Row(
        (PERSON, one.person_id), (cell(one.name), cell("is working" if acts else "", "good"), cell(""))
    )


def _stage(one: StageLine) -> Row:
    marks = [
        mark
        for mark, there in (
            ("cover off", one.lid_off),
            ("listed", one.lists),
            ("leaves the queue", one.final),
            ("sold", one.sells),
        )
        if there
    ]
    units = f"{one.units} unit{'' if one.units == 1 else 's'}" if one.units else ""
    look = "warning" if one.lid_off else "muted"
    return Row((STAGE, one.stage_id), (cell(one.name), cell(", ".join(marks), look), cell(units, "muted")))


def stage_words(stage: StageLine) -> str:
    """A stage's name, and what is particular about it."""
    marks = [
        mark
        for mark, there in (
            ("cover off", stage.lid_off),
            ("listed", stage.lists),
            ("leaves the queue", stage.final),
            ("sold", stage.sells),
        )
        if there
    ]
    return f"{stage.name}  ({', '.join(marks)})" if marks else stage.name


def route_task_rows(route: RouteSheet | None) -> tuple[Row, ...]:
    """The tasks under their stages; the key is the task's number."""
    rows: list[Row] = []
    for stage_id, tasks in groupby(route.tasks if route else (), key=lambda task: task.stage_id):
        under = list(tasks)
        rows += [heading(f"stage {stage_id}", under[0].stage), *rows_of(ROUTE_TASKS, under)]
    return tuple(rows)


def route_head(route: RouteSheet | None, width: int) -> tuple[Line, ...]:
    """The route under the cursor and how long it takes."""
    if route is None:
        return ((Part(" Routes", "strong"),),)
    times = f"{_minutes(route.hands_on_minutes)} hands-on, {_minutes(route.machine_minutes)} machine time "
    name = (Part(" Routes: ", "muted"), Part(for_display(route.name), "strong"))
    return (spread(name, (Part(times, "heading"),), width),)


def _minutes(minutes: int) -> str:
    return hours_and_minutes(minutes * MINUTE_US)
