"""The forecast: when each unit will be done, by the shop's own past, and where the bottleneck is.

Each text asks for the newest of a kind: it costs the same however long the shop's history is.
"""

from __future__ import annotations

import json
import sqlite3
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from bench.desk import Desk
from bench.domain.amounts import Instant, Length
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
from bench.domain.forecast_sheet import Forecast, ForecastLine, StageWait, bottleneck_words, law_words
from bench.domain.passage import Move, Spell, Standing, law_over, passages, spells
from bench.domain.statistics_of_work import spread
from bench.store.standing import IS_SOLD
from bench.views.binder import Query
from bench.views.shop import facts
from bench.views.standing import IN_QUEUE

LOOK_BACK_DAYS = 365
LAW_DAYS = 56  # eight weeks, as the week sheet compares
# Of stays at each stage, and of ways through the queue, the newest: more tell no more, and cost with every
# year (common practice, no source).
MOST = 100


@dataclass(frozen=True, slots=True)
class _Stage:
    """A stage, and how long the newest units stayed there, in microseconds; `final`: they have left there."""

    stage_id: int
    name: str
    lid_off: bool
    final: bool
    stays_us: tuple[Length, ...]


@dataclass(frozen=True, slots=True)
class _Unit:
    """A unit of the queue that goes its way: not held, no donor, no bad cell. `is_sold`: back for repair."""

    unit_id: int
    tag: str
    model: str
    stage_id: int
    stage: str
    stage_since_us: Instant
    waits: bool
    is_sold: bool


@dataclass(frozen=True, slots=True)
class _TaskStage:
    """A stage at which a unit of the queue has tasks."""

    unit_id: int
    stage_id: int


# How long units stayed at each stage, the newest so many as a JSON list. Where the clock went back it says
# nothing.
_STAGES = Query(
    _Stage,
    """
SELECT stage.id AS stage_id, stage.name, stage.lid_off, stage.final,
       CASE WHEN stage.final THEN '[]' ELSE (SELECT json_group_array(newest.stayed_us) FROM (
    SELECT move.at_us - move.from_since_us AS stayed_us
    FROM stage_move AS move INDEXED BY ix_stage_move_from_stage_id
    WHERE move.removed = 0 AND move.from_stage_id = stage.id AND move.at_us >= :since
    AND move.at_us >= move.from_since_us ORDER BY move.at_us DESC LIMIT :most) AS newest) END AS stays_us
FROM stage WHERE stage.removed = 0 ORDER BY stage.position, stage.id
""",
)
_UNITS = Query(
    _Unit,
    """
SELECT unit.id AS unit_id, unit.tag, TRIM(unit.maker || ' ' || unit.model) AS model, unit.stage_id,
       standing.name AS stage, unit.stage_since_us, {is_sold} AS is_sold,
       COALESCE(purchase.donor, 0) OR unit.held_reason IS NOT NULL OR unit.cell_finding IS NOT NULL AS waits
FROM {in_queue} LEFT JOIN purchase ON purchase.unit_id = unit.id ORDER BY unit.id
""".replace("{is_sold}", IS_SOLD).replace("{in_queue}", IN_QUEUE),
)
# The units that left last, of those that came in since; what is kept for its parts passes no stages.
_LEFT = Query(
    Standing,
    """
SELECT DISTINCT unit.id AS unit_id, unit.stage_id, unit.stage_since_us AS since_us, unit.added_us
FROM stage CROSS JOIN stage_move AS gone ON gone.id IN (
    SELECT newest.id FROM stage_move AS newest INDEXED BY ix_stage_move_to_stage_id
    CROSS JOIN unit AS whose ON whose.id = newest.unit_id AND whose.removed = 0 AND whose.added_us >= :since
    WHERE newest.removed = 0 AND newest.to_stage_id = stage.id AND newest.at_us >= :since
    AND NOT EXISTS (SELECT 1 FROM purchase WHERE purchase.unit_id = whose.id AND purchase.donor = 1)
    ORDER BY newest.at_us DESC LIMIT :most)
CROSS JOIN unit ON unit.id = gone.unit_id
WHERE stage.final = 1 AND stage.removed = 0
""",
)
_MOVE = """move.unit_id, move.from_stage_id, move.from_since_us, move.to_stage_id,
       move.at_us AS to_since_us"""

_MOVES_OF = Query(
    Move,
    """
SELECT {move} FROM json_each(:units) AS whose
CROSS JOIN stage_move AS move INDEXED BY ix_stage_move_unit_id ON move.unit_id = whose.value
WHERE move.removed = 0 ORDER BY move.id
""".replace("{move}", _MOVE),
)
_STANDING = Query(
    Standing,
    """
SELECT unit.id AS unit_id, unit.stage_id, unit.stage_since_us AS since_us, unit.added_us FROM {in_queue}
UNION
SELECT unit.id AS unit_id, unit.stage_id, unit.stage_since_us AS since_us, unit.added_us
FROM stage CROSS JOIN stage_move AS gone INDEXED BY ix_stage_move_to_stage_id
    ON gone.removed = 0 AND gone.to_stage_id = stage.id AND gone.at_us >= :since
CROSS JOIN unit ON unit.id = gone.unit_id AND unit.removed = 0
WHERE stage.final = 1 AND stage.removed = 0
""".replace("{in_queue}", IN_QUEUE),
)
# What left the queue since, and what came back to it since an instant that may lie further back: that a unit
# came back tells by itself when it had left.
_CROSSINGS = Query(
    Move,
    """
SELECT unit_id, from_stage_id, from_since_us, to_stage_id, to_since_us FROM (
SELECT move.id, {move}
FROM stage AS there CROSS JOIN stage_move AS move INDEXED BY ix_stage_move_to_stage_id
    ON move.removed = 0 AND move.to_stage_id = there.id AND move.at_us >= :left_since
JOIN stage AS here ON here.id = move.from_stage_id
WHERE there.final = 1 AND there.removed = 0 AND (here.final = 0 OR here.removed = 1)
UNION ALL
SELECT move.id, {move}
FROM stage AS here CROSS JOIN stage_move AS move INDEXED BY ix_stage_move_from_stage_id
    ON move.removed = 0 AND move.from_stage_id = here.id AND move.at_us >= :back_since
JOIN stage AS there ON there.id = move.to_stage_id
WHERE here.final = 1 AND here.removed = 0 AND (there.final = 0 OR there.removed = 1)
) ORDER BY id
""".replace("{move}", _MOVE),
)
_FINAL = "SELECT id FROM stage WHERE final = 1 AND removed = 0"
_TASK_STAGES = Query(
    _TaskStage,
    """
SELECT task.unit_id, task.stage_id
FROM {in_queue} CROSS JOIN task ON task.unit_id = unit.id
WHERE task.removed = 0
GROUP BY task.unit_id, task.stage_id
""".replace("{in_queue}", IN_QUEUE),
)


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
        stages = _STAGES.all(connection, since=since_us, most=MOST)
        passed = passed_lately(connection, since_us, MOST)
        standing = _STANDING.all(connection, since=law_since_us)
        crossings = _CROSSINGS.all(connection, left_since=law_since_us, back_since=since_us)
        units = _UNITS.all(connection)
        task_stages = _task_stages(connection)
    working = [StageStays(one.stage_id, one.name, one.stays_us) for one in stages if not one.final]
    lid_off = {one.stage_id for one in stages if one.lid_off}
    final = {one.stage_id for one in stages if one.final}
    bottleneck = longest_wait(working)
    past = _Past(passed)
    law = _law(spells(standing, crossings, final), law_since_us, now_us)
    return Forecast(
        read_us=now_us,
        days=LOOK_BACK_DAYS,
        newest=MOST,
        lines=tuple(
            _line(unit, _way(unit, working, lid_off, task_stages), past, now_us)
            for unit in units
            if not unit.waits
        ),
        stages=tuple(_wait(stage, units, now_us) for stage in working),
        bottleneck=bottleneck_words(bottleneck),
        law=law,
        law_words=law_words(law),
        zone=zone,
        met=dates_met(passed),
    )


def passed_lately(connection: sqlite3.Connection, since_us: int, most: int) -> tuple[Passage, ...]:
    """The whole ways of the newest units that came and left since an instant; so many of each way out."""
    left = _LEFT.all(connection, since=since_us, most=most)
    moves = _MOVES_OF.all(connection, units=json.dumps([one.unit_id for one in left]))
    final = {row[0] for row in connection.execute(_FINAL)}
    return passages(left, moves, final)


def _way(
    unit: _Unit,
    working: Sequence[StageStays],
    lid_off: set[int],
    task_stages: Mapping[int, set[int]],
) -> list[StageStays]:
    """The stages still before a unit, its own first. Cover-off ones without a task of it are passed over."""
    here = next((at for at, stage in enumerate(working) if stage.stage_id == unit.stage_id), len(working))
    has_tasks = task_stages.get(unit.unit_id, set())
    return [
        stage
        for stage in working[here:]
        if stage.stage_id == unit.stage_id
        or stage.stage_id not in lid_off
        or not has_tasks
        or stage.stage_id in has_tasks
    ]


def _line(unit: _Unit, way: Sequence[StageStays], past: _Past, now_us: int) -> ForecastLine:
    since_us, again = unit.stage_since_us, unit.is_sold
    ids = tuple(stage.stage_id for stage in way)
    left = done_by(past.ways_us(ids, again=again), now_us, since_us)
    ready: tuple[int | None, int | None, int | None] = (since_us,) * 3  # where it waits for its buyer already
    if len(way) > 1:
        ready = _instants(done_by(past.ways_us(ids[:-1], again=again), now_us, since_us))
    share_50_us, most_us, nearly_all_us = _instants(left)
    return ForecastLine(
        unit_id=unit.unit_id,
        tag=unit.tag,
        model=unit.model,
        stage=unit.stage,
        ready_50_us=ready[0] if left else None,
        ready_most_us=ready[1] if left else None,
        ready_nearly_all_us=ready[2] if left else None,
        left_50_us=share_50_us,
        left_most_us=most_us,
        left_nearly_all_us=nearly_all_us,
        rests_on=left.rests_on if left else 0,
        missing=tuple(stage.stage for stage in way if not past.tells_of(stage.stage_id, again=again)),
    )


def _instants(answer: DoneBy | None) -> tuple[int | None, int | None, int | None]:
    if answer is None:
        return None, None, None
    share_50_us, most_us, nearly_all_us = answer.done_us
    return share_50_us, most_us, nearly_all_us


def _wait(stage: StageStays, units: Sequence[_Unit], now_us: int) -> StageWait:
    stays = spread(stage.stays_us)
    stood = [max(0, now_us - unit.stage_since_us) for unit in units if unit.stage_id == stage.stage_id]
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


def _task_stages(connection: sqlite3.Connection) -> dict[int, set[int]]:
    """The stages at which each unit of the queue has tasks."""
    found: defaultdict[int, set[int]] = defaultdict(set)
    for one in _TASK_STAGES.each(connection):
        found[one.unit_id].add(one.stage_id)
    return found
