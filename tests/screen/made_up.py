"""Made-up values of the frozen views, for tests of presenters and widgets alone."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from bench.domain.durations import MINUTE_US
from bench.domain.stock_levels import StockLine
from bench.views.hours import DayHours
from bench.views.queue import PersonNow, QueueRow, QueueStage, QueueView
from bench.views.shop import ShopFacts
from bench.views.timers import Running

NOW_US = 1_764_064_800_000_000  # Tue 25 Nov 2025 11:00 in Berlin

ROW = QueueRow(
    unit_id=1,
    tag="10014",
    model="Maple 14",
    stage_id=1,
    next_task_id=11,
    next_task="brush out dust",
    next_machine_time=False,
    spent_us=0,
    estimate_minutes=0,
    running=(),
    held=None,
    due_on=None,
    overdue=False,
    battery_alarm=False,
    cell_finding=None,
    short_of=(),
)
RUNNING = Running(
    entry_id=1,
    task_id=11,
    task="brush out dust",
    unit_id=1,
    tag="10014",
    person_id=1,
    person="Ada",
    started_us=NOW_US - 5 * MINUTE_US,
    attended=True,
    estimate_minutes=10,
)
STOCK = StockLine(
    consumable_id=1,
    name="swabs",
    base_unit="piece",
    on_hand=50_000,
    full=100_000,
    pack=100_000,
    reorder_at=20_000,
    days_of_cover=None,
    expired=0,
    next_expiry=None,
    low=False,
    suggest_packs=0,
    lead_days=3,
    shelf_life_days=None,
    reorder_fixed=False,
    hazard="",
    value_minor=0,
)
MONDAY = date(2025, 11, 24)


def week(*hours_us: int) -> tuple[DayHours, ...]:
    """A week with these hands-on hours from Monday on."""
    padded = (*hours_us, *(0,) * (7 - len(hours_us)))
    return tuple(DayHours(MONDAY + timedelta(days=n), us, 0) for n, us in enumerate(padded))


def view(*rows: QueueRow, people: tuple[PersonNow, ...] = ()) -> QueueView:
    """A queue with one stage a stage number used, and these people (Ada alone when none is named)."""
    numbers = sorted({row.stage_id for row in rows})
    stages = tuple(
        QueueStage(n, f"stage {n}", lid_off=False, final=False, count=len(at), rows=at)
        for n in numbers
        if (at := tuple(row for row in rows if row.stage_id == n))
    )
    return QueueView(
        read_us=NOW_US,
        shop=ShopFacts("Corner bench", "EUR", "Europe/Berlin", 0, 3, 120),
        people=people or (PersonNow(1, "Ada", (), 0),),
        stages=stages,
        week=week(),
    )


def many(count: int) -> tuple[QueueRow, ...]:
    """This many units, a hundred at most to a stage."""
    return tuple(
        replace(ROW, unit_id=n, tag=f"{n:06}", stage_id=n // 100, model=f"Maple {n}")
        for n in range(1, count + 1)
    )
