"""Read the forecast: when each unit will be done, by the shop's own past, and where the queue jams."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping, Sequence

from bench.desk import Desk
from bench.domain.forecast import (
    DAY_US,
    FEW_STAYS,
    DoneBy,
    Little,
    Passage,
    StageStays,
    dates_met,
    done_by,
    longest_wait,
    whole_ways,
)
from bench.domain.forecast_sheet import Forecast, ForecastLine, StageWait, jam_words, law_words
from bench.domain.passage import Spell, law_over, passages, spells
from bench.domain.statistics_of_work import spread
from bench.views import forecast as reads
from bench.views import next_up as unit_reads
from bench.views.shop import facts

LOOK_BACK_DAYS = 365
LAW_DAYS = 56  # eight weeks, as the week sheet compares
# Of stays at each stage, and of ways through the queue, the newest: more tell no more, and cost with every
# year (common practice, no source).
MOST = 100


class _Past:
    """The passages to go by. Each way over them is added up once, for all units that have it before them."""

    def __init__(self, passed: Sequence[Passage]) -> None:
        self._alike: dict[bool, Sequence[Passage]] = {}
        for again in (False, True):
            # A return is another job than a first passage, where the shop has had enough of them to go by.
            alike = [one for one in passed if one.again == again]
            self._alike[again] = alike if len(alike) >= FEW_STAYS else passed
        self._stages = {
            again: set().union(*(one.stays_us for one in self._alike[again])) for again in self._alike
        }
        self._ways: dict[tuple[bool, tuple[int, ...]], tuple[tuple[int, int], ...]] = {}

    def ways_us(self, way: tuple[int, ...], *, again: bool) -> tuple[tuple[int, int], ...]:
        """As `whole_ways` answers them, of the passages alike."""
        if (again, way) not in self._ways:
            self._ways[again, way] = whole_ways(self._alike[again], way)
        return self._ways[again, way]

    def tells_of(self, stage_id: int, *, again: bool) -> bool:
        """Whether a passage alike came by a stage."""
        return stage_id in self._stages[again]


def read_forecast(desk: Desk) -> Forecast:
    """When each unit is ready and has left by percentiles, stays at each stage, and Little's law."""
    now_us = desk.clock.now_us()
    since_us, law_since_us = now_us - LOOK_BACK_DAYS * DAY_US, now_us - LAW_DAYS * DAY_US
    with desk.store.read() as connection:
        zone = facts(connection).zone
        stages = reads.stages(connection)
        stays = reads.stays(connection, since_us, MOST)
        left = reads.left_last(connection, since_us, MOST)
        moves = reads.moves_of(connection, left)
        standing = reads.standing(connection, law_since_us)
        crossings = reads.crossings(connection, law_since_us, since_us)
        units = unit_reads.units(connection)
        task_stages = reads.task_stages(connection)
    working = [
        StageStays(row["id"], row["name"], stays.get(row["id"], ())) for row in stages if not row["final"]
    ]
    lid_off = {row["id"] for row in stages if row["lid_off"]}
    final = {row["id"] for row in stages if row["final"]}
    jam = longest_wait(working)
    passed = passages(left, moves, final)
    past = _Past(passed)
    law = _law(spells(standing, crossings, final), law_since_us, now_us)
    return Forecast(
        read_us=now_us,
        days=LOOK_BACK_DAYS,
        newest=MOST,
        lines=tuple(
            _line(row, _way(row, working, lid_off, task_stages), past, now_us)
            for row in units
            if not (row["donor"] or row["held_reason"] or row["cell_finding"])
        ),
        stages=tuple(_wait(stage, units, now_us) for stage in working),
        jam=jam_words(jam),
        law=law,
        law_words=law_words(law),
        zone=zone,
        met=dates_met(passed),
    )


def _way(
    unit: sqlite3.Row,
    working: Sequence[StageStays],
    lid_off: set[int],
    task_stages: Mapping[int, set[int]],
) -> list[StageStays]:
    """The stages still before a unit, its own first. Cover-off ones without a task of it are passed over."""
    here = next((at for at, stage in enumerate(working) if stage.stage_id == unit["stage_id"]), len(working))
    has_tasks = task_stages.get(unit["unit_id"], set())
    return [
        stage
        for stage in working[here:]
        if stage.stage_id == unit["stage_id"]
        or stage.stage_id not in lid_off
        or not has_tasks
        or stage.stage_id in has_tasks
    ]


def _line(row: sqlite3.Row, way: Sequence[StageStays], past: _Past, now_us: int) -> ForecastLine:
    since_us, again = row["stage_since_us"], bool(row["is_sold"])
    ids = tuple(stage.stage_id for stage in way)
    left = done_by(past.ways_us(ids, again=again), now_us, since_us)
    ready: tuple[int | None, int | None, int | None] = (since_us,) * 3  # where it waits for its buyer already
    if len(way) > 1:
        ready = _instants(done_by(past.ways_us(ids[:-1], again=again), now_us, since_us))
    half_us, most_us, nearly_all_us = _instants(left)
    return ForecastLine(
        unit_id=row["unit_id"],
        tag=row["tag"],
        model=row["model"],
        stage=row["stage"],
        ready_half_us=ready[0] if left else None,
        ready_most_us=ready[1] if left else None,
        ready_nearly_all_us=ready[2] if left else None,
        left_half_us=half_us,
        left_most_us=most_us,
        left_nearly_all_us=nearly_all_us,
        rests_on=left.rests_on if left else 0,
        missing=tuple(stage.stage for stage in way if not past.tells_of(stage.stage_id, again=again)),
    )


def _instants(answer: DoneBy | None) -> tuple[int | None, int | None, int | None]:
    if answer is None:
        return None, None, None
    half_us, most_us, nearly_all_us = answer.done_us
    return half_us, most_us, nearly_all_us


def _wait(stage: StageStays, units: Sequence[sqlite3.Row], now_us: int) -> StageWait:
    stays = spread(stage.stays_us)
    stood = [max(0, now_us - unit["stage_since_us"]) for unit in units if unit["stage_id"] == stage.stage_id]
    return StageWait(
        stage_id=stage.stage_id,
        stage=stage.stage,
        stays=len(stage.stays_us),
        median_us=stays.median_us if stays else None,
        p80_us=stays.p80_us if stays else None,
        standing=len(stood),
        longest_us=max(stood, default=None),
    )


def _law(times: Sequence[Spell], since_us: int, now_us: int) -> Little | None:
    """The law over the last weeks, or since the first unit came in where that is later."""
    first_us = min((one.came_us for one in times), default=now_us)
    return law_over(times, max(since_us, first_us), now_us)
